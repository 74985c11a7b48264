/* exercise_fields.h - which attribute of an exercise file holds which member of an exercise.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to core/casefile.  Reading, writing and comparing use these tables; the schema
 * data/schema/exercise.rng says the same. */
#pragma once
#include "casefile/attribute_xml.h"

#define EXERCISE_NAMESPACE "https://soffit.invalid/exercise"

extern const Element exercise_element; /* of Exercise, but its focus */
extern const Element criterion_element;
extern const Element question_element; /* of Question, but the two below */
extern const Element question_find_element, question_measure_element;
extern const Element choice_element;
