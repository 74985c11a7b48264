/* flow.c - stream lines by the midpoint rule on a mesh.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A direction of pull has no sense of travel, so cos 2a and sin 2a are interpolated and the sense
 * is kept from step to step. */
#include "ui/drawing/flow.h"
#include "ui/drawing/sheet_finder.h"
#include <stdbool.h>
#include <stdlib.h>

#define STEP_MM 0.04
#define CUT_SAMPLES 256
#define MAX_STEPS 2000

typedef struct {
  SheetFinder *place; /* owned */
  const float *value, *angle;
} Finder;

/* Stress and direction of pull at p; false outside the mesh. */
static bool finder_at(Finder *f, Point p, double *value, Point *direction)
{
  double w[3];
  const uint32_t *corner;
  if (!sheet_finder_at(f->place, p, &corner, w))
    return false;
  double v = 0, c = 0, s = 0;
  for (int k = 0; k < 3; k++) {
    v += w[k] * (double)f->value[corner[k]];
    c += w[k] * cos(2 * (double)f->angle[corner[k]]);
    s += w[k] * sin(2 * (double)f->angle[corner[k]]);
  }
  if (!isfinite(v + c + s))
    return false;
  double a = atan2(s, c) / 2;
  *value = v;
  *direction = point(cos(a), sin(a));
  return true;
}

static bool pulled_direction(Finder *f, Point p, Point sense, Point *direction)
{
  double value;
  if (!finder_at(f, p, &value, direction) || value <= 0)
    return false;
  if (point_dot(*direction, sense) < 0)
    *direction = point_scale(*direction, -1);
  return true;
}

/* One half of a line from `at` in the sense given; returns the number of points after `at`. */
static size_t run(Finder *f, Point at, Point sense, double reach_mm, Point out[])
{
  size_t n = 0;
  Point d = sense, m;
  while (n < MAX_STEPS && (double)(n + 1) * STEP_MM <= reach_mm) {
    if (!pulled_direction(f, at, d, &d) ||
        !pulled_direction(f, point_add(at, point_scale(d, STEP_MM / 2)), d, &m))
      break;
    at = point_add(at, point_scale(m, STEP_MM));
    double value;
    Point ignored;
    if (!finder_at(f, at, &value, &ignored))
      break;
    d = m;
    out[n++] = at;
  }
  return n;
}

/* Places on the cut with equal shares of pull between them. */
static size_t cut_starts(Finder *f, Point from, Point to, size_t n, Point start[])
{
  double sum[CUT_SAMPLES + 1] = {0};
  for (int i = 0; i < CUT_SAMPLES; i++) {
    double value = 0;
    Point ignored;
    bool found = finder_at(f, point_mix(from, to, (i + 0.5) / CUT_SAMPLES), &value, &ignored);
    sum[i + 1] = sum[i] + (found && value > 0 ? value : 0);
  }
  if (!(sum[CUT_SAMPLES] > 0))
    return 0;
  int at = 0;
  for (size_t k = 0; k < n; k++) {
    double want = sum[CUT_SAMPLES] * ((double)k + 0.5) / (double)n;
    while (at + 1 < CUT_SAMPLES && sum[at + 1] < want)
      at++;
    double part = sum[at + 1] > sum[at] ? (want - sum[at]) / (sum[at + 1] - sum[at]) : 0.5;
    start[k] = point_mix(from, to, (at + part) / CUT_SAMPLES);
  }
  return n;
}

Fault flow_lines(const FieldSheet *sheet, const float value[], const float angle[], Point from,
                 Point to, size_t n, double reach_mm, LineSet *lines)
{
  if (n < 1 || n > FLOW_MAX_LINES || !(reach_mm > 0))
    return FAULT_RANGE;
  if (!point_finite(from) || !point_finite(to))
    return FAULT_NOT_FINITE;
  Finder finder = {NULL, value, angle};
  Fault fault = sheet_finder_new(sheet, &finder.place);
  if (fault != FAULT_NONE)
    return fault;
  Point start[FLOW_MAX_LINES];
  size_t n_start = cut_starts(&finder, from, to, n, start);
  LineSet made = {.at = malloc(n * (2 * MAX_STEPS + 1) * sizeof(Point)),
                  .start = malloc((n + 1) * sizeof(size_t))};
  Point *back = malloc(MAX_STEPS * sizeof *back);
  if (!made.at || !made.start || !back) {
    line_set_clear(&made);
    fault = FAULT_MEMORY;
  }
  for (size_t k = 0; k < n_start && fault == FAULT_NONE; k++) {
    Point d;
    double v;
    if (!finder_at(&finder, start[k], &v, &d))
      continue;
    size_t n_back = run(&finder, start[k], point_scale(d, -1), reach_mm, back);
    made.start[made.n_line++] = made.n;
    for (size_t i = n_back; i > 0; i--)
      made.at[made.n++] = back[i - 1];
    made.at[made.n++] = start[k];
    made.n += run(&finder, start[k], d, reach_mm, made.at + made.n);
    made.start[made.n_line] = made.n;
  }
  free(back);
  sheet_finder_free(finder.place);
  if (fault == FAULT_NONE)
    *lines = made;
  return fault;
}
