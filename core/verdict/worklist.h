/* worklist.h - the finishing list of a case: ordered steps in plain words, with initials and time.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "verdict/rules.h"

typedef enum { WORK_DONE, WORK_NOW, WORK_WAITS } WorkState;

typedef struct {
  char id[40]; /* stable; what a Tick refers to                    */
  JobStep step;
  Phrase act;          /* "Redraw three roofs"                             */
  Phrase why;          /* second line, may be empty                        */
  const char *caution; /* "K1 K2" or ""                                    */
  Severity severity;   /* of the rule behind it; SEVERITY_NOTE for plain steps */
  WorkState state;
  const Tick *tick; /* borrowed from the case, when done                */
} WorkItem;

/* New GArray of WorkItem, in the order of the job: the plain steps of this bridge with the fired
 * rules between. */
GArray *worklist_make(const Facts *facts, const GArray *fired);
