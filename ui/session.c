/* session.c - the session object: life, signals, the answer, the current neck, the previewed
 * advice. SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/session_private.h"

G_DEFINE_FINAL_TYPE(SoffitSession, session, G_TYPE_OBJECT)

static const char *const signal_name[SIGNAL_N] = {
    [SIGNAL_CASE_OPENED] = "case-opened",
    [SIGNAL_CASE_CHANGED] = "case-changed",
    [SIGNAL_STATE_CHANGED] = "state-changed",
    [SIGNAL_ASSESSMENT_CHANGED] = "assessment-changed",
    [SIGNAL_FOCUS_CHANGED] = "focus-changed",
    [SIGNAL_PREVIEW_CHANGED] = "preview-changed",
    [SIGNAL_AUTOSAVE_FAILED] = "autosave-failed",
    [SIGNAL_LOCK_CHANGED] = "lock-changed",
    [SIGNAL_EDIT_REFUSED] = "edit-refused",
    [SIGNAL_CASE_RENEWED] = "case-renewed",
};

void session_emit(SoffitSession *session, SessionSignal which)
{
  g_signal_emit_by_name(session, signal_name[which]);
}

/* --- the answer --- */

static void answer_set(Assessment **place, Assessment *result)
{
  Assessment *old = *place;
  *place = result ? assessment_ref(result) : NULL;
  if (old)
    assessment_unref(old);
}

/* The answer is of the case as it stands: its peaks belong to this state. */
static void peaks_note(SoffitSession *session, const Assessment *result)
{
  StepPeaks *peaks = &session->peaks;
  peaks->n = result ? result->n_connector : 0;
  for (size_t i = 0; i < peaks->n; i++)
    peaks->mpa[i] =
        result->connector[i].field ? result->connector[i].trial_peak_mpa : banded(NAN, NAN, NAN);
}

static void answer_came(Assessment *result, Fault fault, bool current, void *data)
{
  SoffitSession *session = data;
  session->fault = fault;
  if (result) {
    bool first = session->latest == NULL;
    answer_set(&session->latest, result);
    if (result->grade != ASSESS_LIVE)
      answer_set(&session->rest, result);
    if (first && !session->focus_chosen)
      session_set_focus(session, result->weakest); /* a case opens where it would break */
  }
  if (current) {
    session->following = false;
    peaks_note(session, result);
  }
  session_emit(session, SIGNAL_ASSESSMENT_CHANGED);
}

void session_request(SoffitSession *session)
{
  if (!session->open || session->c.n_unit < 2)
    return;
  bool told = session->following;
  session->following = true;
  assess_job_request(session->job, &session->c, session->focus);
  if (!told)
    session_emit(session, SIGNAL_ASSESSMENT_CHANGED);
}

void session_forget_answer(SoffitSession *session)
{
  assess_job_forget(session->job);
  answer_set(&session->latest, NULL);
  answer_set(&session->rest, NULL);
  session->following = false;
  session->fault = FAULT_NONE;
  session->peaks.n = 0;
  session_preview(session, NULL);
  session_emit(session, SIGNAL_ASSESSMENT_CHANGED);
}

const Assessment *session_assessment(SoffitSession *session)
{
  return session->latest;
}

const Assessment *session_rest_assessment(SoffitSession *session)
{
  return session->rest;
}

bool session_at_rest(SoffitSession *session)
{
  return session->rest != NULL && session->rest == session->latest && !session->following;
}

bool session_following(SoffitSession *session)
{
  return session->following;
}

Fault session_assess_fault(SoffitSession *session)
{
  return session->fault;
}

/* --- where the eye is --- */

size_t session_focus(SoffitSession *session)
{
  return session->focus;
}

void session_focus_clamp(SoffitSession *session)
{
  size_t n = session->c.n_unit > 1 ? session->c.n_unit - 1 : 1;
  if (session->focus >= n)
    session->focus = n - 1;
}

void session_set_waterfall(SoffitSession *session, bool wanted)
{
  assess_job_waterfall(session->job, wanted);
  if (wanted)
    session_request(session);
}

void session_set_focus(SoffitSession *session, size_t connector)
{
  if (!session->open || connector + 1 >= session->c.n_unit || connector == session->focus)
    return;
  session->focus = connector;
  session->focus_chosen = true;
  session_preview(session, NULL);
  session_emit(session, SIGNAL_FOCUS_CHANGED);
  session_request(session); /* advice is full for the current connector only */
}

static void advice_free(Advice *advice)
{
  if (advice == NULL)
    return;
  outline_clear(&advice->ghost);
  g_free(advice);
}

void session_preview(SoffitSession *session, const Advice *advice)
{
  if (advice == NULL && session->preview == NULL)
    return;
  session_best_left(session);
  Advice *copy = NULL;
  if (advice) {
    copy = g_new(Advice, 1);
    *copy = *advice;
    outline_init(&copy->ghost);
    if (advice->ghost.n > 0 && outline_copy(&copy->ghost, &advice->ghost) != FAULT_NONE)
      g_clear_pointer(&copy, advice_free);
  }
  advice_free(session->preview);
  session->preview = copy;
  session_emit(session, SIGNAL_PREVIEW_CHANGED);
}

const Advice *session_previewed(SoffitSession *session)
{
  return session->preview;
}

/* --- the object --- */

static void autosaved(const char *message, void *data)
{
  SoffitSession *session = data;
  bool failed = message != NULL;
  bool told = session->autosave_failed;
  session->autosave_failed = failed;
  if (failed && !told) {
    g_warning("recovery file: %s", message);
    session_emit(session, SIGNAL_AUTOSAVE_FAILED);
  }
}

static void session_finalize(GObject *object)
{
  SoffitSession *session = SOFFIT_SESSION(object);
  g_clear_handle_id(&session->autosave_timer, g_source_remove);
  session_hold_set(session, NULL);
  session_best_clear(session);
  assess_job_free(session->job);
  recovery_free(session->recovery);
  answer_set(&session->latest, NULL);
  answer_set(&session->rest, NULL);
  advice_free(session->preview);
  history_free(session->history);
  case_heap_free(session->before);
  case_heap_free(session->saved);
  case_clear(&session->c);
  g_free(session->path);
  g_free(session->photo_store);
  G_OBJECT_CLASS(session_parent_class)->finalize(object);
}

static void session_class_init(SoffitSessionClass *class)
{
  G_OBJECT_CLASS(class)->finalize = session_finalize;
  for (int i = 0; i < SIGNAL_N; i++)
    g_signal_new(signal_name[i], SOFFIT_TYPE_SESSION, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                 G_TYPE_NONE, 0);
}

static void session_init(SoffitSession *session)
{
  case_init(&session->c);
  session->history = history_new();
}

SoffitSession *session_new(const char *state_dir, AssessRun run)
{
  SoffitSession *session = g_object_new(SOFFIT_TYPE_SESSION, NULL);
  g_autofree char *dir = state_dir ? g_strdup(state_dir) : recovery_default_dir();
  if (*dir) {
    session->recovery = recovery_new(dir, autosaved, session);
    session->photo_store = g_build_filename(dir, "photos", NULL);
  }
  session->job = assess_job_new(run, answer_came, session);
  return session;
}
