/* plan_shape.h - moves on the plan outlines of a connector, and whether a body still stands between
 * them. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm; Point.x mesio-distal, Point.y = z, cheek +.  Everything else a hand does to their knots:
 * outline/knot.h. */
#pragma once
#include "mechanics/loft.h"

/* A plan outline comes no closer to the middle of the arch than this. */
#define PLAN_LEAST_MM 0.15

/* A knot with its tangents; the first and the last keep their x: the bodies stay as long. */
MUST_CHECK Fault plan_move_knot(Outline *plan, size_t knot, Point to);
/* The image of one side on the other; `made` must be inited and is replaced. */
MUST_CHECK Fault plan_mirror(const Outline *plan, Outline *made);
/* Whether ribs can stand between these four outlines; neck_x is looked for.  On a fault *reason is
 * an English msgid, what is wrong and what to do, and *where the place on the plan: on the middle
 * line where it is the ribs that fold. */
MUST_CHECK Fault plan_check(const LoftInput *input, Point *where, const char **reason);
