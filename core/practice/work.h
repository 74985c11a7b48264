/* work.h - what a trainee hands in for an exercise: a drawing, answers, predictions.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, percent.  Practice work is kept apart from patients' work and never releases a bridge. */
#pragma once
#include "assess.h"
#include "assess_best.h"
#include "casefile/exercise.h"

typedef struct {
  const Exercise *exercise;
  const Assessment *start; /* of exercise->start                                       */
  const Assessment *mine;  /* of the drawing, the same bridge; reasons need ASSESS_REST */
  const Assessment *best;  /* with the best outline at exercise->focus; NULL: not known */
  /* By question: "35-36" (connector), ids of choices with a space between, "4.71" (number),
   * "46-47 0.10 2.41" (place).  NULL or "": not answered. */
  const char *answer[QUESTIONS_MOST];
  int strokes; /* < 0: not counted                                                      */
} Work;

/* Load factor at the exercise's own load decides what is weakest; SIZE_MAX without an answer. */
size_t work_weakest(const Assessment *assessment);

/* The case in which the best outline is looked for: `mine` with the focus's gum side as at the
 * start, so its room is the start's, and with a cutter that makes no roof sharper than the criteria
 * ask. `room` is inited; as it was on a fault. */
MUST_CHECK Fault work_room(const Exercise *exercise, const Case *mine, Case *room);
/* The drawing of `mine` with the best outline that its room, as the start had it, allows at the
 * focus; *best is a copy of mine where there is none better.  Faults of assess_best(). */
MUST_CHECK Fault work_best(Assessor *assessor, const Exercise *exercise, const Case *mine,
                           const BestSettings *settings, Case *best);
