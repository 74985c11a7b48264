/* worklist.h - the finishing list of a case: ordered steps in plain words, with initials and time.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "base/banded.h"
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
  /* on demand */
  const char *reason;  /* why it is done at all, msgid                         */
  const char *record;  /* evidence: what to write down, msgid; "" = nothing    */
  const char *source;  /* msgid                                                */
  Phrase warning;      /* it would harm now: told before it is ticked; .text NULL = no harm */
  Treatment treatment; /* what it does to the surface of the neck; TREAT_N = nothing */
  unsigned zones;      /* set of FinishZone that it reaches                    */
  size_t connector;    /* where; SIZE_MAX = every neck                         */
  /* by assess(): margin of the neck `place` before and after; NaN where the surface stays */
  Banded margin_before, margin_after;
  char place[12];
} WorkItem;

/* What a step asks for, msgid with {0.1} the brush and {1.2} the enlargement; NULL for an unknown
 * id. */
const char *work_act(const char *id);
/* New GArray of WorkItem, in the order of the job: the plain steps of this bridge with the fired
 * rules between. */
GArray *worklist_make(const Facts *facts, const GArray *fired);
