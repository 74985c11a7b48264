/* lab_pool.c - see lab_pool.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "lab/lab_pool.h"

typedef struct {
  char *file;
  LabStage stage;
  LabUrgency urgency;
  guint64 number;
} Asked;

struct LabPool {
  const Lab *lab;
  void (*begin)(void);
  LabPoolDone done;
  void *data;
  GPtrArray *thread;
  gint quit;    /* atomic */
  GMutex mutex; /* guards all below */
  GCond moved;
  GSequence *waiting;  /* Asked, owned, the most urgent first */
  GHashTable *by_file; /* borrowed name -> GSequenceIter */
  guint running;
  guint64 last;
};

static void asked_free(void *data)
{
  Asked *asked = data;
  g_free(asked->file);
  g_free(asked);
}

static int asked_compare(const void *a, const void *b, void *unused)
{
  const Asked *x = a, *y = b;
  (void)unused;
  if (x->urgency != y->urgency)
    return x->urgency > y->urgency ? -1 : 1;
  return x->number < y->number ? -1 : x->number > y->number;
}

static bool pool_quits(void *data)
{
  return g_atomic_int_get(&((LabPool *)data)->quit) != 0;
}

/* Takes the asking out of the queue; it is the caller's then. */
static Asked *asked_take(LabPool *pool, GSequenceIter *at)
{
  Asked *asked = g_sequence_get(at), *taken = g_memdup2(asked, sizeof *asked);
  g_hash_table_remove(pool->by_file, asked->file);
  asked->file = NULL;
  g_sequence_remove(at);
  return taken;
}

static void asked_put(LabPool *pool, Asked *asked)
{
  g_hash_table_insert(pool->by_file, asked->file,
                      g_sequence_insert_sorted(pool->waiting, asked, asked_compare, NULL));
}

static void asked_answer(LabPool *pool, const Asked *asked, Assessor *assessor)
{
  LabRow *row = NULL;
  if (asked->stage == LAB_READ || !assessor)
    row = lab_row_read(pool->lab, asked->file);
  else if (lab_row_assess(pool->lab, asked->file, assessor, pool_quits, pool, &row))
    return;
  pool->done(row, asked->number, pool->data);
}

static void *worker_run(void *data)
{
  LabPool *pool = data;
  Assessor *assessor = NULL;
  if (pool->begin)
    pool->begin();
  if (assessor_new(&assessor))
    assessor = NULL; /* then rows are read only */
  g_mutex_lock(&pool->mutex);
  while (!pool_quits(pool)) {
    if (g_sequence_is_empty(pool->waiting)) {
      g_cond_wait(&pool->moved, &pool->mutex);
      continue;
    }
    Asked *asked = asked_take(pool, g_sequence_get_begin_iter(pool->waiting));
    pool->running++;
    g_mutex_unlock(&pool->mutex);
    asked_answer(pool, asked, assessor);
    asked_free(asked);
    g_mutex_lock(&pool->mutex);
    pool->running--;
    g_cond_broadcast(&pool->moved);
  }
  g_mutex_unlock(&pool->mutex);
  assessor_free(assessor);
  return NULL;
}

LabPool *lab_pool_new(const Lab *lab, int threads, void (*begin)(void), LabPoolDone done,
                      void *data)
{
  LabPool *pool = g_new0(LabPool, 1);
  pool->lab = lab;
  pool->begin = begin;
  pool->done = done;
  pool->data = data;
  pool->waiting = g_sequence_new(asked_free);
  pool->by_file = g_hash_table_new(g_str_hash, g_str_equal);
  pool->thread = g_ptr_array_new();
  g_mutex_init(&pool->mutex);
  g_cond_init(&pool->moved);
  for (int i = 0; i < (threads > 0 ? threads : (int)g_get_num_processors()); i++)
    g_ptr_array_add(pool->thread, g_thread_new("soffit-lab", worker_run, pool));
  return pool;
}

guint64 lab_pool_ask(LabPool *pool, const char *file, LabStage stage, LabUrgency urgency)
{
  Asked *asked = g_new(Asked, 1);
  g_mutex_lock(&pool->mutex);
  GSequenceIter *waits = g_hash_table_lookup(pool->by_file, file);
  if (waits)
    asked_free(asked_take(pool, waits));
  guint64 number = ++pool->last;
  *asked = (Asked){g_strdup(file), stage, urgency, number};
  asked_put(pool, asked);
  g_cond_signal(&pool->moved);
  g_mutex_unlock(&pool->mutex);
  return number;
}

void lab_pool_hurry(LabPool *pool, const char *file, LabUrgency urgency)
{
  g_mutex_lock(&pool->mutex);
  GSequenceIter *waits = g_hash_table_lookup(pool->by_file, file);
  Asked *asked = waits ? g_sequence_get(waits) : NULL;
  if (asked && asked->urgency < urgency) {
    asked = asked_take(pool, waits);
    asked->urgency = urgency;
    asked_put(pool, asked);
  }
  g_mutex_unlock(&pool->mutex);
}

void lab_pool_forget(LabPool *pool, const char *file)
{
  g_mutex_lock(&pool->mutex);
  GSequenceIter *waits = g_hash_table_lookup(pool->by_file, file);
  if (waits)
    asked_free(asked_take(pool, waits));
  g_mutex_unlock(&pool->mutex);
}

guint lab_pool_waiting(LabPool *pool)
{
  g_mutex_lock(&pool->mutex);
  guint n = (guint)g_sequence_get_length(pool->waiting) + pool->running;
  g_mutex_unlock(&pool->mutex);
  return n;
}

void lab_pool_wait(LabPool *pool)
{
  g_mutex_lock(&pool->mutex);
  while (pool->running || !g_sequence_is_empty(pool->waiting))
    g_cond_wait(&pool->moved, &pool->mutex);
  g_mutex_unlock(&pool->mutex);
}

void lab_pool_free(LabPool *pool)
{
  if (!pool)
    return;
  g_mutex_lock(&pool->mutex);
  g_atomic_int_set(&pool->quit, 1);
  g_cond_broadcast(&pool->moved);
  g_mutex_unlock(&pool->mutex);
  for (guint i = 0; i < pool->thread->len; i++)
    g_thread_join(pool->thread->pdata[i]);
  g_ptr_array_unref(pool->thread);
  g_hash_table_unref(pool->by_file);
  g_sequence_free(pool->waiting);
  g_mutex_clear(&pool->mutex);
  g_cond_clear(&pool->moved);
  g_free(pool);
}
