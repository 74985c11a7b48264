/* practice_private.h - the inside of the desk, shared by practice_desk.c, practice_own.c,
 * practice_score.c and practice_progress.c. SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/practice/practice_desk.h"
#include <gio/gio.h>

typedef enum {
  PRACTICE_EXERCISE_CHANGED,
  PRACTICE_STEP_CHANGED,
  PRACTICE_WORK_CHANGED,
  PRACTICE_SCORED,
  PRACTICE_PROGRESS_CHANGED,
  PRACTICE_SIGNALS
} PracticeSignal;

typedef struct PracticeDeleted PracticeDeleted;

struct _SoffitPracticeDesk {
  GObject parent;
  GPtrArray *set, *left_out; /* owned */
  const Exercise *exercise;  /* of home */
  GPtrArray *home;           /* owned ref: the set as it was when the exercise began */
  PracticeDeleted *deleted;  /* owned; NULL: none, or taken back */
  PracticeStep step;
  SoffitSession *session; /* owned ref */
  AssessJob *start_job;   /* owned */
  Assessment *start;      /* owned ref; NULL: not yet */
  bool loading;           /* an exercise or a load is being set, nothing drawn */
  bool cracking;          /* practice_desk_cracking */
  bool swiping;           /* practice_desk_swiping, once at that step */

  bool has_cross;
  size_t cross_connector;
  Point cross;
  double guess;                 /* NaN: none */
  char *answer[QUESTIONS_MOST]; /* owned; NULL: none */
  size_t hints;

  guint generation; /* of what is at hand: a score of another is dropped */
  bool busy, scored, swapped, live_known;
  Fault fault;
  Assessment *mine, *best; /* owned refs: as handed in */
  Score live, handed;
  GArray *peaks; /* double, owned */

  Case *duel_room; /* owned: what the best of free play was looked for in; n_unit 0: none */
  GCancellable *duel_search; /* owned; NULL: none runs */
  Assessment *duel;          /* owned ref: the best outline in that room; NULL: not known */

  Progress *progress; /* owned */
  char *data_dir, *progress_path, *message;
};

void practice_emit(SoffitPracticeDesk *desk, PracticeSignal which);
void practice_forget_work(SoffitPracticeDesk *desk);
void practice_score_live(SoffitPracticeDesk *desk); /* the drawing has another answer */
/* Free play: looks for the best outline of the room as it is drawn now, unless that is known. */
void practice_duel_follow(SoffitPracticeDesk *desk);
void practice_duel_end(SoffitPracticeDesk *desk); /* stops, forgets */
gint64 practice_now(void);                        /* seconds since 1970 */
void practice_progress_open(SoffitPracticeDesk *desk);
void practice_progress_keep(SoffitPracticeDesk *desk); /* the work handed in */

/* ---- own exercises ---- */

void practice_set_read(SoffitPracticeDesk *desk); /* the folder anew; nothing is told */
/* What the progress asks for, else the first. */
void practice_open_first(SoffitPracticeDesk *desk);
void practice_deleted_free(PracticeDeleted *deleted); /* accepts NULL */
