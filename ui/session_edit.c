/* session_edit.c - edits, undo and redo of a session.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/session_private.h"
#include "ui/keep_advice.h"
#include "casefile/drawn.h"

#define TRIAL_LEAST_N 5.0
#define TRIAL_MOST_N 5000.0

/* The case was written to: autosave, modified flag, answer, views. */
static void session_written(SoffitSession *session)
{
  session->peaks.n = 0; /* until it is answered */
  if (case_complete(&session->c) != FAULT_NONE)
    g_debug("outlines cannot be proposed yet"); /* the answer says what is wrong */
  session_focus_clamp(session);
  session_mark(session);
  session_emit(session, SIGNAL_CASE_CHANGED);
  session_request(session);
}

bool session_editing(SoffitSession *session)
{
  return session->edit_name != NULL;
}

/* Whoever only reads changes nothing. */
static bool edit_refused(SoffitSession *session)
{
  if (!session_read_only(session))
    return false;
  session_emit(session, SIGNAL_EDIT_REFUSED);
  return true;
}

Fault session_edit_fault(SoffitSession *session)
{
  return session_read_only(session) ? FAULT_READING : FAULT_MEMORY;
}

static Case *edit_open(SoffitSession *session, const char *name, bool series)
{
  if (!session->open)
    return NULL;
  if (session->edit_name)
    session_edit_end(session);
  session_best_halt(session);
  session->before = case_heap_copy(&session->c);
  if (session->before == NULL)
    return NULL;
  session->before_peaks = session->peaks;
  session->edit_name = name;
  session->series = series;
  return &session->c;
}

Case *session_edit_begin(SoffitSession *session, const char *name)
{
  return edit_refused(session) ? NULL : edit_open(session, name, false);
}

static Case *edit_open_series(SoffitSession *session, const char *name)
{
  bool fresh = g_get_monotonic_time() - session->edit_ended_us < SESSION_SERIES_MS * 1000;
  bool same = g_strcmp0(history_undo_name(session->history), name) == 0;
  bool redo = history_redo_name(session->history) != NULL;
  return edit_open(session, name, fresh && same && !redo);
}

Case *session_edit_begin_series(SoffitSession *session, const char *name)
{
  return edit_refused(session) ? NULL : edit_open_series(session, name);
}

void session_edit_update(SoffitSession *session)
{
  g_return_if_fail(session->edit_name != NULL);
  session_written(session);
}

bool session_edit_end(SoffitSession *session)
{
  if (session->edit_name == NULL)
    return false;
  const char *name = session->edit_name;
  session->edit_name = NULL;
  Case *before = g_steal_pointer(&session->before);
  session_written(session);
  if (case_equal(before, &session->c)) {
    case_heap_free(before);
    session->peaks = session->before_peaks;
    return false;
  }
  if (session->series)
    case_heap_free(before); /* the step at hand leads further back */
  else
    history_push(session->history, name, before, &session->before_peaks);
  session->edit_ended_us = g_get_monotonic_time();
  session_emit(session, SIGNAL_STATE_CHANGED);
  return true;
}

void session_edit_cancel(SoffitSession *session)
{
  if (session->edit_name == NULL)
    return;
  session->edit_name = NULL;
  case_clear(&session->c);
  session->c = *session->before;
  g_free(session->before); /* the contents moved */
  session->before = NULL;
  session_written(session);
  session->peaks = session->before_peaks;
}

Fault session_set_outline(SoffitSession *session, size_t connector, Side side,
                          const Outline *outline)
{
  g_return_val_if_fail(session->edit_name != NULL, FAULT_RANGE);
  if (connector + 1 >= session->c.n_unit || side >= SIDE_N)
    return FAULT_RANGE;
  Connector *joint = &session->c.connector[connector];
  if (side == SIDE_GINGIVAL)
    return connector_gum_side_move(joint, outline);
  Fault fault = outline_copy(&joint->side[side], outline);
  if (fault == FAULT_NONE)
    joint->drawn[side] = true;
  return fault;
}

void session_set_roof_doubt(SoffitSession *session, size_t connector, double percent)
{
  g_return_if_fail(session->edit_name != NULL);
  if (connector + 1 < session->c.n_unit)
    connector_roof_doubt_set(&session->c.connector[connector], percent);
}

void session_set_trial(SoffitSession *session, double x, double force_n)
{
  Case *c = edit_open_series(session, SESSION_TRIAL_STEP); /* a reader looks with it as well */
  if (c == NULL)
    return;
  c->trial.x = x;
  if (isfinite(force_n))
    c->trial.force_n = CLAMP(force_n, TRIAL_LEAST_N, TRIAL_MOST_N);
  session_edit_end(session);
}

/* --- undo --- */

const char *session_undo_name(SoffitSession *session)
{
  return history_undo_name(session->history);
}

const char *session_redo_name(SoffitSession *session)
{
  return history_redo_name(session->history);
}

static bool connector_same(const Connector *a, const Connector *b)
{
  for (int side = 0; side < SIDE_N; side++)
    if (!outline_equal(&a->side[side], &b->side[side], TOL_POINT_MM))
      return false;
  if (!outline_equal(&a->section, &b->section, TOL_POINT_MM))
    return false;
  return memcmp(a->finish, b->finish, sizeof a->finish) == 0;
}

/* The eye follows what undo changed, when that is one connector. */
static size_t connector_edited(const Case *before, const Case *after, size_t focus)
{
  size_t changed = focus, n_changed = 0;
  if (before->n_unit != after->n_unit)
    return focus;
  for (size_t i = 0; i + 1 < after->n_unit; i++) {
    if (connector_same(&before->connector[i], &after->connector[i]))
      continue;
    changed = i;
    n_changed++;
  }
  return n_changed == 1 ? changed : focus;
}

bool session_go_to(SoffitSession *session, size_t i)
{
  session_edit_end(session);
  History *history = session->history;
  size_t at = history_at(history);
  if (i == at || i >= history_states(history) || edit_refused(session))
    return false;
  Case *before = case_heap_copy(&session->c);
  bool stepped = before != NULL;
  StepPeaks peaks = session->peaks;
  for (; stepped && at > i; at--)
    stepped = history_undo(history, &session->c, &peaks);
  for (; stepped && at < i; at++)
    stepped = history_redo(history, &session->c, &peaks);
  if (stepped) {
    session->edit_ended_us = 0; /* no series across an undo */
    session_preview(session, NULL);
    size_t focus = connector_edited(before, &session->c, session->focus);
    session_written(session);
    session->peaks = peaks;
    session_set_focus(session, focus);
    session_emit(session, SIGNAL_STATE_CHANGED);
  }
  case_heap_free(before);
  return stepped;
}

bool session_undo(SoffitSession *session)
{
  session_edit_end(session);
  size_t at = session_state_at(session);
  return at > 0 && session_go_to(session, at - 1);
}

bool session_redo(SoffitSession *session)
{
  session_edit_end(session);
  return session_go_to(session, session_state_at(session) + 1);
}

size_t session_states(SoffitSession *session)
{
  return history_states(session->history);
}

size_t session_state_at(SoffitSession *session)
{
  return history_at(session->history);
}

SessionState session_state(SoffitSession *session, size_t i, size_t connector)
{
  const StepPeaks *known = history_peaks(session->history, i);
  const StepPeaks *peaks = known ? known : &session->peaks;
  SessionState state = {history_name(session->history, i), banded(NAN, NAN, NAN)};
  if (connector < peaks->n)
    state.peak_mpa = peaks->mpa[connector];
  return state;
}

const Outline *session_outline_before(SoffitSession *session, size_t connector, Side side,
                                      const char **step)
{
  const Case *now = &session->c;
  size_t at = history_at(session->history);
  if (connector + 1 >= now->n_unit || side >= SIDE_N)
    return NULL;
  for (size_t back = session->edit_name ? 0 : 1; back <= at; back++) {
    const Case *then = back ? history_case(session->history, at - back) : session->before;
    if (then->n_unit != now->n_unit)
      return NULL;
    const Outline *before = &then->connector[connector].side[side];
    if (outline_equal(before, &now->connector[connector].side[side], TOL_POINT_MM))
      continue;
    *step = back ? history_name(session->history, at - back + 1) : session->edit_name;
    return before;
  }
  return NULL;
}

bool session_preview_keep(SoffitSession *session)
{
  const Advice *advice = session->preview;
  const Assessment *rest = session->rest;
  if (session_best_shown(session) && !session_best_ready(session))
    return false;                      /* still looking, or nothing found */
  if (session_best_in_part(session)) { /* drawn already */
    session_preview(session, NULL);
    return true;
  }
  if (advice == NULL || rest == NULL || advice->connector >= rest->n_connector)
    return false;
  Case *c = session_edit_begin(session, keep_advice_name(advice->kind));
  if (c == NULL)
    return false;
  if (keep_advice(c, advice) != FAULT_NONE) {
    session_edit_cancel(session);
    return false;
  }
  bool changed = session_edit_end(session);
  session_preview(session, NULL);
  return changed;
}
