/* class_paper_job.c - see class_paper_job.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Job and worker hold a reference each: who is last frees. */
#include "ui/practice/class_paper_job.h"
#include "practice/class_folder.h"
#include "ui/drawing/paper_pdf.h"
#include "ui/wake.h"
#include "ui/words.h"
#include "ui/worker.h"

struct ClassPaperJob {
  gint references; /* atomic */
  GPtrArray *rows; /* owned refs */
  GPtrArray *set;  /* owned ref */
  PaperSize size;
  char *path, *day;
  DrawContext context;
  ClassPaperChanged changed;
  void *data;
  ClassPaperState state; /* of the main thread */
  GMutex mutex;          /* guards all below */
  ClassPaperState fresh;
  bool stopped;
  Wake *wake; /* NULL: nobody listens any more */
};

static void job_unref(ClassPaperJob *job)
{
  if (!g_atomic_int_dec_and_test(&job->references))
    return;
  g_ptr_array_unref(job->rows);
  g_ptr_array_unref(job->set);
  g_free(job->path);
  g_free(job->day);
  g_free(job->state.trouble);
  g_free(job->fresh.trouble);
  g_mutex_clear(&job->mutex);
  g_free(job);
}

/* ---- worker ---- */

/* With the mutex. */
static void ring(ClassPaperJob *job)
{
  if (job->wake)
    wake_ring(job->wake);
}

/* A stop comes either before the last page, or too late. */
static bool page_drawn(guint pages, void *data)
{
  ClassPaperJob *job = data;
  g_mutex_lock(&job->mutex);
  bool more = !job->stopped;
  if (more)
    job->fresh.done = pages;
  ring(job);
  g_mutex_unlock(&job->mutex);
  return more;
}

static void *worker_run(void *data)
{
  ClassPaperJob *job = data;
  g_autoptr(GError) error = NULL;
  worker_stand_back();
  paper_write_class(job->rows, job->set, job->size, job->day, &job->context, page_drawn, job,
                    job->path, &error);
  g_mutex_lock(&job->mutex);
  job->fresh.over = true;
  job->fresh.trouble = g_strdup(error ? error->message : NULL);
  ring(job);
  g_mutex_unlock(&job->mutex);
  job_unref(job);
  return NULL;
}

/* ---- main thread ---- */

static gboolean state_take(void *data)
{
  ClassPaperJob *job = data;
  g_mutex_lock(&job->mutex);
  job->state.done = job->fresh.done;
  job->state.over = job->fresh.over;
  if (job->fresh.trouble)
    job->state.trouble = g_steal_pointer(&job->fresh.trouble);
  g_mutex_unlock(&job->mutex);
  job->changed(job->data);
  return G_SOURCE_CONTINUE;
}

ClassPaperJob *class_paper_job_new(const GPtrArray *rows, const GPtrArray *set, PaperSize size,
                                   const char *path, ClassPaperChanged changed, void *data)
{
  ClassPaperJob *job = g_new0(ClassPaperJob, 1);
  g_autoptr(GDateTime) now = g_date_time_new_now_local();
  job->references = 2;
  job->rows = g_ptr_array_new_full(rows->len, class_row_unref);
  for (guint i = 0; i < rows->len; i++)
    g_ptr_array_add(job->rows, class_row_ref(rows->pdata[i]));
  job->set = g_ptr_array_ref((GPtrArray *)set);
  job->size = size;
  job->path = g_strdup(path);
  job->day = g_date_time_format(now, "%Y-%m-%d");
  job->context = paper_context(words_translate, words_decimal());
  job->changed = changed;
  job->data = data;
  job->state.of = job->fresh.of = rows->len;
  g_mutex_init(&job->mutex);
  job->wake = wake_new(state_take, job);
  g_thread_unref(g_thread_new("soffit-paper", worker_run, job));
  return job;
}

const ClassPaperState *class_paper_job_state(ClassPaperJob *job)
{
  return &job->state;
}

const char *class_paper_job_path(const ClassPaperJob *job)
{
  return job->path;
}

static Wake *wake_take(ClassPaperJob *job)
{
  g_mutex_lock(&job->mutex);
  Wake *wake = g_steal_pointer(&job->wake);
  g_mutex_unlock(&job->mutex);
  return wake;
}

bool class_paper_job_stop(ClassPaperJob *job)
{
  g_mutex_lock(&job->mutex);
  job->stopped = true;
  bool none = job->fresh.done < job->fresh.of;
  g_mutex_unlock(&job->mutex);
  wake_free(wake_take(job));
  return none;
}

void class_paper_job_free(ClassPaperJob *job)
{
  if (!job)
    return;
  wake_free(wake_take(job));
  job_unref(job);
}
