/* roof_family.h - roofs that only ever turn one way: half a roof given by its radius over the angle
 * it has turned. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, rad.  Internal to core/outline and the search for the best outline.  A half begins level at
 * the apex and turns by theta_e = pi / 2 - lean into a straight leg that ends at the foot:
 *   R(theta) = max(scale exp(-decay u + bow u (1 - u)), floor),  u = theta / theta_e
 * decay 0, bow 0 is a circle.  R > 0, so every member is convex.  Method: core/SOURCES.md "best
 * outline". */
#pragma once
#include "outline/outline.h"

typedef struct {
  double decay, bow;
  double floor; /* smallest radius, > 0                                     */
  double lean;  /* of the leg from upright, at least; more where the roof would reach below the foot
                 */
} RoofHalf;

typedef struct {
  double theta, radius;
  Point at; /* beside and below the apex, both >= 0 */
} RoofNode;

#define ROOF_NODES_MAX 40
typedef struct {
  RoofNode node[ROOF_NODES_MAX]; /* from the apex to the leg */
  int n;
  double lean; /* of its leg as fitted */
} RoofCurve;

/* Walls that the half must stay inside: a line that may be crossed by no level between apex and
 * wall.  n = 0: none. */
typedef struct {
  const Point *at; /* borrowed */
  size_t n;
} RoofWall;

/* The largest half between apex and foot; false when there is no room for the floor. */
bool roof_half_fit(const RoofHalf *half, Point apex, Point foot, RoofWall wall, RoofCurve *curve);
/* How far a level at height y goes from x to the wall, towards small (-1) or large (1) x. */
double roof_wall_reach(RoofWall wall, double x, double y, int sign);
/* From foot to foot over the apex.  A leg that ends beside its foot is joined to it level. */
MUST_CHECK Fault roof_draw(const RoofCurve half[2], Point apex, const Point foot[2], Outline *roof);
