/* session_private.h - the inside of a session, shared by session.c (answer, focus), session_edit.c
 * and session_file.c only. SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/best_job.h"
#include "ui/case_hold.h"
#include "ui/history.h"
#include "ui/recovery.h"
#include "ui/session.h"
#include "base/tolerance.h"

typedef enum {
  SIGNAL_CASE_OPENED,
  SIGNAL_CASE_CHANGED,
  SIGNAL_STATE_CHANGED,
  SIGNAL_ASSESSMENT_CHANGED,
  SIGNAL_FOCUS_CHANGED,
  SIGNAL_PREVIEW_CHANGED,
  SIGNAL_AUTOSAVE_FAILED,
  SIGNAL_LOCK_CHANGED,
  SIGNAL_EDIT_REFUSED,
  SIGNAL_CASE_RENEWED,
  SIGNAL_N
} SessionSignal;

/* The best outline that is looked for or shown. */
typedef struct {
  BestJob *job; /* owned; NULL: never asked for */
  size_t connector;
  Outline from; /* owned; what it is held against, and parts of the way begin at */
  double share; /* of the way that was taken */
  bool telling; /* the preview that is set now is this one */
  bool shown, found;
} SessionBest;

struct _SoffitSession {
  GObject parent;
  Case c;
  bool open;
  char *path;  /* owned; NULL: never saved                                     */
  Case *saved; /* owned; as it is in the file; NULL: nowhere                   */
  bool modified;
  History *history;
  const char *edit_name;  /* of the open edit; NULL: none                                 */
  Case *before;           /* owned; the case at the begin of the open edit                */
  StepPeaks peaks;        /* of the case at hand, once answered                           */
  StepPeaks before_peaks; /* of `before`                                                  */
  gint64 edit_ended_us;   /* monotonic; of the last undo step                             */
  bool series;            /* the open edit continues the last undo step                   */
  AssessJob *job;
  Assessment *latest, *rest; /* owned refs                                               */
  bool following;
  Fault fault;
  size_t focus;
  bool focus_chosen; /* by somebody, not by opening                                  */
  Advice *preview;   /* owned                                                        */
  SessionBest best;
  Recovery *recovery; /* NULL: no recovery files                                      */
  char *photo_store;  /* owned; NULL with it                                          */
  guint autosave_timer;
  bool autosave_failed;
  CaseHold *hold;   /* owned; NULL: no file                                         */
  char seen[65];    /* digest of the file as opened or saved; "" = there was none   */
  bool differs;     /* the file is another one by now                               */
  guint look_timer; /* look at the file once the edit at hand is done               */
  char *kept;       /* owned: where mine was kept beside; NULL                       */
  char kept_sha[65], kept_of[65]; /* digests of that file, and of the case it was made of     */
};

void session_emit(SoffitSession *session, SessionSignal which);
void session_request(SoffitSession *session); /* a new answer for the case at hand            */
void session_forget_answer(SoffitSession *session); /* another case: no answer yet */
void session_focus_clamp(SoffitSession *session);
void session_best_left(SoffitSession *session); /* another preview took the place */
void session_best_halt(SoffitSession *session); /* a search that runs is left */
void session_best_clear(SoffitSession *session);
/* Appends to the history of the case what became different from its file, by the person of this
 * desktop; returns how many entries there were, to be taken back when the case is not saved. */
guint session_record(SoffitSession *session);
void session_record_take_back(SoffitSession *session, guint kept);
/* --- working at the same time (session_lock.c, session_merge.c) --- */
/* The lock of this path: that of the open case when it is the same file, else a new one. */
CaseHold *session_hold_for(SoffitSession *session, const char *path);
void session_hold_set(SoffitSession *session, CaseHold *hold); /* taken over; the old one let go */
/* After recovery: the file as it is now is what the recovered case began with, or it is not. */
void session_seen_again(SoffitSession *session, const char *seen);
/* What others only added to the file comes into the case and its steps of undo. */
bool session_take_additions(SoffitSession *session);
/* Over the file that was seen, by its lock's holder alone; else mine is kept beside and
 * CASE_ERROR_CHANGED says where. */
bool session_write(SoffitSession *session, const char *to, GError **error);
void session_mark(SoffitSession *session); /* the case was written to: autosave, modified  */
