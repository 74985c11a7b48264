/* skill.h - what a trainee has shown to understand, and what should come back.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Spaced return in boxes (a habit of learning with cards; days from common practice, no source): a
 * skill that was shown moves one box on and waits longer, one that was not goes back to the first
 * and is due at once.  An attempt whose worked answer was looked at counts for neither. */
#pragma once
#include "practice/progress.h"

#define SKILL_BOXES 5

typedef struct {
  Skill skill;
  int right, wrong; /* attempts that showed it, that did not       */
  int streak;       /* shown in a row, whatever the days between   */
  int box;          /* 0: never tried; 1 .. SKILL_BOXES            */
  gint64 due;       /* seconds since 1970; 0: never tried          */
  const char *last; /* exercise of the last evidence, borrowed; "" */
} SkillState;

void skills_of(const Progress *progress, SkillState state[SKILLS]);
/* "■■□□□"; owned. */
char *skill_boxes_text(int box);
/* Days that a skill waits in a box. */
int skill_box_days(int box);
/* What to do next: an exercise that trains the skill longest overdue, else the first one of the
 * lowest level that was not passed; NULL when all are passed and nothing is due.  *why (may be
 * NULL) is the skill, SKILLS for the next in line. */
const Exercise *exercise_next(const GPtrArray *set, const Progress *progress, gint64 now,
                              Skill *why);
