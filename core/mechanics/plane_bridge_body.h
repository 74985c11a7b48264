/* plane_bridge_body.h - outline and thickness of the whole bridge.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to plane_bridge*.c.  mm. */
#pragma once
#include "plane_bridge.h"
#include "plane_thickness.h"

#define SHELL_MM 1.2  /* crown around the stump of an abutment: sides and outer faces      */
#define SHELL_TOP 1.5 /* above it                                                         */

typedef struct {
  size_t n_unit;
  BridgeUnit unit[SPAN_MAX_UNITS];
  double neck_x[SPAN_MAX_UNITS - 1];
  Thickness thickness[SPAN_MAX_UNITS - 1];
  double stump_share[SPAN_MAX_UNITS]; /* of the crown's modulus */
} BridgeBody;

/* Fills *body and appends the closed outline to the empty *closed.  FAULT_RANGE, FAULT_NO_NECK with
 * *where along the span, where it belongs to a unit or a neck. */
MUST_CHECK Fault bridge_body_make(BridgeBody *body, const BridgeInput *input, Outline *closed,
                                  Point *where);
/* Thickness of the crown; where the stump is, as much as is as stiff. */
double bridge_body_thickness(Point at, const void *body);
double bridge_middle(const BridgeUnit *unit);
