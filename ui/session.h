/* session.h - what all views of the window share: the open case, its edits, the answer, the current
 * neck. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N.  Main thread only.  Invariant: every outline of an open case is present (case_complete),
 * and the case is changed between session_edit_begin and session_edit_end only.
 *
 * Signals (no arguments but the session):
 *   "case-opened"        another case, or none, took the place: views start afresh (case-changed
 * follows) "case-changed"       the case changed: every update of an edit, undo, redo
 *   "state-changed"      path, modified flag or the names of undo and redo changed
 *   "assessment-changed" session_assessment() or session_following() changed
 *   "focus-changed"      the current connector changed
 *   "preview-changed"    the previewed advice changed
 *   "autosave-failed"    once a series of failures: the recovery file cannot be written
 *   "lock-changed"       who has the case, or session_file_differs() changed
 *   "edit-refused"       an edit was begun by somebody who only reads
 *   "case-renewed"       what others saved was taken in: their remarks, or the whole case */
#pragma once
#include "assess.h"
#include "lab/case_lock.h"
#include "lab/case_merge.h"
#include "ui/assess_job.h"
#include <glib-object.h>

#define SOFFIT_TYPE_SESSION (session_get_type())
G_DECLARE_FINAL_TYPE(SoffitSession, session, SOFFIT, SESSION, GObject)

/* A session without a case.
 *   state_dir  in  where recovery files live; NULL = the user's state folder, "" = no recovery
 * files run        in  NULL = assess() */
SoffitSession *session_new(const char *state_dir, AssessRun run);

/* ---- the case ---- */
const Case *
session_case(SoffitSession *session); /* borrowed, never NULL; empty without an open case */
bool session_has_case(SoffitSession *session);
const char *session_path(SoffitSession *session); /* of the file; NULL when never saved */
/* Where photos are kept until their case is saved; NULL without recovery files. */
const char *session_photo_store(SoffitSession *session);
/* As it is in the file, as opened or saved; borrowed, NULL = there is none, or it is not known. */
const Case *session_saved(SoffitSession *session);
bool session_modified(SoffitSession *session); /* differs from the file    */

/* Each replaces the open case and its undo steps; the question about unsaved changes was asked
 * before. On failure nothing changes. */
bool session_open(SoffitSession *session, const char *path, GError **error);
bool session_start(SoffitSession *session, const Case *c,
                   GError **error); /* a new case, not on disk yet */
/* A demo case built into the program ("demo/QB-02.xml"); without a path, so it is saved elsewhere.
 */
bool session_open_demo(SoffitSession *session, const char *name, GError **error);
void session_close(SoffitSession *session); /* no case; the recovery file goes                  */
bool session_save(SoffitSession *session, const char *path,
                  GError **error); /* NULL: session_path()        */

/* ---- working at the same time ---- */
/* The file is locked while its case is open (lab/case_lock.h).  Who does not have the lock reads:
 * edits are refused (session_edit_begin returns NULL), remarks go straight into the file. */
bool session_read_only(SoffitSession *session);
LockState session_lock_state(SoffitSession *session); /* LOCK_MINE without a file */
/* Who has it, or had it last; borrowed until lock-changed, NULL = nobody was seen. */
const LockHolder *session_lock_holder(SoffitSession *session);
bool session_lock_lost(SoffitSession *session); /* somebody took it from this window */
/* The file was changed by others in a way that this window's unsaved work must be merged with. */
bool session_file_differs(SoffitSession *session);
/* Where unsaved work was kept beside the file when it could not be saved over it; borrowed, NULL.
 */
const char *session_kept_beside(SoffitSession *session);
/* Begins to edit: the lock is taken when it is free, or over from whoever has it; the case as it is
 * in the file by now is shown, unless there is unsaved work.  False: it cannot be had. */
bool session_take_lock(SoffitSession *session, bool over);
/* Why session_edit_begin() returned NULL. */
Fault session_edit_fault(SoffitSession *session);
/* Pins words to a place (connector SIZE_MAX, at NaN: to the bridge): an edit, or for a reader
 * straight into the file, whoever has it. */
bool session_remark(SoffitSession *session, size_t connector, Point at, const char *text,
                    GError **error);

/* This window's work and what others saved meanwhile. */
typedef struct {
  Case theirs;     /* owned; as the file is now */
  char sha256[65]; /* its digest */
  GArray *rows;    /* owned; MergeRow: the caller sets the choices */
} SessionMerge;
SessionMerge *session_merge_new(SoffitSession *session, GError **error);
void session_merge_free(SessionMerge *merge); /* accepts NULL */
/* One undo step, saved, with both digests in the history; the lock is taken over for it.  Mine as
 * it was is kept beside, theirs too where mine was chosen over it.  False, and nothing changed:
 * choices that do not go together, or the file changed once more (CASE_ERROR_CHANGED). */
bool session_merge_end(SoffitSession *session, const SessionMerge *merge, GError **error);

/* To the supervisor: saved, and an entry that says so.  The case must have a file. */
bool session_send(SoffitSession *session, GError **error);

/* ---- edits ---- */
/* A named edit, one undo step: begin, change *case, update (as often as the pen moves), end.
 *   name   in  static msgid with a verb: N_("Move knot"); shown as "Undo: Move knot"
 * Returns the case to write into until end or cancel.  An edit still open is ended first, so a lost
 * release event does no harm.  NULL without memory (nothing begun). */
Case *session_edit_begin(SoffitSession *session, const char *name);
/* The same, but continues the last undo step when that one has the same name and is less than
 * SESSION_SERIES_MS old: for arrow keys and spin buttons. */
#define SESSION_SERIES_MS 1500
Case *session_edit_begin_series(SoffitSession *session, const char *name);
/* The case was written to: proposed outlines are made again, views told, a live answer requested.
 */
void session_edit_update(SoffitSession *session);
/* Ends with an update; returns false, and leaves no undo step, when nothing changed. */
bool session_edit_end(SoffitSession *session);
void session_edit_cancel(SoffitSession *session); /* back to the case as it was at begin */
bool session_editing(SoffitSession *session);

/* One outline, inside an edit: copied, marked as drawn; update is still the caller's. */
MUST_CHECK Fault session_set_outline(SoffitSession *session, size_t connector, Side side,
                                     const Outline *outline);
/* How well the pen that drew its gum side tells the roof radius, inside an edit, behind
 * session_set_outline(), which keeps what was not known before: percent as casefile/drawn.h, 0 =
 * exact. */
void session_set_roof_doubt(SoffitSession *session, size_t connector, double percent);
/* The trial load, a series of its own: x mm along the span or NaN = worst place; force 5 .. 5000 N.
 */
#define SESSION_TRIAL_STEP N_("Move trial load") /* its step in the list */
void session_set_trial(SoffitSession *session, double x, double force_n);

/* Unlimited; names are msgids, NULL when there is nothing to undo or redo. Both end an open edit
 * first. */
const char *session_undo_name(SoffitSession *session);
const char *session_redo_name(SoffitSession *session);
bool session_undo(SoffitSession *session);
bool session_redo(SoffitSession *session);

/* The same as a list: states of the case from the first, 0, to the last that redo leads to. */
typedef struct {
  const char *name; /* msgid of the step that led here; NULL: the case as it was opened           */
  Banded peak_mpa;  /* at the hot spot of one connector, trial load; NaN when it was never solved */
} SessionState;
size_t session_states(SoffitSession *session);
size_t session_state_at(SoffitSession *session); /* the one at hand */
SessionState session_state(SoffitSession *session, size_t i, size_t connector);
/* An outline as it was before it was last changed: by the edit that is open, else by a step that
 * undo leads back over.  *step: msgid of that step.  NULL: it is as it was opened, or units came or
 * went since.  Borrowed until case-changed. */
const Outline *session_outline_before(SoffitSession *session, size_t connector, Side side,
                                      const char **step);
/* Undoes or does again until state i is at hand; false when there is none or it is at hand. */
bool session_go_to(SoffitSession *session, size_t i);

/* ---- the answer ---- */
/* The latest answer that came, live or rest; NULL before the first.  Borrowed until
 * assessment-changed. */
const Assessment *session_assessment(SoffitSession *session);
/* The latest rest answer: advice and list; NULL before the first. */
const Assessment *session_rest_assessment(SoffitSession *session);
/* The rest answer is of the case as it stands: its advice may be tried. */
bool session_at_rest(SoffitSession *session);
bool session_following(SoffitSession *session);     /* the case is newer than the answer     */
Fault session_assess_fault(SoffitSession *session); /* why the last request had no answer */

/* Rest answers shall tell the way from the best connector to the drawn one (assess_waterfall.h):
 * four more shapes are solved, so only while somebody looks at it.  Asks anew when wanted. */
void session_set_waterfall(SoffitSession *session, bool wanted);

/* ---- where the eye is ---- */
size_t session_focus(SoffitSession *session); /* current connector, < n_unit - 1; 0 without case  */
void session_set_focus(SoffitSession *session, size_t connector);

/* The advice that is tried on the drawing: its ghost is shown, nothing is changed until it is kept.
 */
const Advice *
session_previewed(SoffitSession *session); /* NULL = none; borrowed until preview-changed      */
void session_preview(SoffitSession *session, const Advice *advice); /* copied; NULL = leave */
bool session_preview_keep(SoffitSession *session); /* makes it an edit                  */

/* ---- the best outline ---- */
/* Looks for it in a thread: the preview is its ghost, which improves as the search goes and says
 * how much lower the pull is.  Kept as every preview; leaving the preview ends the search, and so
 * does an edit while it runs. */
bool session_best_begin(SoffitSession *session, bool take_height);
bool session_best_shown(SoffitSession *session); /* the preview is the best outline */
bool session_best_ready(SoffitSession *session); /* ... and found: it may be taken */
/* Part of the way from the outline as it was at the begin to the best one, 0 .. 1, inside an edit.
 */
MUST_CHECK Fault session_best_set_share(SoffitSession *session, double share);
double session_best_share(SoffitSession *session);
const Outline *session_best_from(SoffitSession *session); /* borrowed */
/* A part is drawn: session_preview_keep leaves it at that; session_best_take takes the whole. */
bool session_best_in_part(SoffitSession *session);
bool session_best_take(SoffitSession *session);

/* ---- recovery ---- */
/* Every change is in the recovery file within 3 s, written beside and renamed by a thread. */
#define SESSION_AUTOSAVE_MS 1000
bool session_recover(SoffitSession *session, const char *recovery, GError **error);
