/* stroke_trail.c - pen points in order: those that count, their directions, their noise, corners.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm. */
#include "base/tolerance.h"
#include "outline/stroke_parts.h"
#include <stdlib.h>

#define WINDOW_MAX 100       /* points to each side for a direction                          */
#define CORNER_NOISE_MM 0.02 /* noisier strokes have no corners                              */
#define CORNER_SIDE_MM 0.3   /* a corner has two straight sides of this length               */
#define CORNER_BOW_MM 0.01   /* this straight                                                */
#define CORNER_BACK (155 * M_PI / 180) /* sharper is a hand that goes back, not a corner     */

static int by_value(const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

static double median(double value[], size_t n)
{
  qsort(value, n, sizeof *value, by_value);
  return n == 0 ? 0 : value[n / 2];
}

/* ---- direction and noise ---- */

/* Directions over a chord of at least `reach` mm, or as many points as allowed. */
void trail_directions(const Trail *trail, double reach, Point along[])
{
  for (size_t i = 0; i < trail->n; i++) {
    size_t lo = i, hi = i;
    Point d = {0, 0};
    for (int k = 0; k < WINDOW_MAX && point_length(d) < reach && (lo > 0 || hi + 1 < trail->n);
         k++) {
      lo -= lo > 0;
      hi += hi + 1 < trail->n;
      d = point_sub(trail->p[hi], trail->p[lo]);
    }
    double length = point_length(d);
    along[i] = length > TOL_POINT_MM ? point_scale(d, 1 / length)
               : i > 0               ? along[i - 1]
                                     : point(1, 0);
  }
}

/* Standard deviation of the points across the line, from second to fourth differences (the smallest
 * of the three: a bend adds to some of them, noise to all).  0.6745: median of |normal|. */
static double noise_of(const Trail *trail)
{
  static const double weight[3][5] = {{1, -2, 1, 0, 0}, {1, -3, 3, -1, 0}, {1, -4, 6, -4, 1}};
  static const double size[3] = {6, 20, 70};
  double least = INFINITY;
  for (size_t order = 0; order < 3; order++) {
    size_t terms = order + 3, n = 0;
    for (size_t i = 0; i + terms <= trail->n; i++) {
      Point d = {0, 0};
      for (size_t k = 0; k < terms; k++)
        d = point_add(d, point_scale(trail->p[i + k], weight[order][k]));
      trail->scratch[n++] = fabs(point_cross(trail->along[i + 1], d));
    }
    if (n >= 5)
      least = fmin(least, median(trail->scratch, n) / 0.6745 / sqrt(size[order]));
  }
  return isfinite(least) ? least : 0;
}

/* Measured twice: the direction is taken over a chord that the noise of the first does not turn. */
void trail_noise(Trail *trail)
{
  for (int round = 0; round < 2; round++) {
    trail_directions(trail, fmax(DIRECTION_MM, 5 * trail->noise), trail->along);
    trail->noise = noise_of(trail);
  }
}

Fault stroke_noise(const Point p[], size_t n, double *noise_mm)
{
  double *scratch = malloc(n * sizeof *scratch);
  Point *along = malloc(n * sizeof *along);
  Fault fault = scratch && along ? FAULT_NONE : FAULT_MEMORY;
  if (fault == FAULT_NONE) {
    Trail trail = {.p = p, .along = along, .scratch = scratch, .n = n};
    trail_noise(&trail);
    *noise_mm = fmax(trail.noise, CHAIN_NOISE_MM);
  }
  free(scratch);
  free(along);
  return fault;
}

Fault stroke_points(const PenPoint pen[], size_t n, Point p[], size_t *kept)
{
  double time = 0;
  *kept = 0;
  for (size_t i = 0; i < n; i++) {
    if (!point_finite(pen[i].at) || !isfinite(pen[i].time_s))
      return FAULT_NOT_FINITE;
    if (fabs(pen[i].at.x) > MAX_SIZE_MM || fabs(pen[i].at.y) > MAX_SIZE_MM)
      return FAULT_RANGE;
    if (*kept == 0 ||
        (pen[i].time_s >= time && point_distance(pen[i].at, p[*kept - 1]) > 2 * TOL_POINT_MM)) {
      p[(*kept)++] = pen[i].at;
      time = pen[i].time_s;
    }
  }
  return FAULT_NONE;
}

/* ---- corners ---- */

/* Largest distance of the points between i and j from the chord. */
static double bow(const Trail *trail, size_t i, size_t j)
{
  Point d = point_sub(trail->p[j], trail->p[i]);
  double length = fmax(point_length(d), TOL_POINT_MM), most = 0;
  for (size_t k = i + 1; k < j; k++)
    most = fmax(most, fabs(point_cross(d, point_sub(trail->p[k], trail->p[i]))) / length);
  return most;
}

/* True when point i is a corner: it turns by kink_rad, but not back, between two straight sides
 * with enough points. */
static bool is_corner(const Trail *trail, size_t i, double kink_rad, double *turn)
{
  size_t lo = i, hi = i;
  while (lo > 0 && i - lo < WINDOW_MAX &&
         point_distance(trail->p[lo], trail->p[i]) < CORNER_SIDE_MM)
    lo--;
  while (hi + 1 < trail->n && hi - i < WINDOW_MAX &&
         point_distance(trail->p[hi], trail->p[i]) < CORNER_SIDE_MM)
    hi++;
  if (i - lo < 4 || hi - i < 4)
    return false;
  Point before = point_sub(trail->p[i], trail->p[lo]), after = point_sub(trail->p[hi], trail->p[i]);
  *turn = fabs(atan2(point_cross(before, after), point_dot(before, after)));
  double straight = CORNER_BOW_MM + 2 * trail->noise;
  return *turn >= kink_rad && *turn <= CORNER_BACK &&
         point_length(before) >= 0.8 * CORNER_SIDE_MM &&
         point_length(after) >= 0.8 * CORNER_SIDE_MM && bow(trail, lo, i) <= straight &&
         bow(trail, i, hi) <= straight;
}

/* The next corner behind `from`, or the last point. */
size_t trail_corner_next(const Trail *trail, size_t from, double kink_rad)
{
  double best = 0, turn;
  size_t corner = trail->n - 1;
  if (trail->noise > CORNER_NOISE_MM)
    return corner;
  for (size_t i = from + 1; i + 1 < trail->n; i++) {
    if (is_corner(trail, i, kink_rad, &turn) && turn > best) {
      best = turn;
      corner = i;
    } else if (best > 0 && point_distance(trail->p[i], trail->p[corner]) > CORNER_SIDE_MM) {
      break;
    }
  }
  return corner;
}
