/* class_job.c - see class_job.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Job and worker hold a reference each: who is last frees.  A thread of its own, not one of a pool:
 * a pool would be used up by folders that never answer. */
#include "ui/practice/class_job.h"
#include "ui/wake.h"
#include "ui/worker.h"

struct ClassJob {
  gint references; /* atomic */
  char *folder;
  GPtrArray *set; /* owned ref */
  ClassChanged changed;
  void *data;
  ClassState state; /* of the main thread */
  guint late;       /* source; 0 = none */
  GMutex mutex;     /* guards all below */
  ClassState fresh; /* rows and messages not handed over yet; counts so far */
  Wake *wake;       /* NULL: nobody listens any more */
};

static ClassState state_new(void)
{
  return (ClassState){.row = g_ptr_array_new_with_free_func(class_row_unref),
                      .message = g_ptr_array_new_with_free_func(g_free)};
}

static void state_clear(ClassState *state)
{
  g_ptr_array_unref(state->row);
  g_ptr_array_unref(state->message);
  g_free(state->trouble);
}

static void job_unref(ClassJob *job)
{
  if (!g_atomic_int_dec_and_test(&job->references))
    return;
  state_clear(&job->state);
  state_clear(&job->fresh);
  g_mutex_clear(&job->mutex);
  g_ptr_array_unref(job->set);
  g_free(job->folder);
  g_free(job);
}

/* ---- worker ---- */

/* With the mutex. False: nobody listens any more. */
static bool ring(ClassJob *job)
{
  if (job->wake)
    wake_ring(job->wake);
  return job->wake != NULL;
}

static bool row_hand(ClassRow *row, char *message, guint done, guint of, void *data)
{
  ClassJob *job = data;
  g_mutex_lock(&job->mutex);
  if (row)
    g_ptr_array_add(job->fresh.row, row);
  if (message)
    g_ptr_array_add(job->fresh.message, message);
  job->fresh.done = done;
  job->fresh.of = of;
  bool more = ring(job);
  g_mutex_unlock(&job->mutex);
  return more;
}

static void *worker_run(void *data)
{
  ClassJob *job = data;
  g_autoptr(GError) error = NULL;
  worker_stand_back();
  class_walk(job->folder, job->set, row_hand, job, &error);
  g_mutex_lock(&job->mutex);
  job->fresh.over = true;
  job->fresh.trouble = g_strdup(error ? error->message : NULL);
  ring(job);
  g_mutex_unlock(&job->mutex);
  job_unref(job);
  return NULL;
}

/* ---- main thread ---- */

static gboolean late_told(void *data)
{
  ClassJob *job = data;
  job->late = 0;
  job->state.late = true;
  job->changed(job->data);
  return G_SOURCE_REMOVE;
}

/* Moves what `from` holds behind what `to` has. */
static void move(GPtrArray *to, GPtrArray *from)
{
  while (from->len > 0)
    g_ptr_array_add(to, g_ptr_array_steal_index(from, 0));
}

static void late_wait(ClassJob *job)
{
  g_clear_handle_id(&job->late, g_source_remove);
  job->state.late = false;
  if (!job->state.over)
    job->late = g_timeout_add_seconds(CLASS_LATE_S, late_told, job);
}

static gboolean state_take(void *data)
{
  ClassJob *job = data;
  g_mutex_lock(&job->mutex);
  move(job->state.row, job->fresh.row);
  move(job->state.message, job->fresh.message);
  job->state.of = job->fresh.of;
  job->state.done = job->fresh.done;
  job->state.over = job->fresh.over;
  if (job->fresh.trouble)
    job->state.trouble = g_steal_pointer(&job->fresh.trouble);
  g_mutex_unlock(&job->mutex);
  late_wait(job);
  job->changed(job->data);
  return G_SOURCE_CONTINUE;
}

ClassJob *class_job_new(const char *folder, const GPtrArray *set, ClassChanged changed, void *data)
{
  ClassJob *job = g_new0(ClassJob, 1);
  job->references = 2;
  job->folder = g_strdup(folder);
  job->set = g_ptr_array_ref((GPtrArray *)set);
  job->changed = changed;
  job->data = data;
  job->state = state_new();
  job->fresh = state_new();
  g_mutex_init(&job->mutex);
  job->wake = wake_new(state_take, job);
  late_wait(job);
  g_thread_unref(g_thread_new("soffit-class", worker_run, job));
  return job;
}

const ClassState *class_job_state(ClassJob *job)
{
  return &job->state;
}

void class_job_free(ClassJob *job)
{
  if (!job)
    return;
  g_clear_handle_id(&job->late, g_source_remove);
  g_mutex_lock(&job->mutex);
  Wake *wake = g_steal_pointer(&job->wake);
  g_mutex_unlock(&job->mutex);
  wake_free(wake);
  job_unref(job);
}
