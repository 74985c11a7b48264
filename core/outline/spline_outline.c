/* spline_outline.c - a spline written as few Bezier pieces.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  From each knot the longest piece is taken that keeps place, direction and curvature
 * of the spline; its two handle lengths are found by least squares.  Knots stand where the line
 * needs them. */
#include "outline/spline.h"
#include "base/tolerance.h"
#include "outline/cubic.h"

#define SAMPLES 12       /* places compared inside a piece               */
#define TURN_MAX 1.2     /* rad in one piece                             */
#define KAPPA_SHARE 0.08 /* curvature may differ by this share ...       */
#define KAPPA_LEAST 0.04 /* ... and by this much, 1/mm                   */

typedef struct {
  Point at, direction;
  double kappa;
} Place;

static Place place_at(const Spline *spline, double u)
{
  Point first, second;
  Place place = {.at = spline_at(spline, u, &first, &second)};
  double speed = fmax(point_length(first), 1e-9);
  place.direction = point_scale(first, 1 / speed);
  place.kappa = point_cross(first, second) / (speed * speed * speed);
  return place;
}

/* Handle lengths a[2] that bring the cubic nearest to the samples at parameters v (normal
 * equations). */
static bool handles_solve(const Place sample[], const double v[], double a[2])
{
  const Place *p0 = &sample[0], *p1 = &sample[SAMPLES + 1];
  double m00 = 0, m01 = 0, m11 = 0, r0 = 0, r1 = 0;
  for (int i = 1; i <= SAMPLES; i++) {
    double w = 1 - v[i], b1 = 3 * w * w * v[i], b2 = 3 * w * v[i] * v[i];
    double e0 = w * w * w + b1, e1 = b2 + v[i] * v[i] * v[i];
    Point rest = point_sub(sample[i].at,
                           point(e0 * p0->at.x + e1 * p1->at.x, e0 * p0->at.y + e1 * p1->at.y));
    Point t0 = point_scale(p0->direction, b1), t1 = point_scale(p1->direction, -b2);
    m00 += point_dot(t0, t0), m01 += point_dot(t0, t1), m11 += point_dot(t1, t1);
    r0 += point_dot(t0, rest), r1 += point_dot(t1, rest);
  }
  double det = m00 * m11 - m01 * m01;
  if (!(det > 1e-12 * m00 * m11))
    return false;
  a[0] = (r0 * m11 - r1 * m01) / det;
  a[1] = (r1 * m00 - r0 * m01) / det;
  return true;
}

static double cubic_kappa(const Point c[4], double v)
{
  Point first = cubic_first(c, v);
  double speed = fmax(point_length(first), 1e-9);
  return point_cross(first, cubic_second(c, v)) / (speed * speed * speed);
}

/* One piece for u0..u1; false when it is not good enough. */
static bool piece_fit(const Spline *spline, double u0, double u1, double near_mm, Point c[4])
{
  Place sample[SAMPLES + 2];
  double v[SAMPLES + 2], turn = 0, chord = 0;
  for (int i = 0; i <= SAMPLES + 1; i++) {
    v[i] = (double)i / (SAMPLES + 1);
    sample[i] = place_at(spline, u0 + v[i] * (u1 - u0));
    if (i > 0) {
      Point d0 = sample[i - 1].direction, d1 = sample[i].direction;
      turn += fabs(atan2(point_cross(d0, d1), point_dot(d0, d1)));
      chord += point_distance(sample[i - 1].at, sample[i].at);
    }
  }
  c[0] = sample[0].at;
  c[3] = sample[SAMPLES + 1].at;
  for (int round = 0; round < 3; round++) {
    double a[2];
    if (!handles_solve(sample, v, a) || a[0] < 0.05 * chord || a[1] < 0.05 * chord ||
        a[0] > chord || a[1] > chord)
      a[0] = a[1] = chord / 3;
    c[1] = point_add(c[0], point_scale(sample[0].direction, a[0]));
    c[2] = point_sub(c[3], point_scale(sample[SAMPLES + 1].direction, a[1]));
    for (int i = 1; i <= SAMPLES; i++) { /* the places of the samples on the piece */
      Point d = cubic_first(c, v[i]), off = point_sub(sample[i].at, cubic_at(c, v[i]));
      double size = point_dot(d, d);
      if (size > 0)
        v[i] = fmin(fmax(v[i] + point_dot(off, d) / size, 0), 1);
    }
  }
  bool good = turn <= TURN_MAX;
  for (int i = 0; i <= SAMPLES + 1; i++) {
    double kappa = sample[i].kappa;
    good = good && point_distance(sample[i].at, cubic_at(c, v[i])) <= near_mm &&
           fabs(cubic_kappa(c, v[i]) - kappa) <= KAPPA_LEAST + KAPPA_SHARE * fabs(kappa);
  }
  return good;
}

Fault spline_outline(const Spline *spline, double from, double to, double near_mm, Outline *outline)
{
  double step = (to - from) / (double)spline->spans;
  Fault fault = FAULT_NONE;
  if (outline->n == 0)
    fault = outline_move_to(outline, spline_at(spline, from, NULL, NULL));
  for (size_t at = 0; at < spline->spans && fault == FAULT_NONE;) {
    double u0 = from + step * (double)at;
    size_t left = spline->spans - at, good = 1, bad = left + 1, take = 2;
    Point c[4], best[4];
    (void)piece_fit(spline, u0, u0 + step, near_mm, best); /* one span is a cubic */
    while (good + 1 < bad) { /* longer by doubling, then between good and bad by halving */
      take = bad <= left ? (good + bad) / 2 : good * 2 < left ? good * 2 : left;
      if (piece_fit(spline, u0, u0 + step * (double)take, near_mm, c)) {
        good = take;
        for (int i = 0; i < 4; i++)
          best[i] = c[i];
        if (good == left)
          break;
      } else {
        bad = take;
      }
    }
    at += good;
    if (point_distance(best[0], best[3]) > 2 * TOL_POINT_MM) {
      Point joint = outline->knot[outline->n - 1].at; /* a corner joins two splines in one knot */
      best[1] = point_add(best[1], point_sub(joint, best[0]));
      fault = outline_curve_to(outline, best[1], best[2], best[3]);
    }
  }
  return fault;
}
