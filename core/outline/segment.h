/* segment.h - the nearest place of a straight segment.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  Internal to core/outline; without roots, for loops over many segments. */
#pragma once
#include "base/vec.h"

/* Squared distance of p from the segment a b; *k in [0, 1] is the nearest place on it. */
static inline double segment_near(Point p, Point a, Point b, double *k)
{
  Point d = point_sub(b, a), q = point_sub(p, a);
  double size = point_dot(d, d), along = point_dot(q, d);
  *k = along <= 0 || size <= 0 ? 0 : along >= size ? 1 : along / size;
  Point off = point_sub(q, point_scale(d, *k));
  return point_dot(off, off);
}
