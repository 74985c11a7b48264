/* figures_job.c - see figures_job.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/review/figures_job.h"
#include "ui/wake.h"
#include "ui/words.h"
#include "ui/worker.h"

struct FiguresJob {
  char *folder;
  FiguresChanged changed;
  void *data;
  GThread *thread;
  Wake *wake;
  GMutex mutex; /* guards `fresh`; what it owns is the job's from `over` on */
  FiguresState fresh;
  char *trouble;
  gint stop; /* atomic */
};

static bool progress_take(guint done, guint of, void *data)
{
  FiguresJob *job = data;
  g_mutex_lock(&job->mutex);
  job->fresh.done = done;
  job->fresh.of = of;
  g_mutex_unlock(&job->mutex);
  wake_ring(job->wake);
  return g_atomic_int_get(&job->stop) == 0;
}

static void *worker_run(void *data)
{
  worker_stand_back();
  FiguresJob *job = data;
  g_autoptr(GError) error = NULL;
  LabSamplesWish wish = {.threads = (int)g_get_num_processors(),
                         .translate = words_translate,
                         .progress = progress_take,
                         .data = job};
  LabSamples *samples = lab_samples_read(job->folder, &wish, &error);
  g_mutex_lock(&job->mutex);
  job->fresh.samples = samples;
  if (error)
    job->trouble = g_strdup(error->message);
  else if (!samples && !g_atomic_int_get(&job->stop))
    job->trouble = g_strdup(_(fault_text(FAULT_MEMORY)));
  job->fresh.trouble = job->trouble;
  job->fresh.over = true;
  g_mutex_unlock(&job->mutex);
  wake_ring(job->wake);
  return NULL;
}

static gboolean state_take(void *data)
{
  FiguresJob *job = data;
  g_mutex_lock(&job->mutex);
  FiguresState state = job->fresh;
  g_mutex_unlock(&job->mutex);
  job->changed(&state, job->data);
  return G_SOURCE_CONTINUE;
}

FiguresJob *figures_job_new(const char *folder, FiguresChanged changed, void *data)
{
  FiguresJob *job = g_new0(FiguresJob, 1);
  job->folder = g_strdup(folder);
  job->changed = changed;
  job->data = data;
  g_mutex_init(&job->mutex);
  job->wake = wake_new(state_take, job);
  job->thread = g_thread_new("soffit-figures", worker_run, job);
  return job;
}

void figures_job_free(FiguresJob *job)
{
  if (!job)
    return;
  g_atomic_int_set(&job->stop, 1);
  g_thread_join(job->thread);
  wake_free(job->wake);
  lab_samples_free(job->fresh.samples);
  g_free(job->trouble);
  g_mutex_clear(&job->mutex);
  g_free(job->folder);
  g_free(job);
}
