/* sheet_finder.c - see sheet_finder.h.  Each bucket of a grid lists the triangles whose boxes touch
 * it. SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/sheet_finder.h"
#include <math.h>
#include <stdlib.h>

#define BUCKETS 64 /* a side */

struct SheetFinder {
  const FieldSheet *sheet;
  Point low;
  double cell_x, cell_y; /* mm */
  uint32_t start[BUCKETS * BUCKETS + 1];
  uint32_t *triangle; /* owned */
  uint32_t last;      /* where the last place was found */
};

static int bucket(double x, double low, double cell)
{
  double k = floor((x - low) / cell);
  return !(k > 0) ? 0 : k >= BUCKETS ? BUCKETS - 1 : (int)k;
}

static void triangle_buckets(const SheetFinder *f, size_t i, int range[4])
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

static Fault finder_fill(SheetFinder *f)
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

Fault sheet_finder_new(const FieldSheet *sheet, SheetFinder **finder)
{
  if (sheet->n_triangle == 0 || sheet->n_vertex == 0)
    return FAULT_DEGENERATE;
  Point low = sheet->at[0], high = low;
  for (size_t i = 0; i < sheet->n_vertex; i++) {
    if (!point_finite(sheet->at[i]))
      return FAULT_NOT_FINITE;
    low = point(fmin(low.x, sheet->at[i].x), fmin(low.y, sheet->at[i].y));
    high = point(fmax(high.x, sheet->at[i].x), fmax(high.y, sheet->at[i].y));
  }
  if (!(high.x > low.x) || !(high.y > low.y))
    return FAULT_DEGENERATE;
  SheetFinder *f = calloc(1, sizeof *f);
  if (!f)
    return FAULT_MEMORY;
  f->sheet = sheet;
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

void sheet_finder_free(SheetFinder *f)
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

bool sheet_finder_at(SheetFinder *f, Point p, const uint32_t **corner, double weight[3])
{
  uint32_t at = f->last;
  if (!inside(f->sheet, at, p, weight)) {
    int b = bucket(p.y, f->low.y, f->cell_y) * BUCKETS + bucket(p.x, f->low.x, f->cell_x);
    uint32_t k = f->start[b];
    while (k < f->start[b + 1] && !inside(f->sheet, f->triangle[k], p, weight))
      k++;
    if (k == f->start[b + 1])
      return false;
    at = f->triangle[k];
  }
  f->last = at;
  *corner = f->sheet->corner[at];
  return true;
}
