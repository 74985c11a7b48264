/* decide.h - a decision into the file of a case, under its lock, in a thread.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "record/decision.h"
#include <gio/gio.h>

typedef struct {
  char *folder, *file; /* owned */
  char seen[65];       /* digest of the bytes that were looked at */
  EntryKind kind;
  char *reason;      /* owned; "" = none */
  GPtrArray *remark; /* Remark, owned: pinned to the sketch */
  guint stops;
  VerdictLimits limits;
  Person by;      /* owned texts */
  bool take_over; /* from whoever has the case */
} Decision;
void decision_free(Decision *decision); /* accepts NULL */

Remark *remark_copy(const Remark *from); /* place and words alone */

typedef enum {
  DECIDED,
  DECIDE_HELD,    /* somebody else has the case */
  DECIDE_CHANGED, /* the file is not the one that was looked at */
  DECIDE_FAILED
} DecideOutcome;

/* On the main thread.  said: what is wrong and what to do, in words; decided: why it is not signed
 * although a key was chosen, or NULL. */
typedef void (*DecideDone)(const Decision *decision, DecideOutcome outcome, const char *said,
                           void *data);
/* Takes the decision over.  owner: kept alive until done. */
void decision_write(Decision *decision, GObject *owner, DecideDone done, void *data);
