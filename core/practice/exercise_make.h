/* exercise_make.h - a new exercise from a connector of any case.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "casefile/exercise.h"

/* The bridge with this connector to draw, and criteria to begin with; the words are still to be
 * written.  Shape, load, limits and material are taken over; number, names, photos, history and
 * whatever else may tell whose case it was are not.  NULL without memory or such a connector. */
Exercise *exercise_of_connector(const Case *c, size_t connector);
/* A word for a file and an id that none of the set has: "own-1"; owned. */
char *exercise_new_id(const GPtrArray *set);
/* The question that its kind asks ("Which neck breaks first?"), put in place of one of an earlier
 * kind; questions that a person wrote stay.  Whether there is another one now. */
bool exercise_kind_question(Exercise *exercise);
/* An id that no question of it has; owned. */
char *exercise_question_id(const Exercise *exercise);
void exercise_question_drop(Exercise *exercise, size_t question);
/* What its criteria and questions train, as Skill bits. */
unsigned exercise_skills(const Exercise *exercise);
