/* plane_thickness.h - how thick a connector is at a place of its elevation.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  With ribs the thickness is constant along each; without, along each upright line. */
#pragma once
#include "mechanics/loft.h"

#define THICKNESS_RIBS 49  /* of a side, even in s                                  */
#define THICKNESS_STEPS 96 /* upright lines between the ends                        */

typedef struct {
  bool by_rib;
  double y0;
  Rib rib[2][THICKNESS_RIBS]; /* by_rib: [0] towards small x, [1] towards large x  */
  double x0, x1;              /* else: even steps of width from x0 to x1           */
  double width[THICKNESS_STEPS + 1];
} Thickness;

/* Ribs from the loft; loft NULL: from the plan outlines of the input between x0 and x1.
 * FAULT_NO_NECK where nothing is left between them. */
MUST_CHECK Fault thickness_make(Thickness *thickness, const LoftInput *input, const Loft *loft,
                                double x0, double x1);
double thickness_at(Point at, const void *thickness);
