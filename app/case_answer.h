/* case_answer.h - a case file assessed, and in words what is wrong with it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "assess.h"
#include <glib.h>

typedef struct {
  Assessment *a;      /* owned; NULL: not readable, or there is no answer at all             */
  GPtrArray *trouble; /* owned texts with file and line, for people, in their language       */
  bool bad;           /* no answer, or not of every connector, or the case is not sound      */
} CaseAnswer;

/* Fills *answer whatever comes; case_answer_clear() it. */
void case_answer(Assessor *assessor, const char *path, const AssessSettings *settings,
                 CaseAnswer *answer);
/* The same, and says on standard error what is wrong. */
void case_answer_said(Assessor *assessor, const char *path, const AssessSettings *settings,
                      CaseAnswer *answer);
void case_answer_clear(CaseAnswer *answer);
int case_answer_status(const CaseAnswer *answer); /* exit status, cli.h */
