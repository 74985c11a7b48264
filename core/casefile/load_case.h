/* load_case.h - the bites that a bridge is judged by, besides the order's load straight down.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, degrees.  Number 0 is the order's load pressed straight down at its worst place; number k
 * is the case's load_case[k - 1].  Every bite presses with the order's load. */
#pragma once
#include "base/phrase.h"
#include "casefile/case.h"

#define INCLINE_MOST_DEG 60.0

void load_case_init(LoadCase *bite); /* at the worst place, straight down */
bool load_case_equal(const LoadCase *a, const LoadCase *b);
/* On false *reason is a static English msgid: what is wrong, what to do. */
bool load_case_check(const Case *c, const LoadCase *bite, const char **reason);
/* What a neck may carry under all of them, FAULT_RANGE when one does not stand on the bridge. */
MUST_CHECK Fault case_envelope(const Case *c, const Span *span, size_t neck,
                               SpanEnvelope *envelope);
/* "bite on {name}, {0} degrees towards the cheek"; x: where the load stands. */
Phrase load_case_phrase(const Case *c, size_t number, double x);
/* Whether any bite leans, or the bridge is bowed: then it is a beam in space. */
bool case_in_space(const Case *c);
