/* shape_parts.h - what the moves of shape_moves.c read from an embrasure.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to core/outline.  mm, rad. */
#pragma once
#include "outline/outline.h"

#define SHAPE_MAX_CORNERS 62

typedef struct {
  Point foot[2];      /* left, right: where the outline leaves the bodies               */
  Point roof;         /* highest place; the middle of it when flat                      */
  double lean[2];     /* of the legs from upright, + opening to the gum                 */
  double settled[2];  /* x where the roof has turned into the leg                       */
  double radius;      /* smallest in the top 40 %                                       */
} Embrasure;

/* false when there is no embrasure. */
bool embrasure_read(const Outline *gingival, Embrasure *embrasure);
/* Ends a building function: *outline takes over *fresh, or *fresh is dropped with the fault. */
MUST_CHECK Fault shape_hand_over(Outline *fresh, Fault fault, Outline *outline);
