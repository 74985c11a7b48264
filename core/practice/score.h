/* score.h - a handed-in exercise, scored with reasons.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Never a bare number: every row has its figure and what it lacks, and partial credit.  mm, MPa,
 * percent. */
#pragma once
#include "practice/work.h"

typedef struct {
  bool is_question;
  size_t index;     /* of the criterion or the question in the exercise        */
  size_t connector; /* the one that keeps to it worst; SIZE_MAX: none          */
  Skill skill;
  bool met;
  double share; /* 0 .. 1 of the way                                       */
  Phrase asked; /* "Roof radius at least 0.80"                             */
  Phrase is;    /* "0.60"; .text NULL: nothing to say                      */
  Phrase best;  /* the same of the best outline; .text NULL: not known     */
  bool best_met;
  Phrase reason; /* what it lacks and what to do; .text NULL: met           */
} ScoreRow;

#define SCORE_ROWS_MOST (CRITERIA_MOST + QUESTIONS_MOST)
#define SCORE_REMARKS_MOST 8
#define SCORE_GAINS_MOST 5

typedef struct {       /* what would bring the drawing on, each alone               */
  double fall_percent; /* of the peak, > 0                                    */
  Phrase act, why;
} ScoreGain;

typedef struct {
  ScoreRow row[SCORE_ROWS_MOST]; /* questions first, as they were asked      */
  size_t n, met;
  double share; /* mean of the rows                                          */
  bool passed;
  unsigned right, wrong;                /* sets of Skill: shown, not shown                  */
  Phrase head;                          /* "4 of 5: one step to go"                         */
  Banded start_mpa, mine_mpa, best_mpa; /* pull at the focus, exercise's load */
  Phrase remark[SCORE_REMARKS_MOST];    /* peak, brush, cutter, sides, strokes */
  size_t n_remark;
  ScoreGain gain[SCORE_GAINS_MOST];
  size_t n_gain;
} Score;

/* Free play: the gap of two pulls in words; within 5 % no hand draws better. */
Phrase duel_phrase(Banded mine, Banded best);
/* Phrases borrow their words from the exercise. */
void score_work(const Work *work, Score *score);
