/* facets.c - see facets.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Each side becomes an arc that meets its neighbours as smoothly as both ends allow. */
#include "mesh/facets.h"
#include "base/tolerance.h"
#include "outline/segment.h"
#include <stdlib.h>

#define CORNER_MM 0.001 /* a corner stands out by more than this from the line past it     */
#define FLAT 3.0        /* a side this many times as long as its neighbours is meant flat */
#define SHARP (60 * M_PI / 180) /* a sharper corner is meant                               */

void facets_clear(FacetLine *facets)
{
  free(facets->at);
  free(facets->bend);
  free(facets->way);
  *facets = (FacetLine){0};
}

/* Marks what stands out between lo and hi; the deepest call is as deep as the line has corners. */
static void corners_mark(const Point at[], size_t lo, size_t hi, bool mark[])
{
  double most = CORNER_MM * CORNER_MM, k;
  size_t corner = lo;
  for (size_t i = lo + 1; i < hi; i++) {
    double off = segment_near(at[i], at[lo], at[hi], &k);
    if (off > most) {
      most = off;
      corner = i;
    }
  }
  if (corner == lo)
    return;
  mark[corner] = true;
  corners_mark(at, lo, corner, mark);
  corners_mark(at, corner, hi, mark);
}

/* A side that runs along with what was marked before may have been cut in its middle. */
static void corners_clean(const Point at[], size_t n, bool mark[])
{
  size_t before = 0;
  for (size_t i = 1; i + 1 < n; i++) {
    size_t next = i + 1;
    double k;
    if (!mark[i])
      continue;
    while (!mark[next])
      next++;
    mark[i] = segment_near(at[i], at[before], at[next], &k) > CORNER_MM * CORNER_MM / 4;
    before = mark[i] ? i : before;
  }
}

static double side_length(const FacetLine *f, size_t i)
{
  return f->way[i + 1] - f->way[i];
}

/* Change of direction at corner i; 0 at the ends. */
static double turn_at(const FacetLine *f, size_t i)
{
  if (i == 0 || i + 1 >= f->n)
    return 0;
  Point a = point_sub(f->at[i], f->at[i - 1]), b = point_sub(f->at[i + 1], f->at[i]);
  return atan2(point_cross(a, b), point_dot(a, b));
}

/* Angle between side and curve at its corner: half of what the line turns there, all of it beside
 * a flat side; `by` its length, `other` that of the side it meets. */
static double end_angle(double turn, double by, double other)
{
  return fabs(turn) > SHARP ? 0 : other > FLAT * by ? turn : turn / 2;
}

/* Curvature of side i: that of the straighter end, 0 where the ends bend to both sides. */
static double side_bend(const FacetLine *f, size_t i)
{
  double by = side_length(f, i), before = i > 0 ? side_length(f, i - 1) : by,
         after = i + 2 < f->n ? side_length(f, i + 1) : by;
  double a = end_angle(turn_at(f, i), by, before), b = end_angle(turn_at(f, i + 1), by, after);
  if (a * b <= 0 || by > FLAT * fmax(before, after))
    return 0;
  return 2 * (fabs(a) < fabs(b) ? a : b) / by;
}

Fault facets_find(const Point at[], size_t n, FacetLine *facets)
{
  FacetLine made = {malloc(n * sizeof *made.at), malloc(n * sizeof *made.bend),
                    malloc(n * sizeof *made.way), 0};
  bool *mark = calloc(n, sizeof *mark);
  Fault fault = made.at && made.bend && made.way && mark ? FAULT_NONE : FAULT_MEMORY;
  if (!fault) {
    mark[0] = mark[n - 1] = true;
    corners_mark(at, 0, n - 1, mark);
    corners_clean(at, n, mark);
    for (size_t i = 0; i < n; i++) {
      if (!mark[i])
        continue;
      double side = made.n > 0 ? point_distance(at[i], made.at[made.n - 1]) : 0;
      if (made.n > 0 && side < TOL_POINT_MM)
        continue;
      made.way[made.n] = made.n > 0 ? made.way[made.n - 1] + side : 0;
      made.at[made.n++] = at[i];
    }
    for (size_t i = 0; i + 1 < made.n; i++)
      made.bend[i] = side_bend(&made, i);
    fault = made.n < 2 ? FAULT_DEGENERATE : FAULT_NONE;
  }
  free(mark);
  if (fault)
    facets_clear(&made);
  else
    *facets = made;
  return fault;
}

Point facets_at(const FacetLine *f, double way)
{
  size_t lo = 0, hi = f->n - 1;
  while (hi - lo > 1) {
    size_t middle = (lo + hi) / 2;
    *(f->way[middle] <= way ? &lo : &hi) = middle;
  }
  double length = side_length(f, lo), s = fmin(fmax(way - f->way[lo], 0), length);
  Point along = point_scale(point_sub(f->at[lo + 1], f->at[lo]), 1 / length);
  double out = s * (length - s) / 2 * f->bend[lo]; /* a parabola: to the right of a left bend */
  return point_add(point_add(f->at[lo], point_scale(along, s)),
                   point(along.y * out, -along.x * out));
}

double facets_turn(const FacetLine *f, Point p)
{
  double nearest = INFINITY, k, most = 0;
  size_t side = 0;
  for (size_t i = 0; i + 1 < f->n; i++) {
    double off = segment_near(p, f->at[i], f->at[i + 1], &k);
    if (off < nearest) {
      nearest = off;
      side = i;
    }
  }
  for (size_t i = side > 0 ? side - 1 : 0; i <= side + 2 && i < f->n; i++)
    most = fmax(most, fabs(turn_at(f, i)));
  return most;
}
