/* question.h - answers to the questions of an exercise, held against what is right.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Whatever can be measured is measured on the start, not written down by the teacher. */
#pragma once
#include "practice/work.h"

typedef struct {
  bool answered, right;
  double share;  /* 0 .. 1                                                  */
  Phrase is;     /* the answer in words; .text NULL: none                   */
  Phrase reason; /* what is right, where the answer is not; .text NULL else */
} Judged;

/* The connector that is right; SIZE_MAX where it cannot be measured. */
size_t question_connector(const Question *question, const Assessment *start);
/* The number that is right, NaN where it cannot be measured. */
double question_number(const Question *question, const Work *work);
/* answer: as Work.answer says. */
Judged question_judge(const Question *question, const Work *work, const char *answer);
/* Whether the answer is right and stands for the drawing ("stop and ask"). */
bool question_instead(const Question *question, const char *answer);

/* "46-47 0.10 2.41" into its parts; false when it is no place. */
bool place_from_text(const Case *c, const char *text, size_t *connector, Point *at);
char *place_to_text(const Case *c, size_t connector, Point at);
/* Distance of a place from the hot spot at the exercise's own load, mm; NaN without an answer. */
double place_miss(const Assessment *start, size_t connector, Point at);
