/* plane_map.h - a plane seen in perspective: maps of points to points, and back.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * x' = (m0 x + m1 y + m2) / (m6 x + m7 y + m8), y' = (m3 x + m4 y + m5) / the same.  Units are the
 * caller's: px, mm.  Method: core/SOURCES.md "photo". */
#pragma once
#include "base/fault.h"
#include "base/vec.h"

typedef struct {
  double m[9];
} PlaneMap;

#define PLANE_MAP_SAME ((PlaneMap){{1, 0, 0, 0, 1, 0, 0, 0, 1}})

/* NaN on the line that the map sends to infinity, and behind it. */
Point plane_map_at(const PlaneMap *map, Point p);
/* How much longer short steps in x and in y become at a place. */
Point plane_map_stretch(const PlaneMap *map, Point p);
PlaneMap plane_map_join(const PlaneMap *first, const PlaneMap *then);
MUST_CHECK Fault plane_map_invert(const PlaneMap *map, PlaneMap *inverse);
/* Scaled, turned to the left by turn_deg, then moved. */
PlaneMap plane_map_similar(double scale, double turn_deg, Point move);
/* The one map that takes four points to four others, each set in the same order round.
 * FAULT_DEGENERATE when three of a set lie (nearly) in line. */
MUST_CHECK Fault plane_map_quad(const Point from[4], const Point to[4], PlaneMap *map);
/* Puts four corners in order, the upper left first (y down), on in the sense of the clock.
 * FAULT_DEGENERATE when they make no four-sided figure that bulges outward at every corner. */
MUST_CHECK Fault quad_order(Point corner[4]);
