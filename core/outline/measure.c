/* measure.c - see measure.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The radius of three places is abc / 4K; its band is found by moving each place by its own band in
 * 16 directions, all signs: the largest of each place added up, so the worst case to first order.
 */
#include "outline/measure.h"
#include "base/tolerance.h"

#define DIRECTIONS 16

static bool places_sound(const MeasuredPlace place[], size_t n)
{
  for (size_t i = 0; i < n; i++)
    if (!point_finite(place[i].at) || !isfinite(place[i].within))
      return false;
  return true;
}

Fault measure_way(const MeasuredPlace place[2], MeasuredWay *way)
{
  if (!places_sound(place, 2))
    return FAULT_NOT_FINITE;
  if (place[0].within < 0 || place[1].within < 0)
    return FAULT_RANGE;
  Point d = point_sub(place[1].at, place[0].at);
  double length = point_length(d), off = place[0].within + place[1].within;
  double angle = length > 0 ? atan2(d.y, d.x) * 180 / M_PI : 0;
  double turn = off < length ? asin(off / length) * 180 / M_PI : 180;
  *way = (MeasuredWay){.distance = banded(length, fmax(length - off, 0), length + off),
                       .angle_deg = banded(angle, angle - turn, angle + turn),
                       .along = banded(d.x, d.x - off, d.x + off),
                       .up = banded(d.y, d.y - off, d.y + off)};
  return FAULT_NONE;
}

/* Twice the area is the cross product: signed curvature of the circle, 1/mm. */
static double curvature_of(const Point p[3])
{
  double a = point_distance(p[1], p[2]), b = point_distance(p[0], p[2]),
         c = point_distance(p[0], p[1]);
  return 2 * point_cross(point_sub(p[1], p[0]), point_sub(p[2], p[0])) / (a * b * c);
}

static double corner_of(const Point p[3])
{
  Point u = point_sub(p[0], p[1]), v = point_sub(p[2], p[1]);
  return atan2(fabs(point_cross(u, v)), point_dot(u, v)) * 180 / M_PI;
}

/* Largest change of a quantity that the bands of the places allow. */
static double largest_change(const MeasuredPlace place[3], double (*of)(const Point p[3]))
{
  Point p[3] = {place[0].at, place[1].at, place[2].at};
  double middle = of(p), sum = 0;
  for (int i = 0; i < 3; i++) {
    double most = 0;
    for (int k = 0; k < DIRECTIONS; k++) {
      double a = 2 * M_PI * k / DIRECTIONS;
      p[i] = point_add(place[i].at, point_scale(point(cos(a), sin(a)), place[i].within));
      most = fmax(most, fabs(of(p) - middle));
    }
    p[i] = place[i].at;
    sum += most;
  }
  return sum;
}

Fault measure_circle(const MeasuredPlace place[3], MeasuredCircle *circle)
{
  if (!places_sound(place, 3))
    return FAULT_NOT_FINITE;
  for (int i = 0; i < 3; i++) {
    const MeasuredPlace *q = &place[(i + 1) % 3];
    if (place[i].within < 0)
      return FAULT_RANGE;
    if (point_distance(place[i].at, q->at) <= fmax(place[i].within + q->within, TOL_POINT_MM))
      return FAULT_DEGENERATE;
  }
  Point p[3] = {place[0].at, place[1].at, place[2].at};
  double kappa = curvature_of(p), change = largest_change(place, curvature_of);
  if (!(fabs(kappa) > change) || !(fabs(kappa) > 1 / MAX_SIZE_MM))
    return FAULT_DEGENERATE;
  double radius = 1 / fabs(kappa), corner = corner_of(p), turn = largest_change(place, corner_of);
  Point u = point_sub(p[1], p[0]), v = point_sub(p[2], p[0]);
  double uu = point_dot(u, u), vv = point_dot(v, v), twice = 2 * point_cross(u, v);
  Point centre =
      point(p[0].x + (v.y * uu - u.y * vv) / twice, p[0].y + (u.x * vv - v.x * uu) / twice);
  *circle = (MeasuredCircle){
      .centre = centre,
      .radius = banded(radius, 1 / (fabs(kappa) + change), 1 / (fabs(kappa) - change)),
      .corner_deg = banded(corner, fmax(corner - turn, 0), fmin(corner + turn, 180))};
  return FAULT_NONE;
}
