/* exercise_job.c - see exercise_job.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/practice/exercise_job.h"
#include "casefile/exercise_xml.h"
#include "ui/wake.h"
#include "ui/worker.h"

#define THREADS_MOST 4

struct ExerciseJob {
  ExerciseTell tell;
  void *data;
  Wake *wake;
  GThread *thread;    /* NULL: none runs */
  Exercise *exercise; /* owned; of the search; answers borrow its words */
  Assessor *assessor; /* owned; the thread's while it runs, kept for the next search */
  gint cancel;        /* atomic */
  GMutex mutex;       /* guards all below */
  double share;
  Solvable answer;
  Fault fault;
  bool ended;
};

static bool cancelled(void *data)
{
  ExerciseJob *job = data;
  return g_atomic_int_get(&job->cancel) != 0;
}

static void progress(double share, void *data)
{
  ExerciseJob *job = data;
  g_mutex_lock(&job->mutex);
  job->share = share;
  g_mutex_unlock(&job->mutex);
  wake_ring(job->wake);
}

static gpointer search_run(gpointer data)
{
  worker_stand_back();
  ExerciseJob *job = data;
  SolvableSettings settings = {.threads = (int)MIN(g_get_num_processors(), THREADS_MOST),
                               .cancelled = cancelled,
                               .cancel_data = job,
                               .progress = progress,
                               .progress_data = job};
  Solvable answer;
  solvable_init(&answer);
  Fault fault = job->assessor ? FAULT_NONE : assessor_new(&job->assessor);
  if (!fault)
    fault = exercise_solvable(job->assessor, job->exercise, &settings, &answer);
  g_mutex_lock(&job->mutex);
  solvable_clear(&job->answer);
  job->answer = answer;
  job->fault = fault;
  job->ended = true;
  g_mutex_unlock(&job->mutex);
  wake_ring(job->wake);
  return NULL;
}

static void thread_end(ExerciseJob *job)
{
  if (job->thread)
    g_thread_join(job->thread);
  job->thread = NULL;
}

static gboolean told(void *data)
{
  ExerciseJob *job = data;
  g_mutex_lock(&job->mutex);
  double share = job->share;
  bool ended = job->ended;
  job->ended = false;
  g_mutex_unlock(&job->mutex);
  if (ended)
    thread_end(job);
  if (!cancelled(job) && (ended || job->thread))
    job->tell(share, ended ? &job->answer : NULL, ended ? job->fault : FAULT_NONE, job->data);
  return G_SOURCE_CONTINUE;
}

ExerciseJob *exercise_job_new(ExerciseTell tell, void *data)
{
  ExerciseJob *job = g_new0(ExerciseJob, 1);
  job->tell = tell;
  job->data = data;
  solvable_init(&job->answer);
  g_mutex_init(&job->mutex);
  job->wake = wake_new(told, job);
  return job;
}

void exercise_job_stop(ExerciseJob *job)
{
  g_atomic_int_set(&job->cancel, 1);
  thread_end(job);
  job->ended = false;
}

void exercise_job_free(ExerciseJob *job)
{
  if (!job)
    return;
  exercise_job_stop(job);
  wake_free(job->wake);
  solvable_clear(&job->answer);
  exercise_free(job->exercise);
  assessor_free(job->assessor);
  g_mutex_clear(&job->mutex);
  g_free(job);
}

bool exercise_job_start(ExerciseJob *job, const Exercise *exercise, GError **error)
{
  exercise_job_stop(job);
  Exercise *copy = exercise_copy(exercise, error);
  if (!copy)
    return false;
  exercise_free(job->exercise);
  job->exercise = copy;
  job->share = 0;
  g_atomic_int_set(&job->cancel, 0);
  job->thread = g_thread_new("soffit-exercise", search_run, job);
  return true;
}

bool exercise_job_runs(const ExerciseJob *job)
{
  return job->thread != NULL;
}
