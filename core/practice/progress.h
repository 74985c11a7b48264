/* progress.h - what a trainee has done at the school bench, on this machine.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One file a trainee, no password, no name needed: it can be copied elsewhere and deleted.  mm,
 * percent, seconds since 1970 in UTC. */
#pragma once
#include "practice/score.h"

typedef struct {
  char *exercise; /* its id                                                     */
  gint64 when;
  gboolean passed;
  gint met, of;
  double share;   /* 0 .. 1                                                      */
  gint hints;     /* how many were opened                                        */
  gboolean shown; /* the worked answer was among them: no evidence of a skill    */
  gint strokes;   /* -1: not counted                                             */
  double place_mm, gain_guess, gain_real; /* predictions; NaN: none                */
  unsigned right, wrong;                  /* sets of Skill                         */
} Attempt;

typedef struct {
  char *trainee;      /* as typed; "" = nobody in particular */
  GPtrArray *attempt; /* Attempt, oldest first               */
} Progress;

Progress *progress_new(const char *trainee);
void progress_free(Progress *progress); /* accepts NULL */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Progress, progress_free)

/* Room for the predictions is the caller's: NaN where there was none. */
Attempt *progress_add(Progress *progress, const Exercise *exercise, const Score *score,
                      gint64 when);
bool progress_passed(const Progress *progress, const char *exercise);
/* Of the exercises of this set. */
guint progress_count_passed(const Progress *progress, const GPtrArray *set);
/* Mean miss of the crosses, mm; mean of guess less gain, percent points (< 0: expected too little).
 * NaN without any. */
void progress_calibration(const Progress *progress, double *place_mm, double *gain_points);

/* Written beside and renamed; the file before stays as PATH.last.  Errors in domain CASE_ERROR. */
bool progress_save(const Progress *progress, const char *path, GError **error);
/* A damaged file is made good from PATH.last, and *message (may be NULL) says so, owned by the
 * caller; a file that is not there is an empty progress.  NULL and the error when neither can be
 * read. */
Progress *progress_load(const char *path, char **message, GError **error);
/* With its copy. */
bool progress_remove(const char *path, GError **error);
