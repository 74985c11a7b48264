/* shape_parts.h - what the starters and moves share: the embrasure as it stands, and its new roof.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Internal to core/outline.  mm, rad.  Side 0 is the left (small x), side 1 the right. */
#pragma once
#include "outline/outline.h"

#define SHAPE_MAX_CORNERS 62
#define LEAST_LEAN (5 * M_PI / 180) /* of a leg from upright: no undercut (practice.md 1.1) */

typedef struct {
  Point foot[2];
  double foot_t[2]; /* their places on the outline                            */
  Point roof;       /* highest place; the middle of a flat one                */
  double roof_t;
  double lean[2];    /* of the legs from upright, + opening to the gum         */
  double settled[2]; /* x where the roof has turned into the leg               */
  double radius;     /* of the roof: smallest in its top 40 %                  */
} Embrasure;

/* FAULT_RANGE when the outline has no embrasure of at least 0.1 mm. */
MUST_CHECK Fault embrasure_read(const Outline *gingival, Embrasure *embrasure);
/* The outline with everything between the feet replaced by `roof`, a line from foot to foot. */
MUST_CHECK Fault embrasure_replace(const Outline *gingival, const Embrasure *embrasure,
                                   const Outline *roof, Outline *outline);
/* Ends a building function: *outline takes over *fresh, or *fresh is dropped with the fault. */
MUST_CHECK Fault shape_hand_over(Outline *fresh, Fault fault, Outline *outline);
