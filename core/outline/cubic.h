/* cubic.h - one cubic Bezier piece: point and derivatives.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Units mm; u in [0, 1].  For core/outline and the loft; others ask the outline. */
#pragma once
#include "base/vec.h"

static inline Point cubic_at(const Point c[4], double u)
{
  double v = 1 - u, a = v * v * v, b = 3 * v * v * u, d = 3 * v * u * u, e = u * u * u;
  return point(a * c[0].x + b * c[1].x + d * c[2].x + e * c[3].x,
               a * c[0].y + b * c[1].y + d * c[2].y + e * c[3].y);
}
static inline Point cubic_first(const Point c[4], double u)
{
  double v = 1 - u, a = 3 * v * v, b = 6 * v * u, d = 3 * u * u;
  return point(a * (c[1].x - c[0].x) + b * (c[2].x - c[1].x) + d * (c[3].x - c[2].x),
               a * (c[1].y - c[0].y) + b * (c[2].y - c[1].y) + d * (c[3].y - c[2].y));
}
static inline Point cubic_second(const Point c[4], double u)
{
  double v = 1 - u;
  return point(6 * v * (c[0].x - 2 * c[1].x + c[2].x) + 6 * u * (c[1].x - 2 * c[2].x + c[3].x),
               6 * v * (c[0].y - 2 * c[1].y + c[2].y) + 6 * u * (c[1].y - 2 * c[2].y + c[3].y));
}
/* Cuts c at u: the part before and the part after. */
static inline void cubic_cut(const Point c[4], double u, Point before[4], Point after[4])
{
  Point a = point_mix(c[0], c[1], u), b = point_mix(c[1], c[2], u), d = point_mix(c[2], c[3], u);
  Point e = point_mix(a, b, u), f = point_mix(b, d, u), g = point_mix(e, f, u);
  Point first = c[0], last = c[3];
  before[0] = first, before[1] = a, before[2] = e, before[3] = g;
  after[0] = g, after[1] = f, after[2] = d, after[3] = last;
}
/* Arc length between two parameters, relative error below 1e-11 except at a cusp. */
double cubic_length(const Point c[4], double u0, double u1);
