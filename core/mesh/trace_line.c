/* trace_line.c - lines cut from a surface made into smooth outlines, open and closed.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The corners of the triangles lie on the surface that was meant: the points that are fitted lie on
 * a curve through those (facets.h), not on the sides between them. */
#include "mesh/facets.h"
#include "mesh/trace_parts.h"
#include "outline/stroke.h"
#include <stdlib.h>

#define SPACING_MM 0.04 /* of the points that are fitted                        */
#define KINK_DEG 45.0   /* a sharper turn stays a corner                        */
#define FIT_ROUNDS 5
#define SEAM_MM 1.5 /* the closed line is fitted this much beyond its start */

/* Even spacing along the curve that the facets were cut from.  *even is owned by the caller. */
static Fault points_even(const Point at[], size_t n, PenPoint **even, size_t *n_even)
{
  FacetLine facets;
  Fault fault = facets_find(at, n, &facets);
  if (fault)
    return fault;
  double length = facets.way[facets.n - 1];
  size_t count = (size_t)(length / SPACING_MM) + 2;
  PenPoint *made = malloc(count * sizeof *made);
  for (size_t k = 0; made && k < count; k++)
    made[k] =
        (PenPoint){facets_at(&facets, length * (double)k / (double)(count - 1)), (double)k, 1};
  facets_clear(&facets);
  *even = made;
  *n_even = count;
  return made ? FAULT_NONE : FAULT_MEMORY;
}

Fault trace_line_turn(const Point at[], size_t n, Point near, double *turn)
{
  FacetLine facets = {0};
  Fault fault = facets_find(at, n, &facets);
  if (!fault)
    *turn = facets_turn(&facets, near);
  facets_clear(&facets);
  return fault;
}

/* Narrower bands until the line keeps to the tolerance; the best one stays. */
Fault trace_line_fit(const Point at[], size_t n, double tolerance, Outline *outline, double *worst)
{
  PenPoint *even = NULL;
  size_t n_even = 0;
  Outline made = {0};
  if (n < 2)
    return FAULT_DEGENERATE;
  Fault fault = points_even(at, n, &even, &n_even);
  double best = INFINITY, band = tolerance;
  for (int round = 0; round < FIT_ROUNDS && !fault && best > tolerance; round++, band /= 3) {
    const StrokeSettings settings = {band, KINK_DEG};
    double off = 0;
    fault = stroke_fit(even, n_even, &settings, &made, NULL);
    for (size_t i = 0; i < n_even && !fault; i++) {
      double distance;
      (void)outline_nearest(&made, even[i].at, &distance);
      off = fmax(off, distance);
    }
    if (!fault && off < best) {
      best = off;
      outline_clear(outline);
      *outline = made;
      made = (Outline){0};
    }
  }
  outline_clear(&made);
  free(even);
  if (!fault)
    *worst = fmax(*worst, best);
  return fault;
}

/* A closed line is fitted once round and SEAM_MM on; both ends are cut where they have settled. */
Fault trace_loop_fit(const Loop *loop, double tolerance, Outline *outline, double *worst)
{
  Point *at = malloc((3 * loop->n + 1) * sizeof *at);
  Outline open = {0}, made = {0};
  double length = 0;
  if (!at)
    return FAULT_MEMORY;
  for (size_t i = 0; i < loop->n; i++)
    length += point_distance(loop->at[i], loop->at[(i + 1) % loop->n]);
  double seam = fmin(SEAM_MM, 0.4 * length), way = 0;
  size_t n = 0;
  do {
    at[n] = loop->at[n % loop->n];
    way += n > 0 ? point_distance(at[n - 1], at[n]) : 0;
    n++;
  } while (way < length + 2 * seam && n < 3 * loop->n + 1);
  Fault fault = trace_line_fit(at, n, tolerance, &open, worst);
  if (!fault) {
    Polyline flat = {0};
    fault = outline_flatten(&open, 1e-3, &flat);
    double t0 = 0, t1 = 0, off = INFINITY;
    for (size_t i = 0; i < flat.n && !fault; i++)
      if (t0 <= 0 && flat.s[i] >= seam)
        t0 = flat.t[i];
    Point start = fault ? point(0, 0) : outline_at(&open, t0);
    for (size_t i = 0; i < flat.n && !fault; i++)
      if (flat.s[i] > length / 2 + seam && point_distance(flat.at[i], start) < off) {
        off = point_distance(flat.at[i], start);
        t1 = flat.t[i];
      }
    for (double step = 0.02; step > 1e-7; step /= 2) /* finer than the polyline */
      for (int sign = -1; sign <= 1; sign += 2) {
        double t = t1 + sign * step;
        if (!fault && t > t0 && t <= (double)outline_pieces(&open) &&
            point_distance(outline_at(&open, t), start) < off) {
          off = point_distance(outline_at(&open, t), start);
          t1 = t;
        }
      }
    if (!fault && t1 > t0)
      fault = outline_append_part(&made, &open, t0, t1);
    else if (!fault)
      fault = FAULT_NO_CONVERGENCE;
    if (!fault) {
      Knot *last = &made.knot[made.n - 1];
      last->in = point_add(last->in, point_sub(made.knot[0].at, last->at));
      last->at = made.knot[0].at;
      *worst = fmax(*worst, off);
      fault = outline_close(&made);
    }
    polyline_clear(&flat);
  }
  if (!fault && outline_area(&made) < 0)
    outline_reverse(&made);
  if (!fault)
    fault = outline_check(&made);
  if (!fault) {
    outline_clear(outline);
    *outline = made;
    made = (Outline){0};
  }
  outline_clear(&made);
  outline_clear(&open);
  free(at);
  return fault;
}
