/* records_job.c - see records_job.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/records_job.h"
#include "casefile/folder_files.h"
#include "ui/wake.h"
#include "ui/words.h"
#include "ui/worker.h"

struct RecordsJob {
  char *folder;
  RecordsChanged changed;
  void *data;
  RecordsState state; /* of the main thread */
  GThread *thread;
  Wake *wake;
  GMutex mutex;       /* guards what the worker hands over */
  RecordsState fresh; /* rows not handed over yet; counts so far */
  gint stop;          /* atomic */
};

static void row_clear(void *row)
{
  break_row_clear(row);
}

static GArray *rows_new(void)
{
  GArray *rows = g_array_new(FALSE, FALSE, sizeof(BreakRow));
  g_array_set_clear_func(rows, row_clear);
  return rows;
}

static bool job_stopped(void *data)
{
  return g_atomic_int_get(&((RecordsJob *)data)->stop) != 0;
}

/* Takes the row over. */
static void row_hand(RecordsJob *job, BreakRow *row, const BreakSum *sum)
{
  g_mutex_lock(&job->mutex);
  job->fresh.sum = *sum;
  if (row->check.recorded || row->error || row->fault)
    g_array_append_val(job->fresh.row, *row);
  else
    break_row_clear(row);
  g_mutex_unlock(&job->mutex);
  wake_ring(job->wake);
}

static void end_hand(RecordsJob *job, const char *trouble)
{
  g_mutex_lock(&job->mutex);
  job->fresh.over = true;
  job->fresh.stopped = job_stopped(job);
  job->fresh.trouble = g_strdup(trouble);
  g_mutex_unlock(&job->mutex);
  wake_ring(job->wake);
}

static void *worker_run(void *data)
{
  worker_stand_back();
  RecordsJob *job = data;
  g_autoptr(GError) error = NULL;
  Assessor *assessor = NULL;
  BreakSum sum = {0};
  Fault fault = assessor_new(&assessor);
  g_autoptr(GPtrArray) names = folder_files(job->folder, ".xml", RECORDS_MOST + 1, &error);
  if (names) {
    g_mutex_lock(&job->mutex);
    job->fresh.more = names->len > RECORDS_MOST;
    job->fresh.of = MIN(names->len, RECORDS_MOST);
    g_mutex_unlock(&job->mutex);
  }
  for (guint i = 0; names && i < MIN(names->len, RECORDS_MOST) && !fault && !job_stopped(job);
       i++) {
    g_autofree char *path = g_build_filename(job->folder, names->pdata[i], NULL);
    BreakRow row;
    fault = break_row_read(assessor, path, job_stopped, job, &row, &sum);
    if (fault)
      break_row_clear(&row);
    else
      row_hand(job, &row, &sum);
  }
  assessor_free(assessor);
  end_hand(job, error                               ? error->message
                : fault && fault != FAULT_CANCELLED ? _(fault_text(fault))
                                                    : NULL);
  return NULL;
}

static gboolean state_take(void *data)
{
  RecordsJob *job = data;
  RecordsState *state = &job->state;
  g_autoptr(GArray) rows = rows_new();
  g_mutex_lock(&job->mutex);
  GArray *fresh = job->fresh.row;
  job->fresh.row = g_steal_pointer(&rows);
  RecordsState kept = *state;
  *state = job->fresh;
  job->fresh.trouble = NULL; /* taken over */
  g_mutex_unlock(&job->mutex);
  state->row = kept.row;
  state->trouble = state->trouble ? state->trouble : kept.trouble;
  g_array_append_vals(state->row, fresh->data, fresh->len);
  g_array_set_clear_func(fresh, NULL); /* moved */
  g_array_unref(fresh);
  job->changed(job->data);
  return G_SOURCE_CONTINUE;
}

RecordsJob *records_job_new(const char *folder, RecordsChanged changed, void *data)
{
  RecordsJob *job = g_new0(RecordsJob, 1);
  job->folder = g_strdup(folder);
  job->changed = changed;
  job->data = data;
  job->state.row = rows_new();
  job->fresh.row = rows_new();
  g_mutex_init(&job->mutex);
  job->wake = wake_new(state_take, job);
  job->thread = g_thread_new("soffit-records", worker_run, job);
  return job;
}

const RecordsState *records_job_state(RecordsJob *job)
{
  return &job->state;
}

void records_job_stop(RecordsJob *job)
{
  g_atomic_int_set(&job->stop, 1);
}

void records_job_free(RecordsJob *job)
{
  if (!job)
    return;
  records_job_stop(job);
  g_thread_join(job->thread);
  wake_free(job->wake);
  g_array_unref(job->state.row);
  g_array_unref(job->fresh.row);
  g_free(job->state.trouble);
  g_free(job->fresh.trouble);
  g_mutex_clear(&job->mutex);
  g_free(job->folder);
  g_free(job);
}
