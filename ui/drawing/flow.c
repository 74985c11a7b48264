/* flow.c - stream lines by the midpoint rule on a mesh with a bucket grid for finding places.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A direction of pull has no sense of travel, so cos 2a and sin 2a are interpolated and the sense
 * is kept from step to step. */
#include "ui/drawing/flow.h"
#include <stdbool.h>
#include <stdlib.h>

#define STEP_MM 0.04
#define CUT_SAMPLES 256
#define BUCKETS 64 /* a side */
#define MAX_STEPS 2000

typedef struct {
  const FieldSheet *sheet;
  const float *value, *angle;
  Point low;
  double cell_x, cell_y; /* mm */
  uint32_t start[BUCKETS * BUCKETS + 1];
  uint32_t *triangle; /* owned */
  uint32_t last;      /* where the last place was found */
} Finder;

static int bucket(double x, double low, double cell)
{
  double k = floor((x - low) / cell);
  return !(k > 0) ? 0 : k >= BUCKETS ? BUCKETS - 1 : (int)k;
}

static void triangle_buckets(const Finder *f, size_t i, int range[4])
{
  Point low = f->sheet->at[f->sheet->corner[i][0]], high = low;
  for (int k = 1; k < 3; k++) {
    Point p = f->sheet->at[f->sheet->corner[i][k]];
    low = point(fmin(low.x, p.x), fmin(low.y, p.y));
    high = point(fmax(high.x, p.x), fmax(high.y, p.y));
  }
  range[0] = bucket(low.x, f->low.x, f->cell_x);
  range[1] = bucket(high.x, f->low.x, f->cell_x);
  range[2] = bucket(low.y, f->low.y, f->cell_y);
  range[3] = bucket(high.y, f->low.y, f->cell_y);
}

static Fault finder_fill(Finder *f)
{
  const FieldSheet *sheet = f->sheet;
  int range[4];
  for (int fill = 0; fill < 2; fill++) {
    for (size_t i = 0; i < sheet->n_triangle; i++) {
      triangle_buckets(f, i, range);
      for (int y = range[2]; y <= range[3]; y++)
        for (int x = range[0]; x <= range[1]; x++) {
          int b = y * BUCKETS + x;
          if (fill)
            f->triangle[--f->start[b]] = (uint32_t)i;
          else
            f->start[b]++;
        }
    }
    if (fill)
      break;
    for (int b = 1; b <= BUCKETS * BUCKETS; b++)
      f->start[b] += f->start[b - 1]; /* ends; filling counts them down to the starts */
    f->triangle = malloc((f->start[BUCKETS * BUCKETS] + 1) * sizeof *f->triangle);
    if (!f->triangle)
      return FAULT_MEMORY;
  }
  return FAULT_NONE;
}

static Fault finder_new(const FieldSheet *sheet, const float value[], const float angle[],
                        Finder **finder)
{
  Point low = sheet->at[0], high = low;
  for (size_t i = 0; i < sheet->n_vertex; i++) {
    if (!point_finite(sheet->at[i]))
      return FAULT_NOT_FINITE;
    low = point(fmin(low.x, sheet->at[i].x), fmin(low.y, sheet->at[i].y));
    high = point(fmax(high.x, sheet->at[i].x), fmax(high.y, sheet->at[i].y));
  }
  if (!(high.x > low.x) || !(high.y > low.y))
    return FAULT_DEGENERATE;
  Finder *f = calloc(1, sizeof *f);
  if (!f)
    return FAULT_MEMORY;
  f->sheet = sheet;
  f->value = value;
  f->angle = angle;
  f->low = low;
  f->cell_x = (high.x - low.x) / BUCKETS;
  f->cell_y = (high.y - low.y) / BUCKETS;
  Fault fault = finder_fill(f);
  if (fault != FAULT_NONE)
    free(f);
  else
    *finder = f;
  return fault;
}

static void finder_free(Finder *f)
{
  if (f)
    free(f->triangle);
  free(f);
}

static bool inside(const FieldSheet *sheet, uint32_t i, Point p, double weight[3])
{
  Point a = sheet->at[sheet->corner[i][0]], b = sheet->at[sheet->corner[i][1]],
        c = sheet->at[sheet->corner[i][2]];
  double twice = point_cross(point_sub(b, a), point_sub(c, a));
  if (twice == 0)
    return false;
  weight[1] = point_cross(point_sub(p, a), point_sub(c, a)) / twice;
  weight[2] = point_cross(point_sub(b, a), point_sub(p, a)) / twice;
  weight[0] = 1 - weight[1] - weight[2];
  return weight[0] >= -1e-9 && weight[1] >= -1e-9 && weight[2] >= -1e-9;
}

/* Stress and direction of pull at p; false outside the mesh. */
static bool finder_at(Finder *f, Point p, double *value, Point *direction)
{
  double w[3];
  uint32_t at = f->last;
  if (!inside(f->sheet, at, p, w)) {
    int b = bucket(p.y, f->low.y, f->cell_y) * BUCKETS + bucket(p.x, f->low.x, f->cell_x);
    uint32_t k = f->start[b];
    while (k < f->start[b + 1] && !inside(f->sheet, f->triangle[k], p, w))
      k++;
    if (k == f->start[b + 1])
      return false;
    at = f->triangle[k];
  }
  f->last = at;
  const uint32_t *corner = f->sheet->corner[at];
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
  if (sheet->n_triangle == 0 || sheet->n_vertex == 0)
    return FAULT_DEGENERATE;
  Finder *finder = NULL;
  Fault fault = finder_new(sheet, value, angle, &finder);
  if (fault != FAULT_NONE)
    return fault;
  Point start[FLOW_MAX_LINES];
  size_t n_start = cut_starts(finder, from, to, n, start);
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
    if (!finder_at(finder, start[k], &v, &d))
      continue;
    size_t n_back = run(finder, start[k], point_scale(d, -1), reach_mm, back);
    made.start[made.n_line++] = made.n;
    for (size_t i = n_back; i > 0; i--)
      made.at[made.n++] = back[i - 1];
    made.at[made.n++] = start[k];
    made.n += run(finder, start[k], d, reach_mm, made.at + made.n);
    made.start[made.n_line] = made.n;
  }
  free(back);
  finder_free(finder);
  if (fault == FAULT_NONE)
    *lines = made;
  return fault;
}
