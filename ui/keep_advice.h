/* keep_advice.h - an advice made true in the case.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "assess.h"

const char *keep_advice_name(AdviceKind kind); /* msgid of the undo step */
/* Writes what the advice proposes into the case; FAULT_RANGE when it names what is not there. */
MUST_CHECK Fault keep_advice(Case *c, const Advice *advice);
