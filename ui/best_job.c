/* best_job.c - see best_job.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/best_job.h"
#include "ui/history.h"
#include "ui/wake.h"
#include "ui/worker.h"

#define THREADS_MOST 4

struct BestJob {
  BestTell tell;
  void *data;
  Wake *wake;
  GThread *thread; /* NULL: no search */
  Case *c;         /* owned; of the search */
  size_t connector;
  bool take_height;
  Assessor *assessor; /* owned; the thread's while it runs, kept for the next search */
  gint cancel;        /* atomic */
  GMutex mutex;       /* guards all below */
  BestOutline best;   /* newest that was not told */
  Fault fault;
  bool fresh, ended;
};

static bool cancelled(void *data)
{
  BestJob *job = data;
  return g_atomic_int_get(&job->cancel) != 0;
}

static void best_put(BestJob *job, const BestOutline *best)
{
  Outline copy = {0};
  if (outline_copy(&copy, &best->outline))
    return; /* the next one tells more */
  outline_clear(&job->best.outline);
  job->best = *best;
  job->best.outline = copy;
  job->fresh = true;
}

static void progress(const BestOutline *so_far, void *data)
{
  BestJob *job = data;
  g_mutex_lock(&job->mutex);
  best_put(job, so_far);
  g_mutex_unlock(&job->mutex);
  wake_ring(job->wake);
}

static gpointer search_run(gpointer data)
{
  worker_stand_back();
  BestJob *job = data;
  BestSettings settings = {.threads = (int)MIN(g_get_num_processors(), THREADS_MOST),
                           .take_height = job->take_height,
                           .cancelled = cancelled,
                           .cancel_data = job,
                           .progress = progress,
                           .progress_data = job};
  BestOutline best;
  best_outline_init(&best);
  Fault fault = job->assessor ? FAULT_NONE : assessor_new(&job->assessor);
  if (!fault)
    fault = assess_best(job->assessor, job->c, job->connector, &settings, &best);
  g_mutex_lock(&job->mutex);
  if (!fault)
    best_put(job, &best);
  job->fault = fault;
  job->ended = true;
  g_mutex_unlock(&job->mutex);
  best_outline_clear(&best);
  wake_ring(job->wake);
  return NULL;
}

static void thread_end(BestJob *job)
{
  if (job->thread)
    g_thread_join(job->thread);
  job->thread = NULL;
  g_clear_pointer(&job->c, case_heap_free);
}

static gboolean told(void *data)
{
  BestJob *job = data;
  BestOutline best;
  best_outline_init(&best);
  g_mutex_lock(&job->mutex);
  bool fresh = job->fresh, ended = job->ended;
  Fault fault = job->fault;
  if (fresh) {
    best = job->best;
    best_outline_init(&job->best);
  }
  job->fresh = job->ended = false;
  g_mutex_unlock(&job->mutex);
  if (ended)
    thread_end(job);
  if ((fresh || ended) && !cancelled(job))
    job->tell(&best, fault, ended, job->data);
  best_outline_clear(&best);
  return G_SOURCE_CONTINUE;
}

BestJob *best_job_new(BestTell tell, void *data)
{
  BestJob *job = g_new0(BestJob, 1);
  job->tell = tell;
  job->data = data;
  best_outline_init(&job->best);
  g_mutex_init(&job->mutex);
  job->wake = wake_new(told, job);
  return job;
}

void best_job_stop(BestJob *job)
{
  g_atomic_int_set(&job->cancel, 1);
  thread_end(job);
  job->fresh = job->ended = false;
}

void best_job_free(BestJob *job)
{
  if (job == NULL)
    return;
  best_job_stop(job);
  wake_free(job->wake);
  best_outline_clear(&job->best);
  assessor_free(job->assessor);
  g_mutex_clear(&job->mutex);
  g_free(job);
}

void best_job_start(BestJob *job, const Case *c, size_t connector, bool take_height)
{
  best_job_stop(job);
  job->c = case_heap_copy(c);
  if (!job->c)
    return;
  job->connector = connector;
  job->take_height = take_height;
  job->fault = FAULT_NONE;
  g_atomic_int_set(&job->cancel, 0);
  job->thread = g_thread_new("soffit-best", search_run, job);
}

bool best_job_runs(const BestJob *job)
{
  return job->thread != NULL;
}
