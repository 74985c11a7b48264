/* difference.c - see difference.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, MPa.  The first sheet is looked up in a grid of boxes, so that it costs little. */
#include "ui/drawing/difference.h"
#include <stdlib.h>

#define COLUMNS 48
#define ROWS 48
#define TOUCH 1e-9
#define SLIVER_MM2 1e-7 /* has no sound inside */

typedef struct {
  const FieldSheet *sheet;
  double x, y, dx, dy;
  int *first; /* of the triangles in each box; COLUMNS * ROWS + 1 */
  uint32_t *triangle;
} Boxes;

static int box_of(double at, double from, double step, int n)
{
  int k = step > 0 ? (int)((at - from) / step) : 0;
  return k < 0 ? 0 : k >= n ? n - 1 : k;
}

/* Boxes that a triangle may touch. */
static void reach_of(const Boxes *b, size_t i, int low[2], int high[2])
{
  Point least = b->sheet->at[b->sheet->corner[i][0]], most = least;
  for (int k = 1; k < 3; k++) {
    Point p = b->sheet->at[b->sheet->corner[i][k]];
    least = point(fmin(least.x, p.x), fmin(least.y, p.y));
    most = point(fmax(most.x, p.x), fmax(most.y, p.y));
  }
  low[0] = box_of(least.x, b->x, b->dx, COLUMNS), high[0] = box_of(most.x, b->x, b->dx, COLUMNS);
  low[1] = box_of(least.y, b->y, b->dy, ROWS), high[1] = box_of(most.y, b->y, b->dy, ROWS);
}

static Fault boxes_fill(const FieldSheet *sheet, Boxes *b)
{
  Point least = sheet->at[0], most = least;
  for (size_t i = 1; i < sheet->n_vertex; i++) {
    Point p = sheet->at[i];
    least = point(fmin(least.x, p.x), fmin(least.y, p.y));
    most = point(fmax(most.x, p.x), fmax(most.y, p.y));
  }
  *b = (Boxes){sheet,
               least.x,
               least.y,
               (most.x - least.x) / COLUMNS,
               (most.y - least.y) / ROWS,
               calloc(COLUMNS * ROWS + 1, sizeof *b->first),
               NULL};
  if (!b->first)
    return FAULT_MEMORY;
  for (int pass = 0; pass < 2; pass++) { /* count, then place from the end of each box */
    for (size_t i = 0; i < sheet->n_triangle; i++) {
      int low[2], high[2];
      reach_of(b, i, low, high);
      for (int row = low[1]; row <= high[1]; row++)
        for (int column = low[0]; column <= high[0]; column++) {
          int *at = &b->first[row * COLUMNS + column];
          if (pass)
            b->triangle[--*at] = (uint32_t)i;
          else
            ++*at;
        }
    }
    if (pass)
      break;
    for (int i = 1; i <= COLUMNS * ROWS; i++)
      b->first[i] += b->first[i - 1];
    b->triangle = malloc(((size_t)b->first[COLUMNS * ROWS] + 1) * sizeof *b->triangle);
    if (!b->triangle)
      return FAULT_MEMORY;
  }
  return FAULT_NONE;
}

static void boxes_clear(Boxes *b)
{
  free(b->first);
  free(b->triangle);
}

/* NaN where there is no material.  Edges of unlike triangles share a place with a vertex now and
 * then: the triangle that has it as a corner speaks. */
static double value_at(const Boxes *b, const float value[], Point p)
{
  double found = NAN, nearest = 0;
  if (p.x < b->x - TOUCH || p.y < b->y - TOUCH || p.x > b->x + b->dx * COLUMNS + TOUCH ||
      p.y > b->y + b->dy * ROWS + TOUCH)
    return NAN;
  int box = box_of(p.y, b->y, b->dy, ROWS) * COLUMNS + box_of(p.x, b->x, b->dx, COLUMNS);
  for (int i = b->first[box]; i < b->first[box + 1]; i++) {
    const uint32_t *corner = b->sheet->corner[b->triangle[i]];
    Point a = b->sheet->at[corner[0]], u = point_sub(b->sheet->at[corner[1]], a),
          v = point_sub(b->sheet->at[corner[2]], a), q = point_sub(p, a);
    double area = point_cross(u, v), s = point_cross(q, v) / area, t = point_cross(u, q) / area;
    double corner_share = fmax(1 - s - t, fmax(s, t));
    if (!(fabs(area) > SLIVER_MM2 && s >= -1e-6 && t >= -1e-6 && s + t <= 1 + 1e-6) ||
        corner_share <= nearest)
      continue;
    nearest = corner_share;
    found = (1 - s - t) * (double)fmaxf(value[corner[0]], 0) +
            s * (double)fmaxf(value[corner[1]], 0) + t * (double)fmaxf(value[corner[2]], 0);
  }
  return found;
}

static void compare(const Boxes *boxes, const float before[], Difference *d)
{
  for (size_t i = 0; i < d->sheet->n_vertex; i++) {
    double was = value_at(boxes, before, d->sheet->at[i]),
           more = fmax((double)d->value[i], 0) - was;
    d->value[i] = (float)more;
    if (isnan(more))
      continue;
    if (!(more <= d->most)) {
      d->most = more;
      d->most_at = d->sheet->at[i];
    }
    if (!(more >= d->least)) {
      d->least = more;
      d->least_at = d->sheet->at[i];
    }
  }
}

Fault difference_make(const Field *first, NeckLoad first_load, const Field *other,
                      NeckLoad other_load, Difference *difference)
{
  const FieldSheet *a = &first->sheet[SHEET_ELEVATION], *b = &other->sheet[SHEET_ELEVATION];
  if (a->n_triangle == 0 || b->n_triangle == 0)
    return FAULT_DEGENERATE;
  Boxes boxes = {0};
  Difference d = {.sheet = b, .most = NAN, .least = NAN};
  float *before = malloc(a->n_vertex * sizeof *before), *angle = NULL;
  d.value = malloc(b->n_vertex * sizeof *d.value);
  Fault fault = before && d.value ? boxes_fill(a, &boxes) : FAULT_MEMORY;
  if (!fault) {
    field_shade(a, first_load, before, angle);
    field_shade(b, other_load, d.value, angle);
    compare(&boxes, before, &d);
    *difference = d;
  } else
    free(d.value);
  free(before);
  boxes_clear(&boxes);
  return fault;
}

void difference_clear(Difference *difference)
{
  free(difference->value);
  *difference = (Difference){.most = NAN, .least = NAN};
}
