/* evidence.c - see evidence.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One worker, two places: the case at hand and the next one.  What is done is handed over in parts
 * that the main thread puts together; the last few cases are kept. */
#include "ui/review/evidence_make.h"
#include "ui/wake.h"
#include "ui/worker.h"
#include <string.h>

#define KEPT 6 /* cases whose evidence is remembered */

struct EvidenceJob {
  EvidenceCame came;
  void *data;
  Wake *wake;  /* the case is read, or its first picture there: before the window is painted */
  Wake *later; /* all that follows: after it */
  GThread *thread;
  GPtrArray *kept; /* Evidence, the latest asked first */
  char *at;        /* file at hand; NULL = none */
  GMutex mutex;    /* guards all below */
  GCond moved;
  Place *place[2]; /* owned refs or NULL: at hand, next */
  const Place *running;
  GPtrArray *part;
  bool quit;
  gint cancel; /* atomic */
};

/* ---- on the worker ---- */

static bool job_cancelled(void *data)
{
  EvidenceJob *job = data;
  return g_atomic_int_get(&job->cancel) != 0;
}

/* Which place has work; NULL = none. */
static Place *place_waiting(const EvidenceJob *job)
{
  for (int i = 0; i < 2; i++)
    if (job->place[i] && job->place[i]->stage <= EVIDENCE_WHOLE)
      return job->place[i];
  return NULL;
}

/* Makes the next stage of a place; enters and leaves with the mutex. */
static void place_work(EvidenceJob *job, Assessor *assessor, Place *place)
{
  job->running = g_atomic_rc_box_acquire(place);
  g_atomic_int_set(&job->cancel, 0);
  g_mutex_unlock(&job->mutex);
  Part *part = part_make(assessor, place, job_cancelled, job);
  g_mutex_lock(&job->mutex);
  job->running = NULL;
  if (part->fault == FAULT_CANCELLED)
    part_free(part);
  else {
    place->stage = place->read && !part->fault ? place->stage + 1 : EVIDENCE_WHOLE + 1;
    g_ptr_array_add(job->part, part);
    g_cond_broadcast(&job->moved);
    wake_ring(part->stage <= EVIDENCE_FIRST ? job->wake : job->later);
  }
  place_unref(place);
}

static void *worker_run(void *data)
{
  EvidenceJob *job = data;
  Assessor *assessor = NULL;
  worker_stand_back();
  bool able = assessor_new(&assessor) == FAULT_NONE;
  g_mutex_lock(&job->mutex);
  for (;;) {
    Place *place = NULL;
    while (!job->quit && (!able || !(place = place_waiting(job))))
      g_cond_wait(&job->moved, &job->mutex);
    if (job->quit)
      break;
    place_work(job, assessor, place);
  }
  g_mutex_unlock(&job->mutex);
  assessor_free(assessor);
  return NULL;
}

/* ---- on the main thread ---- */

const Assessment *evidence_of_connector(const Evidence *e, size_t connector)
{
  const Assessment *a = e && e->a ? e->a : e ? e->first : NULL;
  bool there = a && connector < a->n_connector &&
               (a->connector[connector].field || a->connector[connector].fault);
  return there ? a : NULL;
}

static Evidence *kept_find(EvidenceJob *job, const char *file, gint64 changed_us)
{
  for (guint i = 0; i < job->kept->len; i++) {
    Evidence *e = job->kept->pdata[i];
    if (strcmp(e->file, file) == 0 && e->changed_us == changed_us)
      return e;
  }
  return NULL;
}

/* An older reading of the same file goes. */
static void kept_add(EvidenceJob *job, Evidence *e)
{
  for (guint i = job->kept->len; i-- > 0;)
    if (strcmp(((Evidence *)job->kept->pdata[i])->file, e->file) == 0)
      g_ptr_array_remove_index(job->kept, i);
  g_ptr_array_insert(job->kept, 0, e);
  if (job->kept->len > KEPT)
    g_ptr_array_set_size(job->kept, KEPT);
}

static void part_take(EvidenceJob *job, Part *part)
{
  Evidence *e = kept_find(job, part->file, part->changed_us);
  if (part->fresh && (!e || strcmp(e->seen, part->fresh->seen) != 0)) {
    e = g_steal_pointer(&part->fresh);
    kept_add(job, e);
  }
  if (!e)
    return;
  Assessment **to = part->stage == EVIDENCE_FIRST ? &e->first : &e->a;
  if (part->a) {
    if (*to)
      assessment_unref(*to);
    *to = g_steal_pointer(&part->a);
  }
  for (int i = 0; i < SINCE_N; i++)
    if (part->base[i])
      e->base[i].a = g_steal_pointer(&part->base[i]);
  if (part->flat)
    e->flat = g_steal_pointer(&part->flat);
  e->fault = part->fault;
  e->stage = MAX(e->stage, part->stage); /* begun again, it loses nothing */
  if (g_strcmp0(job->at, e->file) == 0)
    job->came(e, job->data);
}

/* Up to this stage, in the order they were made. */
static void parts_take(EvidenceJob *job, EvidenceStage most)
{
  g_autoptr(GPtrArray) ready = g_ptr_array_new_with_free_func(part_free);
  g_mutex_lock(&job->mutex);
  for (guint i = 0; i < job->part->len;)
    if (((Part *)job->part->pdata[i])->stage <= most)
      g_ptr_array_add(ready, g_ptr_array_steal_index(job->part, i));
    else
      i++;
  g_mutex_unlock(&job->mutex);
  for (guint i = 0; i < ready->len; i++)
    part_take(job, ready->pdata[i]);
}

static gboolean job_deliver(void *job)
{
  parts_take(job, EVIDENCE_FIRST);
  return G_SOURCE_CONTINUE;
}

static gboolean job_deliver_later(void *job)
{
  parts_take(job, EVIDENCE_WHOLE);
  return G_SOURCE_CONTINUE;
}

EvidenceJob *evidence_job_new(EvidenceCame came, void *data)
{
  EvidenceJob *job = g_new0(EvidenceJob, 1);
  job->came = came;
  job->data = data;
  job->kept = g_ptr_array_new_with_free_func(evidence_free);
  job->part = g_ptr_array_new_with_free_func(part_free);
  g_mutex_init(&job->mutex);
  g_cond_init(&job->moved);
  job->wake = wake_new(job_deliver, job);
  job->later = wake_new(job_deliver_later, job);
  wake_set_priority(job->later, G_PRIORITY_DEFAULT_IDLE);
  job->thread = g_thread_new("soffit-evidence", worker_run, job);
  return job;
}

void evidence_job_free(EvidenceJob *job)
{
  if (!job)
    return;
  g_mutex_lock(&job->mutex);
  job->quit = true;
  g_atomic_int_set(&job->cancel, 1);
  g_cond_broadcast(&job->moved);
  g_mutex_unlock(&job->mutex);
  g_thread_join(job->thread);
  wake_free(job->wake);
  wake_free(job->later);
  for (int i = 0; i < 2; i++)
    place_unref(job->place[i]);
  g_ptr_array_unref(job->kept);
  g_ptr_array_unref(job->part);
  g_mutex_clear(&job->mutex);
  g_cond_clear(&job->moved);
  g_free(job->at);
  g_free(job);
}

static bool place_is(const Place *place, const char *file, gint64 changed_us)
{
  return place && strcmp(place->file, file) == 0 && place->changed_us == changed_us;
}

/* Under the mutex.  What is done of it in the other place is taken on. */
static void place_set(EvidenceJob *job, int at, const EvidenceWanted *wanted)
{
  if (place_is(job->place[at], wanted->file, wanted->changed_us))
    return;
  Place *was = job->place[at];
  if (place_is(job->place[1 - at], wanted->file, wanted->changed_us)) {
    job->place[at] = job->place[1 - at];
    job->place[1 - at] = was;
    return;
  }
  job->place[at] = place_new(wanted);
  place_unref(was);
}

void evidence_job_ask(EvidenceJob *job, const EvidenceWanted *wanted, const EvidenceWanted *next)
{
  g_free(job->at);
  job->at = g_strdup(wanted->file);
  Evidence *known = kept_find(job, wanted->file, wanted->changed_us);
  guint place;
  if (known && g_ptr_array_find(job->kept, known, &place)) /* what is looked at goes last */
    g_ptr_array_insert(job->kept, 0, g_ptr_array_steal_index(job->kept, place));
  g_mutex_lock(&job->mutex);
  if (!known || known->stage < EVIDENCE_WHOLE)
    place_set(job, 0, wanted);
  if (next && !kept_find(job, next->file, next->changed_us))
    place_set(job, 1, next);
  if (job->running && job->running != job->place[0] && place_waiting(job) == job->place[0])
    g_atomic_int_set(&job->cancel, 1); /* the case at hand first */
  g_cond_broadcast(&job->moved);
  g_mutex_unlock(&job->mutex);
  if (known)
    job->came(known, job->data);
}

void evidence_job_await_read(EvidenceJob *job, gint64 most_us)
{
  gint64 end = g_get_monotonic_time() + most_us;
  g_mutex_lock(&job->mutex);
  while (job->place[0] && job->place[0]->stage == EVIDENCE_READ &&
         g_cond_wait_until(&job->moved, &job->mutex, end))
    ;
  g_mutex_unlock(&job->mutex);
  job_deliver(job);
}

void evidence_job_forget(EvidenceJob *job)
{
  g_clear_pointer(&job->at, g_free);
  g_ptr_array_set_size(job->kept, 0);
  g_mutex_lock(&job->mutex);
  for (int i = 0; i < 2; i++)
    place_unref(g_steal_pointer(&job->place[i]));
  g_ptr_array_set_size(job->part, 0);
  g_atomic_int_set(&job->cancel, 1);
  g_mutex_unlock(&job->mutex);
}
