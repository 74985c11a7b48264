/* assess_change.h - what ticking a step of the finishing list would change.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to core/assess*.c.  No shape is solved: the fields that are there are combined with the
 * surface as the step leaves it. */
#pragma once
#include "assess.h"

/* Fills the margins of the list's items: at the item's connector, or the weakest one, at the
 * order's load. */
void worklist_judge(Assessment *a);
