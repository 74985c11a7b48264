/* exercise_fields.c - see exercise_fields.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, degrees, percent. */
#include "casefile/exercise_fields.h"
#include "casefile/exercise.h"

#define LIMIT_MOST 1000

static const Attribute root_row[] = {
    TEXT_ROW("id", Exercise, id),
    WHOLE_ROW("level", Exercise, level, 1, 4),
    WORD_ROW("kind", Exercise, kind, WORDS_EXERCISE),
    TEXT_ROW("title", Exercise, title),
    SET_ROW("skills", Exercise, skills, WORDS_SKILL),
    TEXT_ROW("next", Exercise, next),
    WORD_ROW("take-height", Exercise, take_height, WORDS_YES_NO),
};
const Element exercise_element = {"exercise", root_row, G_N_ELEMENTS(root_row)};

static const Attribute criterion_row[] = {
    WORD_ROW("measure", Criterion, measure, WORDS_MEASURE),
    NUMBER_ROW("least", Criterion, least, -LIMIT_MOST, LIMIT_MOST),
    NUMBER_ROW("most", Criterion, most, -LIMIT_MOST, LIMIT_MOST),
};
const Element criterion_element = {"criterion", criterion_row, G_N_ELEMENTS(criterion_row)};

static const Attribute question_row[] = {
    TEXT_ROW("id", Question, id),
    WORD_ROW("kind", Question, kind, WORDS_QUESTION),
    TEXT_ROW("text", Question, text),
    WORD_ROW("skill", Question, skill, WORDS_SKILL),
    NUMBER_ROW("right", Question, right, -LIMIT_MOST, LIMIT_MOST),
    NUMBER_ROW("within", Question, within, 0, LIMIT_MOST),
    WHOLE_ROW("most-wrong", Question, most_wrong, 0, CHOICES_MOST),
};
const Element question_element = {"question", question_row, G_N_ELEMENTS(question_row)};

static const Attribute find_row[] = {WORD_ROW("find", Question, find, WORDS_FIND)};
const Element question_find_element = {"question", find_row, G_N_ELEMENTS(find_row)};
static const Attribute measure_row[] = {WORD_ROW("measure", Question, measure, WORDS_MEASURE)};
const Element question_measure_element = {"question", measure_row, G_N_ELEMENTS(measure_row)};

static const Attribute choice_row[] = {TEXT_ROW("id", Choice, id), TEXT_ROW("text", Choice, text)};
const Element choice_element = {"choice", choice_row, G_N_ELEMENTS(choice_row)};
