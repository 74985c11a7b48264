/* practice_score.c - a work handed in: answered anew at the exercise's load, held against the best
 * outline of its room, scored. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The solver works in a thread; what comes for an exercise that was left is dropped. */
#include "ui/practice/practice_private.h"
#include <gio/gio.h>
#include <math.h>

#define THREADS 2

typedef struct {
  GPtrArray *set;           /* owned ref: the desk may read another */
  const Exercise *exercise; /* of it */
  guint generation;
  Case drawn;              /* owned */
  Assessment *mine, *best; /* owned refs */
  Fault fault;
} Handed;

static void handed_free(gpointer data)
{
  Handed *handed = data;
  case_clear(&handed->drawn);
  g_ptr_array_unref(handed->set);
  g_clear_pointer(&handed->mine, assessment_unref);
  g_clear_pointer(&handed->best, assessment_unref);
  g_free(handed);
}

static Fault best_answer(Assessor *assessor, Handed *handed, const AssessSettings *settings)
{
  Case best;
  case_init(&best);
  BestSettings search = {.threads = THREADS};
  Fault fault = work_best(assessor, handed->exercise, &handed->drawn, &search, &best);
  if (!fault)
    fault = assess(assessor, &best, settings, &handed->best);
  case_clear(&best);
  return fault;
}

static void handed_work(GTask *task, gpointer desk, gpointer data, GCancellable *cancel)
{
  (void)desk, (void)cancel;
  Handed *handed = data;
  Assessor *assessor = NULL;
  AssessSettings settings = assess_settings_default();
  settings.threads = THREADS;
  settings.focus = handed->exercise->focus;
  handed->fault = assessor_new(&assessor);
  if (!handed->fault)
    handed->fault = assess(assessor, &handed->drawn, &settings, &handed->mine);
  if (!handed->fault && best_answer(assessor, handed, &settings))
    g_clear_pointer(&handed->best, assessment_unref); /* scored without the best, too */
  assessor_free(assessor);
  g_task_return_boolean(task, TRUE);
}

/* Strokes and moved points, not moves of the load. */
static int strokes_of(SoffitSession *session)
{
  int strokes = 0;
  for (size_t i = 1; i <= session_state_at(session); i++) {
    const char *name = session_state(session, i, 0).name;
    strokes += name && !g_str_equal(name, SESSION_TRIAL_STEP);
  }
  return strokes;
}

static Work work_at_hand(SoffitPracticeDesk *self, const Assessment *mine, const Assessment *best)
{
  Work work = {.exercise = self->exercise,
               .start = self->start,
               .mine = mine,
               .best = best,
               .strokes = strokes_of(self->session)};
  for (size_t i = 0; i < QUESTIONS_MOST; i++)
    work.answer[i] = self->answer[i];
  return work;
}

void practice_score_live(SoffitPracticeDesk *self)
{
  const Assessment *now = session_assessment(self->session);
  size_t focus = self->exercise ? self->exercise->focus : 0;
  if (!self->start || !now || focus >= now->n_connector ||
      now->n_connector != self->start->n_connector)
    return;
  Work work = work_at_hand(self, now, NULL);
  score_work(&work, &self->live);
  self->live_known = true;
  practice_emit(self, PRACTICE_WORK_CHANGED);
}

static void handed_came(GObject *source, GAsyncResult *result, gpointer data)
{
  (void)data;
  SoffitPracticeDesk *self = SOFFIT_PRACTICE_DESK(source);
  Handed *handed = g_task_get_task_data(G_TASK(result));
  if (handed->generation != self->generation)
    return;
  self->busy = false;
  self->fault = handed->fault;
  if (!handed->fault && self->start) {
    g_clear_pointer(&self->mine, assessment_unref);
    g_clear_pointer(&self->best, assessment_unref);
    self->mine = g_steal_pointer(&handed->mine);
    self->best = g_steal_pointer(&handed->best);
    Work work = work_at_hand(self, self->mine, self->best);
    score_work(&work, &self->handed);
    self->scored = true;
    g_array_append_val(self->peaks, self->handed.mine_mpa.value);
    practice_progress_keep(self);
    practice_desk_go(self, PRACTICE_COMPARE);
  }
  practice_emit(self, PRACTICE_SCORED);
}

void practice_desk_hand_in(SoffitPracticeDesk *self)
{
  if (self->busy || !self->start || !practice_desk_predicted(self, NULL))
    return;
  session_edit_end(self->session);
  practice_desk_set_load(self, NAN);
  Handed *handed = g_new0(Handed, 1);
  handed->set = g_ptr_array_ref(self->home);
  handed->exercise = self->exercise;
  handed->generation = ++self->generation;
  case_init(&handed->drawn);
  if (case_copy(&handed->drawn, session_case(self->session))) {
    handed_free(handed);
    return;
  }
  self->busy = true;
  GTask *task = g_task_new(self, NULL, handed_came, NULL);
  g_task_set_task_data(task, handed, handed_free);
  g_task_run_in_thread(task, handed_work);
  g_object_unref(task);
  practice_emit(self, PRACTICE_WORK_CHANGED);
}

bool practice_desk_busy(SoffitPracticeDesk *self)
{
  return self->busy;
}

Fault practice_desk_fault(SoffitPracticeDesk *self)
{
  return self->fault;
}

const Assessment *practice_desk_mine(SoffitPracticeDesk *self)
{
  return self->mine;
}

const Assessment *practice_desk_best(SoffitPracticeDesk *self)
{
  return self->best;
}

const Score *practice_desk_score(SoffitPracticeDesk *self)
{
  if (self->step == PRACTICE_COMPARE && self->scored)
    return &self->handed;
  return self->live_known && self->start ? &self->live : NULL;
}

const GArray *practice_desk_peaks(SoffitPracticeDesk *self)
{
  return self->peaks;
}

double practice_desk_gain(SoffitPracticeDesk *self)
{
  if (!self->scored || !self->start || !self->mine)
    return NAN;
  return prediction_gain(self->start, self->mine, self->exercise->focus);
}
