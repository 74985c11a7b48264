/* decision.h - pass, return, leave waiting: and whether that still holds.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "record/chain.h"
#include "record/change.h"
#include "record/signing.h"
#include "verdict/verdict.h"

typedef enum {
  STANDING_DRAWN, /* at the technician's, never sent */
  STANDING_WAITS, /* sent, or left waiting */
  STANDING_PASSED,
  STANDING_RETURNED, /* until it is sent again */
  STANDING_REOPENED  /* decided, but what was decided on has changed since */
} StandingState;

typedef struct {
  StandingState state;
  guint entry; /* the decision, or since when it waits; G_MAXUINT = none */
  SignedState signature;
  ChainReading chain;
  bool outside;   /* the case is not what the newest entry with a digest saw */
  GPtrArray *why; /* reopened: owned texts, the changes since in words (several lines each); one
                     tells of a change outside the record */
} Standing;
/* keys: NULL = the lab has none.  `standing` is filled; standing_clear() it. */
MUST_CHECK Fault case_standing(const Case *c, const PublicKeys *keys, Standing *standing);
void standing_clear(Standing *standing);
const char *standing_id(StandingState state);   /* "passed": JSON */
const char *standing_name(StandingState state); /* English msgid, "waits" */

/* Appends the decision, keeps the approved outlines on a pass (case_approve).
 *   kind    in  ENTRY_PASS, ENTRY_RETURN, ENTRY_WAIT or ENTRY_SENT
 *   reason  in  needed for a return and for leaving it waiting, and for a pass with a stop
 *               (stops > 0)  else FAULT_RANGE */
MUST_CHECK Fault case_decide(Case *c, EntryKind kind, const Person *by, const char *reason,
                             guint stops, const VerdictLimits *limits, const SigningKey *key);
/* One ENTRY_CHANGE for each part that differs from `before`, a line for each change
 * (entry_words()), in the language of this desktop; none when nothing does. */
MUST_CHECK Fault record_changes(Case *c, const Case *before, const Person *by,
                                const SigningKey *key);
