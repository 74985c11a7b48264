/* case_hold.h - the lock of the open case, kept fresh and watched without holding up the window.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Main thread only; the looks of every LOCK_RENEW_S, and those that a file monitor asks for, run on
 * another, so that a share that hangs stops no pen. */
#pragma once
#include "lab/case_lock.h"

typedef struct CaseHold CaseHold;
/* On the main thread, after a look that found another state, or the case's file moved. */
typedef void (*CaseHoldSeen)(void *data);

/* Takes the lock when it is free. */
CaseHold *case_hold_new(const char *path, const Person *by, CaseHoldSeen seen, void *data);
void case_hold_free(CaseHold *hold); /* lets go; nothing is called after; accepts NULL */
bool case_hold_is_of(const CaseHold *hold, const char *path);
LockState case_hold_state(const CaseHold *hold);
const LockHolder *case_hold_holder(const CaseHold *hold); /* borrowed; NULL = never seen */
bool case_hold_lost(const CaseHold *hold);                /* it was mine, and somebody took it */
/* Takes it when it is free, or over from whoever has it. */
LockState case_hold_take(CaseHold *hold, bool over);
/* Others are kept from saving in between; false: busy elsewhere.  Where nobody has a lock there is
 * nothing to keep closed, and that is true as well. */
bool case_hold_gate(CaseHold *hold);
void case_hold_ungate(CaseHold *hold);
/* Whether the case's file moved since this was asked last. */
bool case_hold_file_moved(CaseHold *hold);
