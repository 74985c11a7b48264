/* solvable.h - whether an exercise can be done: its start falls short, and some drawing passes.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, MPa, percent.  A worked answer is tried first.  Else the best outlines of the room are tried,
 * with a wider neck where a criterion asks about width, area or section, and roofs of the same
 * family (outline/roof_family.h) from today's height down to where the brush just passes. */
#pragma once
#include "practice/work.h"

typedef enum {
  SOLVABLE_YES,
  SOLVABLE_WORDS,    /* something is missing, or a number is absurd: exercise_flaw()    */
  SOLVABLE_FAULT,    /* the start has no answer                                         */
  SOLVABLE_TOO_EASY, /* the start passes                                               */
  SOLVABLE_TIED,     /* which neck breaks first is within the band of the calculation   */
  SOLVABLE_BEYOND,   /* one criterion cannot be met in this room                        */
  SOLVABLE_APART     /* each can be met, but no drawing meets all                       */
} SolvableKind;

typedef struct {
  SolvableKind kind;
  Phrase why, change;    /* in words; .text NULL for SOLVABLE_YES; borrow from the exercise */
  guint criterion;       /* SOLVABLE_BEYOND, SOLVABLE_APART: the one that is missed         */
  double reached, asked; /* as people read it: MPa for a peak, else the measure's unit   */
  Case answer;           /* a drawing that passes; n_unit 0: none was needed, or none found */
} Solvable;
void solvable_init(Solvable *solvable);
void solvable_clear(Solvable *solvable);

typedef struct {
  int threads;                   /* 1 .. 16 */
  bool (*cancelled)(void *data); /* may be NULL; asked by any thread */
  void *cancel_data;
  /* Share of the work done, 0 .. 1.  May be NULL; on the thread that asked. */
  void (*progress)(double share, void *data);
  void *progress_data;
} SolvableSettings;

/* What keeps the file from being an exercise, whatever its drawing: empty words, limits that mean
 * nothing.  False when nothing does.  At once. */
bool exercise_flaw(const Exercise *exercise, Phrase *why, Phrase *change);
/* *solvable is inited, and replaced.  FAULT_CANCELLED or FAULT_MEMORY; all else is told inside. */
MUST_CHECK Fault exercise_solvable(Assessor *assessor, const Exercise *exercise,
                                   const SolvableSettings *settings, Solvable *solvable);

/* Whether the connector that goes first does so by more than the bands of both calculations:
 * the load factors of the first and the second, by what the solid answer doubts.  The material is
 * the same for both and doubts neither. */
bool ranking_apart(const Assessment *start, size_t *first, size_t *second, double *ratio,
                   double *band);
