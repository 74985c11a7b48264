/* practice_desk.h - what the views of the school bench share: the exercise at hand, the trainee's
 * drawing, predictions, answers, score, progress. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, percent.  Main thread only.  The drawing lives in a session of its own: it is never saved
 * as a case, has no recovery file and releases no bridge.
 *
 * Signals (no arguments but the desk):
 *   "exercise-changed"  another exercise took the place
 *   "step-changed"      practice_desk_step()
 *   "work-changed"      prediction, answers, hints or the live score changed
 *   "scored"            a work that was handed in has its score (or practice_desk_fault())
 *   "progress-changed"  practice_desk_progress() is another, or grew; an own exercise went or
 *                       came back */
#pragma once
#include "practice/exercise_set.h"
#include "practice/prediction.h"
#include "practice/question.h"
#include "practice/score.h"
#include "practice/skill.h"
#include "ui/session.h"

typedef enum {
  PRACTICE_PREDICT, /* before any shading: where, how much, questions */
  PRACTICE_SEE,     /* the start with its answer                      */
  PRACTICE_REDRAW,  /* the pen's turn; only where something is drawn  */
  PRACTICE_COMPARE, /* handed in: mine beside the best, the score     */
  PRACTICE_STEPS
} PracticeStep;
const char *practice_step_name(PracticeStep step); /* English msgid, "Predict" */

#define SOFFIT_TYPE_PRACTICE_DESK (practice_desk_get_type())
G_DECLARE_FINAL_TYPE(SoffitPracticeDesk, practice_desk, SOFFIT, PRACTICE_DESK, GObject)

/*   data_dir  in  where progress and own exercises live; NULL = the user's data folder */
SoffitPracticeDesk *practice_desk_new(const char *data_dir);

/* ---- exercises ---- */
const GPtrArray *practice_desk_set(SoffitPracticeDesk *desk);      /* of Exercise, borrowed */
const GPtrArray *practice_desk_left_out(SoffitPracticeDesk *desk); /* of char *: files not read */
const Exercise *practice_desk_exercise(SoffitPracticeDesk *desk);  /* never NULL once opened */
/* Where the person's own exercises are kept; to be freed. */
char *practice_desk_folder(SoffitPracticeDesk *desk);
/* Reads the folder anew and begins this exercise, or the one at hand where there is none such. */
void practice_desk_reload(SoffitPracticeDesk *desk, const char *id);
/* Takes the file of an own exercise away; it can be taken back until another one goes. False: a
 * shipped one, none of that id, or *error. Another exercise at hand goes on as it is. */
bool practice_desk_delete(SoffitPracticeDesk *desk, const char *id, GError **error);
const char *practice_desk_deleted(SoffitPracticeDesk *desk); /* "own-1  Title"; NULL: none */
/* Writes it again as it was; never over a file that lies there by now. */
bool practice_desk_undelete(SoffitPracticeDesk *desk, GError **error);
/* Begins it anew, too.  False when there is none of that id. */
bool practice_desk_open(SoffitPracticeDesk *desk, const char *id);
void practice_desk_open_next(
    SoffitPracticeDesk *desk); /* what the progress asks for, else the next */

/* ---- the way ---- */
PracticeStep practice_desk_step(SoffitPracticeDesk *desk);
bool practice_desk_has_step(SoffitPracticeDesk *desk, PracticeStep step); /* of this exercise */
/* Whether one may go there now. */
bool practice_desk_may_go(SoffitPracticeDesk *desk, PracticeStep step);
void practice_desk_go(SoffitPracticeDesk *desk, PracticeStep step); /* nothing where one may not */

/* ---- drawing and answers of the solver ---- */
SoffitSession *practice_desk_session(SoffitPracticeDesk *desk);  /* borrowed: the drawing */
const Assessment *practice_desk_start(SoffitPracticeDesk *desk); /* NULL: not yet */
const Assessment *practice_desk_mine(SoffitPracticeDesk *desk);  /* as handed in; NULL: not yet */
const Assessment *practice_desk_best(SoffitPracticeDesk *desk);  /* NULL: none, not yet */
bool practice_desk_swapped(SoffitPracticeDesk *desk);            /* best at the left */
void practice_desk_swap(SoffitPracticeDesk *desk);
bool practice_desk_busy(SoffitPracticeDesk *desk);   /* a work is being scored */
Fault practice_desk_fault(SoffitPracticeDesk *desk); /* why the last one could not be */
/* The load that shades the drawing, N; back to the exercise's with NaN. */
void practice_desk_set_load(SoffitPracticeDesk *desk, double force_n);

/* The start beside mine on one drawing, in place of mine beside the best: at PRACTICE_COMPARE. */
bool practice_desk_swiping(SoffitPracticeDesk *desk);
void practice_desk_set_swiping(SoffitPracticeDesk *desk, bool swiping);

/* The sketch of a crack over the drawing: at PRACTICE_SEE alone. */
bool practice_desk_cracking(SoffitPracticeDesk *desk);
void practice_desk_set_cracking(SoffitPracticeDesk *desk, bool cracking);

/* ---- prediction ---- */
bool practice_desk_asks_place(SoffitPracticeDesk *desk);
bool practice_desk_asks_gain(SoffitPracticeDesk *desk);
void practice_desk_set_cross(SoffitPracticeDesk *desk, size_t connector, Point at);
bool practice_desk_cross(SoffitPracticeDesk *desk, size_t *connector, Point *at);
void practice_desk_set_guess(SoffitPracticeDesk *desk, double percent);
double practice_desk_guess(SoffitPracticeDesk *desk); /* NaN: none */
void practice_desk_set_answer(SoffitPracticeDesk *desk, size_t question, const char *answer);
const char *practice_desk_answer(SoffitPracticeDesk *desk, size_t question); /* "" */
/* Everything that is asked before the shading was given; else *missing, a msgid. */
bool practice_desk_predicted(SoffitPracticeDesk *desk, const char **missing);

/* ---- hints ---- */
size_t practice_desk_hints(SoffitPracticeDesk *desk); /* opened so far */
void practice_desk_open_hint(SoffitPracticeDesk *desk);

/* ---- score ---- */
void practice_desk_hand_in(SoffitPracticeDesk *desk);
/* Of the work handed in at PRACTICE_COMPARE, else of the drawing as it stands; NULL: no answer
 * yet. */
const Score *practice_desk_score(SoffitPracticeDesk *desk);
const GArray *
practice_desk_peaks(SoffitPracticeDesk *desk);       /* double: start, then each work handed in */
double practice_desk_gain(SoffitPracticeDesk *desk); /* percent more than the start; NaN */

/* ---- free play ---- */
bool practice_desk_plays(SoffitPracticeDesk *desk); /* there is nothing to pass */
/* Pull at the hot spot under the load as it stands, MPa; NaN where it is not known (yet). */
Banded practice_desk_duel_mine(SoffitPracticeDesk *desk);
Banded practice_desk_duel_best(SoffitPracticeDesk *desk);
bool practice_desk_duel_searching(SoffitPracticeDesk *desk);

/* ---- progress ---- */
const Progress *practice_desk_progress(SoffitPracticeDesk *desk);
/* Another trainee of this machine: his file, or a new one. */
bool practice_desk_set_trainee(SoffitPracticeDesk *desk, const char *name, GError **error);
bool practice_desk_export(SoffitPracticeDesk *desk, const char *path, GError **error);
bool practice_desk_forget(SoffitPracticeDesk *desk, GError **error); /* removes the file */
const char *practice_desk_message(SoffitPracticeDesk *desk);         /* of a repaired file; NULL */
