/* place.c - what an outline is at a place: point, direction, curvature; and along a stretch:
 * length, area, nearest place, polyline. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Units mm, curvature 1/mm.  Integrals by Gauss quadrature: area is exact for cubics, length is
 * halved until it settles. */
#include "outline/outline.h"
#include "outline/cubic.h"
#include "base/tolerance.h"
#include <stdlib.h>
#include <string.h>

#define MAX_POINTS 1000000
#define LENGTH_DEPTH 14 /* halvings of a piece                      */
#define LENGTH_SETTLED 1e-12

size_t outline_pieces(const Outline *outline)
{
  return outline->n < 2 ? 0 : outline->closed ? outline->n : outline->n - 1;
}

void outline_piece(const Outline *outline, size_t i, Point control[4])
{
  const Knot *a = &outline->knot[i], *b = &outline->knot[(i + 1) % outline->n];
  Point c[4] = {a->at, a->out, b->in, b->at};
  if (point_distance(c[0], c[1]) <= TOL_POINT_MM && point_distance(c[2], c[3]) <= TOL_POINT_MM) {
    c[1] = point_mix(c[0], c[3], 1.0 / 3);
    c[2] = point_mix(c[0], c[3], 2.0 / 3);
  }
  memcpy(control, c, sizeof c);
}

/* The piece that holds t, and the Bezier parameter in it. */
static double piece_at(const Outline *outline, double t, Point control[4])
{
  size_t pieces = outline_pieces(outline);
  if (!(t > 0)) /* also NaN */
    t = 0;
  size_t i = t >= (double)pieces ? pieces - 1 : (size_t)t;
  outline_piece(outline, i, control);
  return fmin(t - (double)i, 1);
}

double outline_wrap(const Outline *outline, double t)
{
  double pieces = (double)outline_pieces(outline);
  return t < 0 ? t + pieces : t >= pieces ? t - pieces : t;
}

Point outline_at(const Outline *outline, double t)
{
  if (outline->n < 2)
    return outline->n ? outline->knot[0].at : point(0, 0);
  Point c[4];
  double u = piece_at(outline, t, c);
  return cubic_at(c, u);
}

void outline_derivatives(const Outline *outline, double t, Point *first, Point *second)
{
  Point c[4] = {{0, 0}, {0, 0}, {0, 0}, {0, 0}};
  double u = outline->n < 2 ? 0 : piece_at(outline, t, c);
  if (first)
    *first = cubic_first(c, u);
  if (second)
    *second = cubic_second(c, u);
}

double outline_curvature(const Outline *outline, double t)
{
  if (outline->n < 2)
    return 0;
  Point c[4];
  double u = piece_at(outline, t, c), size = 0;
  for (int i = 1; i < 4; i++)
    size = fmax(size, point_distance(c[0], c[i]));
  Point first = cubic_first(c, u);
  if (point_length(first) <= 1e-6 * size) { /* a handle on its knot: look just beside it */
    u = u < 0.5 ? u + 1e-3 : u - 1e-3;
    first = cubic_first(c, u);
  }
  double speed = point_length(first);
  return speed > 0 ? point_cross(first, cubic_second(c, u)) / (speed * speed * speed) : 0;
}

/* Gauss-Legendre on [-1, 1], 8 points: positive nodes and weights (Abramowitz and Stegun
 * table 25.4) */
static double length_gauss(const Point c[4], double u0, double u1)
{
  static const double node[4] = {0.1834346424956498, 0.5255324099163290, 0.7966664774136267,
                                 0.9602898564975363};
  static const double weight[4] = {0.3626837833783620, 0.3137066458778873, 0.2223810344533745,
                                   0.1012285362903763};
  double middle = (u0 + u1) / 2, half = (u1 - u0) / 2, sum = 0;
  for (int i = 0; i < 4; i++)
    sum += weight[i] * (point_length(cubic_first(c, middle - half * node[i])) +
                        point_length(cubic_first(c, middle + half * node[i])));
  return half * sum;
}

static double length_halved(const Point c[4], double u0, double u1, double whole, int depth)
{
  double middle = (u0 + u1) / 2;
  double left = length_gauss(c, u0, middle), right = length_gauss(c, middle, u1);
  if (depth == 0 || fabs(left + right - whole) <= LENGTH_SETTLED * (left + right))
    return left + right;
  return length_halved(c, u0, middle, left, depth - 1) +
         length_halved(c, middle, u1, right, depth - 1);
}

/* Largest second difference of the control points: 0 on a straight piece with even parameter. */
static double bend_of(const Point c[4])
{
  Point a = point_add(point_sub(c[0], point_scale(c[1], 2)), c[2]);
  Point b = point_add(point_sub(c[1], point_scale(c[2], 2)), c[3]);
  return sqrt(fmax(point_dot(a, a), point_dot(b, b)));
}

double cubic_length(const Point c[4], double u0, double u1)
{
  double chord = point_distance(c[0], c[3]);
  if (bend_of(c) <= LENGTH_SETTLED * chord)
    return chord * (u1 - u0);
  return length_halved(c, u0, u1, length_gauss(c, u0, u1), LENGTH_DEPTH);
}

double outline_length(const Outline *outline)
{
  double sum = 0;
  for (size_t i = 0; i < outline_pieces(outline); i++) {
    Point c[4];
    outline_piece(outline, i, c);
    sum += cubic_length(c, 0, 1);
  }
  return sum;
}

double outline_area(const Outline *outline)
{
  /* (x dy - y dx) / 2 has degree 5 on a cubic: 3 Gauss points are exact */
  static const double node[3] = {0.5 - 0.38729833462074170, 0.5, 0.5 + 0.38729833462074170};
  static const double weight[3] = {5.0 / 18, 8.0 / 18, 5.0 / 18};
  if (!outline->closed || outline->n < 2)
    return 0;
  Point origin = outline->knot[0].at;
  double sum = 0;
  for (size_t i = 0; i < outline->n; i++) {
    Point c[4];
    outline_piece(outline, i, c);
    for (int k = 0; k < 3; k++)
      sum += weight[k] *
             point_cross(point_sub(cubic_at(c, node[k]), origin), cubic_first(c, node[k])) / 2;
  }
  return sum;
}

/* ---- nearest ---- */

#define NEAREST_SAMPLES 16

/* Root of (B - p) . B' between u0 and u1, where the distance has one minimum. */
static double nearest_refined(const Point c[4], Point p, double u0, double u1)
{
  for (int i = 0; i < 60 && u1 - u0 > 1e-13; i++) {
    double u = (u0 + u1) / 2;
    if (point_dot(point_sub(cubic_at(c, u), p), cubic_first(c, u)) > 0)
      u1 = u;
    else
      u0 = u;
  }
  return (u0 + u1) / 2;
}

/* Distance of p from the box around the control points: the piece is nowhere nearer. */
static double hull_distance(const Point c[4], Point p)
{
  double x0 = fmin(fmin(c[0].x, c[1].x), fmin(c[2].x, c[3].x));
  double x1 = fmax(fmax(c[0].x, c[1].x), fmax(c[2].x, c[3].x));
  double y0 = fmin(fmin(c[0].y, c[1].y), fmin(c[2].y, c[3].y));
  double y1 = fmax(fmax(c[0].y, c[1].y), fmax(c[2].y, c[3].y));
  return hypot(fmax(0, fmax(x0 - p.x, p.x - x1)), fmax(0, fmax(y0 - p.y, p.y - y1)));
}

static double piece_nearest(const Point c[4], Point p, double *best)
{
  double d[NEAREST_SAMPLES + 1], found = -1;
  for (int i = 0; i <= NEAREST_SAMPLES; i++)
    d[i] = point_distance(cubic_at(c, (double)i / NEAREST_SAMPLES), p);
  for (int i = 0; i <= NEAREST_SAMPLES; i++) {
    int before = i > 0 ? i - 1 : i, after = i < NEAREST_SAMPLES ? i + 1 : i;
    if (d[before] < d[i] || d[after] < d[i])
      continue;
    double end = (double)i / NEAREST_SAMPLES; /* the sample itself, or an end of the piece */
    double inside =
        nearest_refined(c, p, (double)before / NEAREST_SAMPLES, (double)after / NEAREST_SAMPLES);
    double near = point_distance(cubic_at(c, inside), p);
    double u = near < d[i] ? inside : end;
    if (fmin(near, d[i]) < *best) {
      *best = fmin(near, d[i]);
      found = u;
    }
  }
  return found;
}

double outline_nearest(const Outline *outline, Point p, double *distance_mm)
{
  double best = INFINITY, t = 0;
  if (outline->n == 1)
    best = point_distance(outline->knot[0].at, p);
  for (size_t i = 0; i < outline_pieces(outline); i++) {
    Point c[4];
    outline_piece(outline, i, c);
    if (hull_distance(c, p) >= best)
      continue;
    double u = piece_nearest(c, p, &best);
    if (u >= 0)
      t = (double)i + u;
  }
  if (distance_mm)
    *distance_mm = best;
  return t;
}

/* ---- flatten ---- */

/* Even steps that keep the chord error: max |B''| step^2 / 8. */
static double steps_of(const Point c[4], double tolerance_mm)
{
  return fmax(1, ceil(sqrt(6 * bend_of(c) / (8 * tolerance_mm)) - 1e-6));
}

static void flatten_into(const Outline *outline, double tolerance_mm, Polyline *line)
{
  line->at[0] = outline->knot[0].at;
  line->t[0] = line->s[0] = 0;
  size_t at = 0;
  for (size_t i = 0; i < outline_pieces(outline); i++) {
    Point c[4];
    outline_piece(outline, i, c);
    size_t steps = (size_t)steps_of(c, tolerance_mm);
    for (size_t k = 1; k <= steps; k++) {
      double u0 = (double)(k - 1) / (double)steps, u1 = (double)k / (double)steps;
      at++;
      line->at[at] = k < steps ? cubic_at(c, u1) : c[3];
      line->t[at] = (double)i + u1;
      line->s[at] = line->s[at - 1] + cubic_length(c, u0, u1);
    }
  }
}

Fault outline_flatten(const Outline *outline, double tolerance_mm, Polyline *line)
{
  Fault fault = outline_check(outline);
  if (fault)
    return fault;
  if (!(tolerance_mm > 0) || !isfinite(tolerance_mm))
    return FAULT_RANGE;
  double total = 1;
  for (size_t i = 0; i < outline_pieces(outline); i++) {
    Point c[4];
    outline_piece(outline, i, c);
    total += steps_of(c, tolerance_mm);
  }
  if (!(total <= MAX_POINTS))
    return FAULT_ROOM;
  size_t n = (size_t)total;
  Polyline made = {malloc(n * sizeof *made.at), malloc(n * sizeof *made.t),
                   malloc(n * sizeof *made.s), n};
  if (!made.at || !made.t || !made.s) {
    polyline_clear(&made);
    return FAULT_MEMORY;
  }
  flatten_into(outline, tolerance_mm, &made);
  *line = made;
  return FAULT_NONE;
}

void polyline_clear(Polyline *line)
{
  if (!line)
    return;
  free(line->at);
  free(line->t);
  free(line->s);
  *line = (Polyline){0};
}
