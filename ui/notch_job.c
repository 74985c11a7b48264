/* notch_job.c - see notch_job.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/notch_job.h"
#include <gio/gio.h>
#include <string.h>

struct _SoffitNotchJob {
  GObject parent;
  NotchShown *shown; /* owned */
  NotchedBar wanted;
  bool runs;
};

G_DEFINE_FINAL_TYPE(SoffitNotchJob, notch_job, G_TYPE_OBJECT)

static guint solved_id;

static void notch_free(void *data)
{
  NotchShown *n = data;
  if (!n)
    return;
  line_set_clear(&n->zero);
  shaded_free(n->shaded);
  notched_bar_answer_free(n->answer);
  g_free(n);
}

static void notch_run(GTask *task, gpointer source, gpointer data, GCancellable *stop)
{
  (void)source, (void)stop;
  NotchShown *n = data;
  if (notched_bar_solve(&n->bar, &n->answer) == FAULT_NONE &&
      shaded_new(n->answer->field, SHEET_ELEVATION, (NeckLoad){1, 0}, &n->shaded) == FAULT_NONE &&
      contour_find(n->shaded->sheet, n->shaded->balance, 0, &n->zero) != FAULT_NONE)
    line_set_clear(&n->zero); /* drawn straight, as in a smooth bar */
  g_task_return_boolean(task, TRUE);
}

static bool is_shown(SoffitNotchJob *self)
{
  return self->shown && memcmp(&self->shown->bar, &self->wanted, sizeof self->wanted) == 0;
}

static void run(SoffitNotchJob *self);

static void notch_done(GObject *source, GAsyncResult *result, gpointer data)
{
  (void)data;
  SoffitNotchJob *self = SOFFIT_NOTCH_JOB(source);
  NotchShown *n = g_task_get_task_data(G_TASK(result)), *fresh = g_new(NotchShown, 1);
  *fresh = *n; /* taken over from the task */
  n->answer = NULL, n->shaded = NULL, n->zero = (LineSet){0};
  notch_free(self->shown);
  self->shown = fresh;
  self->runs = false;
  if (!is_shown(self))
    run(self);
  g_signal_emit(self, solved_id, 0);
}

static void run(SoffitNotchJob *self)
{
  GTask *task = g_task_new(self, NULL, notch_done, NULL);
  NotchShown *n = g_new0(NotchShown, 1);
  n->bar = self->wanted;
  self->runs = true;
  g_task_set_task_data(task, n, notch_free);
  g_task_run_in_thread(task, notch_run);
  g_object_unref(task);
}

/* While one runs, only that there is a newer one is kept. */
void notch_job_request(SoffitNotchJob *self, const NotchedBar *bar)
{
  self->wanted = *bar;
  if (self->runs)
    return;
  if (is_shown(self))
    g_signal_emit(self, solved_id, 0);
  else
    run(self);
}

const NotchShown *notch_job_shown(SoffitNotchJob *self)
{
  return self->shown;
}

static void notch_job_finalize(GObject *object)
{
  notch_free(SOFFIT_NOTCH_JOB(object)->shown);
  G_OBJECT_CLASS(notch_job_parent_class)->finalize(object);
}

static void notch_job_class_init(SoffitNotchJobClass *class)
{
  G_OBJECT_CLASS(class)->finalize = notch_job_finalize;
  solved_id = g_signal_new("solved", SOFFIT_TYPE_NOTCH_JOB, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                           G_TYPE_NONE, 0);
}

static void notch_job_init(SoffitNotchJob *self)
{
  (void)self;
}

SoffitNotchJob *notch_job_new(void)
{
  return g_object_new(SOFFIT_TYPE_NOTCH_JOB, NULL);
}
