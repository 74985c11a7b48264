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

/* The field of an editor that a refusal is about. */
typedef enum {
  FIELD_NONE, /* no single one */
  FIELD_ID,
  FIELD_TITLE,
  FIELD_TASK,
  FIELD_LEARNT,
  FIELD_KIND,
  FIELD_NECK, /* to be drawn */
  FIELD_LOAD,
  FIELD_HINT,     /* row */
  FIELD_QUESTION, /* row */
  FIELD_ANSWERS,  /* row: of a question */
  FIELD_LEAST,    /* row: of a criterion */
  FIELD_MOST,     /* row: of a criterion */
  FIELD_CRITERIA, /* there is none */
  FIELDS
} ExerciseField;

typedef struct {
  ExerciseField field;
  size_t row; /* from 0; 0 for fields that are there once */
} ExercisePlace;

typedef struct {
  SolvableKind kind;
  ExercisePlace place;   /* where to mend it; FIELD_NONE for SOLVABLE_YES */
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
 * nothing, questions that nobody can answer.  Fills kind, place, why and change of *flaw; false,
 * and *flaw untouched, when nothing does.  At once. */
bool exercise_flaw(const Exercise *exercise, Solvable *flaw);
/* *solvable is inited, and replaced.  FAULT_CANCELLED or FAULT_MEMORY; all else is told inside. */
MUST_CHECK Fault exercise_solvable(Assessor *assessor, const Exercise *exercise,
                                   const SolvableSettings *settings, Solvable *solvable);

/* Whether the connector that goes first does so by more than the bands of both calculations:
 * the load factors of the first and the second, by what the solid answer doubts.  The material is
 * the same for both and doubts neither. */
bool ranking_apart(const Assessment *start, size_t *first, size_t *second, double *ratio,
                   double *band);
