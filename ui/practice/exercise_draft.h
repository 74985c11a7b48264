/* exercise_draft.h - the exercise that a teacher edits, and the pages of its dialog.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N.  Fields are bound to members of the draft, which does not move while its dialog lives. */
#pragma once
#include "casefile/exercise.h"
#include "practice/solvable.h"
#include "ui/assess_job.h"
#include <gtk/gtk.h>

typedef struct {
  Exercise *e; /* owned */
  /* as the fields have them, taken over by exercise_draft_give() */
  unsigned kind, level, focus, lower, ghost;
  unsigned measure[CRITERIA_MOST], where[CRITERIA_MOST]; /* 0: each neck, else its index + 1 */
  char *choices[QUESTIONS_MOST];                         /* owned; one a line */
  GtkWidget *criteria, *hints, *questions; /* boxes that are filled anew; NULL: not made */
  GtkWidget *field[FIELDS];                /* those that are there once; NULL: not made */
  GtkWidget *hint[HINTS_MOST], *question[QUESTIONS_MOST], *answers[QUESTIONS_MOST];
  GtkWidget *unit[CRITERIA_MOST], *at_start[CRITERIA_MOST], *limit[CRITERIA_MOST][2];
  AssessJob *job;    /* owned */
  Assessment *start; /* owned ref; NULL: not yet: what the start measures */
} ExerciseDraft;

/* Takes the exercise over. */
ExerciseDraft *exercise_draft_new(Exercise *e);
void exercise_draft_free(ExerciseDraft *draft);
/* What the fields have, into the exercise. */
void exercise_draft_give(ExerciseDraft *draft);

/* The field of a place, borrowed; NULL: none, or its row is not there. */
GtkWidget *exercise_draft_field(const ExerciseDraft *draft, ExercisePlace place);

/* set: borrowed, those that may come after it */
GtkWidget *exercise_task_page(ExerciseDraft *draft);
GtkWidget *exercise_bridge_page(ExerciseDraft *draft);
GtkWidget *exercise_criteria_page(ExerciseDraft *draft);
GtkWidget *exercise_hints_page(ExerciseDraft *draft);
GtkWidget *exercise_questions_page(ExerciseDraft *draft);
/* The questions are others. */
void exercise_questions_fill(ExerciseDraft *draft);
/* What the start measures has come, or a measure is another. */
void exercise_criteria_show(ExerciseDraft *draft);
/* A box whose children are made anew. */
void exercise_box_empty(GtkWidget *box);
