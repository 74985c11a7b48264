/* practice_desk.c - exercise, way and predictions; scoring is practice_score.c, progress
 * practice_progress.c. SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/practice/practice_private.h"
#include <math.h>
#include <string.h>

G_DEFINE_FINAL_TYPE(SoffitPracticeDesk, practice_desk, G_TYPE_OBJECT)

static guint signal_id[PRACTICE_SIGNALS];

void practice_emit(SoffitPracticeDesk *self, PracticeSignal which)
{
  g_signal_emit(self, signal_id[which], 0);
}

const char *practice_step_name(PracticeStep step)
{
  static const char *const name[] = {N_("Predict"), N_("See"), N_("Redraw"), N_("Compare")};
  return step < PRACTICE_STEPS ? name[step] : "";
}

/* --- exercises --- */

const GPtrArray *practice_desk_set(SoffitPracticeDesk *self)
{
  return self->set;
}

const GPtrArray *practice_desk_left_out(SoffitPracticeDesk *self)
{
  return self->left_out;
}

const Exercise *practice_desk_exercise(SoffitPracticeDesk *self)
{
  return self->exercise;
}

static void start_came(Assessment *result, Fault fault, bool current, void *data)
{
  (void)fault, (void)current;
  SoffitPracticeDesk *self = data;
  if (!result)
    return;
  g_clear_pointer(&self->start, assessment_unref);
  self->start = assessment_ref(result);
  double peak = result->connector[self->exercise->focus].trial_peak_mpa.value;
  if (self->peaks->len == 0)
    g_array_append_val(self->peaks, peak);
  practice_score_live(self);
}

static void drawing_answered(SoffitPracticeDesk *self)
{
  practice_duel_follow(self);
  practice_score_live(self);
}

/* The paper was touched, by pen or keys: that is the turn to redraw. */
static void drawing_changed(SoffitPracticeDesk *self)
{
  if (self->step == PRACTICE_SEE && !self->loading && practice_desk_has_step(self, PRACTICE_REDRAW))
    practice_desk_go(self, PRACTICE_REDRAW);
}

void practice_forget_work(SoffitPracticeDesk *self)
{
  self->generation++;
  self->busy = false;
  self->scored = false;
  self->fault = FAULT_NONE;
  g_clear_pointer(&self->mine, assessment_unref);
  g_clear_pointer(&self->best, assessment_unref);
}

bool practice_desk_open(SoffitPracticeDesk *self, const char *id)
{
  const Exercise *exercise = exercise_find(self->set, id);
  self->loading = true;
  bool begun = exercise && session_start(self->session, &exercise->start, NULL);
  self->loading = false;
  if (!begun)
    return false;
  practice_forget_work(self);
  practice_duel_end(self);
  GPtrArray *was = self->home; /* the views show one of it until they are told */
  self->home = g_ptr_array_ref(self->set);
  self->exercise = exercise;
  self->step = practice_desk_has_step(self, PRACTICE_PREDICT) ? PRACTICE_PREDICT : PRACTICE_SEE;
  self->has_cross = self->swapped = self->live_known = false;
  self->cracking = self->swiping = false;
  self->cross_connector = exercise->focus;
  self->guess = NAN;
  self->hints = 0;
  for (size_t i = 0; i < QUESTIONS_MOST; i++)
    g_clear_pointer(&self->answer[i], g_free);
  g_array_set_size(self->peaks, 0);
  session_set_focus(self->session, exercise->focus);
  g_clear_pointer(&self->start, assessment_unref);
  assess_job_forget(self->start_job);
  assess_job_request(self->start_job, &exercise->start, exercise->focus);
  practice_emit(self, PRACTICE_EXERCISE_CHANGED);
  practice_emit(self, PRACTICE_STEP_CHANGED);
  if (was)
    g_ptr_array_unref(was);
  return true;
}

void practice_open_first(SoffitPracticeDesk *self)
{
  Skill why;
  const Exercise *first = exercise_next(self->set, self->progress, practice_now(), &why);
  if (!first && self->set->len > 0)
    first = self->set->pdata[0];
  if (first)
    practice_desk_open(self, first->id);
}

void practice_desk_open_next(SoffitPracticeDesk *self)
{
  Skill why;
  const Exercise *next = self->exercise && *self->exercise->next
                             ? exercise_find(self->set, self->exercise->next)
                             : NULL;
  const Exercise *due = exercise_next(self->set, self->progress, practice_now(), &why);
  if (due && (why < SKILLS || !next))
    next = due;
  if (next)
    practice_desk_open(self, next->id);
}

/* --- the way --- */

PracticeStep practice_desk_step(SoffitPracticeDesk *self)
{
  return self->step;
}

bool practice_desk_has_step(SoffitPracticeDesk *self, PracticeStep step)
{
  if (practice_desk_plays(self)) /* nothing is asked first */
    return step != PRACTICE_PREDICT;
  return step != PRACTICE_REDRAW || self->exercise->criterion->len > 0;
}

bool practice_desk_may_go(SoffitPracticeDesk *self, PracticeStep step)
{
  if (!practice_desk_has_step(self, step))
    return false;
  if (step == PRACTICE_PREDICT)
    return self->step == PRACTICE_PREDICT; /* seen is seen */
  return step == PRACTICE_COMPARE ? self->scored : practice_desk_predicted(self, NULL);
}

void practice_desk_go(SoffitPracticeDesk *self, PracticeStep step)
{
  if (step == self->step || !practice_desk_may_go(self, step))
    return;
  if (step != PRACTICE_SEE)
    practice_desk_set_load(self, NAN);
  self->cracking = false;
  self->step = step;
  if (step == PRACTICE_REDRAW)
    practice_score_live(self);
  practice_emit(self, PRACTICE_STEP_CHANGED);
}

SoffitSession *practice_desk_session(SoffitPracticeDesk *self)
{
  return self->session;
}

const Assessment *practice_desk_start(SoffitPracticeDesk *self)
{
  return self->start;
}

bool practice_desk_swapped(SoffitPracticeDesk *self)
{
  return self->swapped;
}

void practice_desk_swap(SoffitPracticeDesk *self)
{
  self->swapped = !self->swapped;
  practice_emit(self, PRACTICE_WORK_CHANGED);
}

void practice_desk_set_load(SoffitPracticeDesk *self, double force_n)
{
  const CaseLoad *own = &self->exercise->start.trial, *now = &session_case(self->session)->trial;
  double force = isnan(force_n) ? own->force_n : force_n;
  if (fabs(now->force_n - force) < 0.5)
    return;
  self->loading = true;
  session_set_trial(self->session, own->x, force);
  self->loading = false;
}

bool practice_desk_swiping(SoffitPracticeDesk *self)
{
  return self->swiping && self->step == PRACTICE_COMPARE;
}

void practice_desk_set_swiping(SoffitPracticeDesk *self, bool swiping)
{
  if (swiping == self->swiping)
    return;
  self->swiping = swiping;
  practice_emit(self, PRACTICE_WORK_CHANGED);
}

bool practice_desk_cracking(SoffitPracticeDesk *self)
{
  return self->cracking;
}

void practice_desk_set_cracking(SoffitPracticeDesk *self, bool cracking)
{
  cracking = cracking && self->step == PRACTICE_SEE;
  if (cracking == self->cracking)
    return;
  self->cracking = cracking;
  practice_emit(self, PRACTICE_WORK_CHANGED);
}

/* --- prediction --- */

static bool asks_place_by_question(const Exercise *exercise)
{
  for (size_t i = 0; i < exercise->n_question; i++)
    if (exercise->question[i].kind == QUESTION_PLACE)
      return true;
  return false;
}

bool practice_desk_asks_place(SoffitPracticeDesk *self)
{
  return !practice_desk_plays(self) &&
         (practice_desk_has_step(self, PRACTICE_REDRAW) || asks_place_by_question(self->exercise));
}

bool practice_desk_asks_gain(SoffitPracticeDesk *self)
{
  return !practice_desk_plays(self) && practice_desk_has_step(self, PRACTICE_REDRAW);
}

void practice_desk_set_cross(SoffitPracticeDesk *self, size_t connector, Point at)
{
  self->has_cross = true;
  self->cross_connector = connector;
  self->cross = at;
  for (size_t i = 0; i < self->exercise->n_question; i++)
    if (self->exercise->question[i].kind == QUESTION_PLACE) {
      g_free(self->answer[i]);
      self->answer[i] = place_to_text(&self->exercise->start, connector, at);
    }
  practice_emit(self, PRACTICE_WORK_CHANGED);
}

bool practice_desk_cross(SoffitPracticeDesk *self, size_t *connector, Point *at)
{
  *connector = self->cross_connector;
  *at = self->cross;
  return self->has_cross;
}

void practice_desk_set_guess(SoffitPracticeDesk *self, double percent)
{
  self->guess = percent;
  practice_emit(self, PRACTICE_WORK_CHANGED);
}

double practice_desk_guess(SoffitPracticeDesk *self)
{
  return self->guess;
}

void practice_desk_set_answer(SoffitPracticeDesk *self, size_t question, const char *answer)
{
  if (question >= self->exercise->n_question || g_strcmp0(self->answer[question], answer) == 0)
    return;
  g_free(self->answer[question]);
  self->answer[question] = g_strdup(answer);
  practice_score_live(self);
}

const char *practice_desk_answer(SoffitPracticeDesk *self, size_t question)
{
  return question < QUESTIONS_MOST && self->answer[question] ? self->answer[question] : "";
}

bool practice_desk_predicted(SoffitPracticeDesk *self, const char **missing)
{
  const char *lacks = NULL;
  size_t asked = practice_desk_plays(self) ? 0 : self->exercise->n_question;
  for (size_t i = 0; i < asked && !lacks; i++)
    if (!*practice_desk_answer(self, i))
      lacks = self->exercise->question[i].kind == QUESTION_PLACE
                  ? N_("First mark the place on the drawing.")
                  : N_("First answer the questions.");
  if (!lacks && practice_desk_asks_place(self) && !self->has_cross)
    lacks = N_("First mark the place on the drawing.");
  if (!lacks && practice_desk_asks_gain(self) && isnan(self->guess))
    lacks = N_("First guess how much more it will carry.");
  if (missing)
    *missing = lacks;
  return !lacks;
}

/* --- hints --- */

size_t practice_desk_hints(SoffitPracticeDesk *self)
{
  return self->hints;
}

/* The worked answer as a dashed line, as an advice is shown. */
static void ghost_show(SoffitPracticeDesk *self)
{
  const Exercise *exercise = self->exercise;
  size_t i = exercise->focus;
  if (i + 1 >= exercise->answer.n_unit)
    return;
  Advice advice = {.kind = ADVICE_BEST, .connector = i, .side = SIDE_GINGIVAL};
  advice.act = (Phrase){.text = N_("A worked answer")};
  advice.why = (Phrase){.text = N_("One good answer among others")};
  advice.gain_percent = banded(NAN, NAN, NAN);
  advice.ghost = exercise->answer.connector[i].side[SIDE_GINGIVAL]; /* copied by the session */
  memcpy(advice.finish, exercise->answer.connector[i].finish, sizeof advice.finish);
  session_preview(self->session, &advice);
}

void practice_desk_open_hint(SoffitPracticeDesk *self)
{
  if (self->hints >= self->exercise->n_hint)
    return;
  const Hint *hint = &self->exercise->hint[self->hints++];
  if (hint->ghost)
    ghost_show(self);
  practice_emit(self, PRACTICE_WORK_CHANGED);
}

/* --- object --- */

static void practice_desk_finalize(GObject *object)
{
  SoffitPracticeDesk *self = SOFFIT_PRACTICE_DESK(object);
  practice_forget_work(self);
  practice_duel_end(self);
  assess_job_free(self->start_job);
  g_clear_pointer(&self->start, assessment_unref);
  g_signal_handlers_disconnect_by_data(self->session, self);
  g_object_unref(self->session);
  for (size_t i = 0; i < QUESTIONS_MOST; i++)
    g_free(self->answer[i]);
  g_array_unref(self->peaks);
  progress_free(self->progress);
  g_ptr_array_unref(self->set);
  g_clear_pointer(&self->home, g_ptr_array_unref);
  g_ptr_array_unref(self->left_out);
  practice_deleted_free(self->deleted);
  g_free(self->data_dir);
  g_free(self->progress_path);
  g_free(self->message);
  G_OBJECT_CLASS(practice_desk_parent_class)->finalize(object);
}

static void practice_desk_class_init(SoffitPracticeDeskClass *class)
{
  static const char *const name[] = {"exercise-changed", "step-changed", "work-changed", "scored",
                                     "progress-changed"};
  G_OBJECT_CLASS(class)->finalize = practice_desk_finalize;
  for (int i = 0; i < PRACTICE_SIGNALS; i++)
    signal_id[i] = g_signal_new(name[i], SOFFIT_TYPE_PRACTICE_DESK, G_SIGNAL_RUN_LAST, 0, NULL,
                                NULL, NULL, G_TYPE_NONE, 0);
}

static void practice_desk_init(SoffitPracticeDesk *self)
{
  self->session = session_new("", NULL);
  self->start_job = assess_job_new(NULL, start_came, self);
  self->peaks = g_array_new(FALSE, FALSE, sizeof(double));
  self->left_out = g_ptr_array_new_with_free_func(g_free);
  self->guess = NAN;
  g_signal_connect_swapped(self->session, "assessment-changed", G_CALLBACK(drawing_answered), self);
  g_signal_connect_swapped(self->session, "case-changed", G_CALLBACK(drawing_changed), self);
}

SoffitPracticeDesk *practice_desk_new(const char *data_dir)
{
  SoffitPracticeDesk *self = g_object_new(SOFFIT_TYPE_PRACTICE_DESK, NULL);
  self->data_dir = data_dir ? g_strdup(data_dir)
                            : g_build_filename(g_get_user_data_dir(), "soffit", "practice", NULL);
  practice_set_read(self);
  practice_progress_open(self);
  practice_open_first(self);
  return self;
}
