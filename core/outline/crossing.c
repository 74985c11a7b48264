/* crossing.c - where a line crosses itself or another one.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  Lines are flattened; their chords are sorted into the cells of a grid, so that only near ones are compared. */
#include "base/tolerance.h"
#include "outline/outline.h"
#include <stdlib.h>
#include <string.h>

#define CHORD_TOLERANCE_MM 1e-3 /* finer than any pen; crossings closer than this are touches */
#define CELLS_MOST 128          /* of the grid, each way */

typedef struct {
  Point a, b;
  size_t line, index; /* which line; chord number in it */
  size_t count;       /* chords of that line            */
  bool closed;
} Chord;

typedef struct {
  Chord *chord;
  size_t n;
  Point low;
  double cell;
  int columns, rows;
  size_t *start, *entry; /* entries of cell i: entry[start[i]] .. entry[start[i + 1] - 1] */
} Grid;

static Fault chords_of(const Outline *outline, size_t line, Chord **chord, size_t *n)
{
  Polyline flat = {0};
  Fault fault = outline_flatten(outline, CHORD_TOLERANCE_MM, &flat);
  if (fault)
    return fault;
  size_t count = flat.n > 0 ? flat.n - 1 : 0;
  Chord *grown = realloc(*chord, (*n + count + 1) * sizeof *grown);
  if (!grown) {
    polyline_clear(&flat);
    return FAULT_MEMORY;
  }
  *chord = grown;
  for (size_t i = 0; i < count; i++)
    grown[(*n)++] = (Chord){flat.at[i], flat.at[i + 1], line, i, count, outline->closed};
  polyline_clear(&flat);
  return FAULT_NONE;
}

static void cells_of(const Grid *grid, const Chord *c, int range[4])
{
  range[0] = (int)((fmin(c->a.x, c->b.x) - grid->low.x) / grid->cell);
  range[1] = (int)((fmax(c->a.x, c->b.x) - grid->low.x) / grid->cell);
  range[2] = (int)((fmin(c->a.y, c->b.y) - grid->low.y) / grid->cell);
  range[3] = (int)((fmax(c->a.y, c->b.y) - grid->low.y) / grid->cell);
}

/* Counts (entry NULL) or files all chords. */
static void grid_file(Grid *grid, size_t *fill, bool counting)
{
  for (size_t i = 0; i < grid->n; i++) {
    int range[4];
    cells_of(grid, &grid->chord[i], range);
    for (int r = range[2]; r <= range[3]; r++)
      for (int c = range[0]; c <= range[1]; c++) {
        size_t cell = (size_t)(r * grid->columns + c);
        if (counting)
          grid->start[cell + 1]++;
        else
          grid->entry[fill[cell]++] = i;
      }
  }
}

static Fault grid_make(Grid *grid)
{
  Point low = {INFINITY, INFINITY}, high = {-INFINITY, -INFINITY};
  for (size_t i = 0; i < grid->n; i++) {
    Point p[2] = {grid->chord[i].a, grid->chord[i].b};
    for (int k = 0; k < 2; k++) {
      low = point(fmin(low.x, p[k].x), fmin(low.y, p[k].y));
      high = point(fmax(high.x, p[k].x), fmax(high.y, p[k].y));
    }
  }
  double size = fmax(fmax(high.x - low.x, high.y - low.y), TOL_POINT_MM);
  double wanted = fmin(CELLS_MOST, fmax(1, sqrt((double)grid->n)));
  grid->low = low;
  grid->cell = size / wanted * (1 + 1e-9);
  grid->columns = (int)((high.x - low.x) / grid->cell) + 1;
  grid->rows = (int)((high.y - low.y) / grid->cell) + 1;
  size_t cells = (size_t)grid->columns * (size_t)grid->rows;
  grid->start = calloc(cells + 1, sizeof *grid->start);
  size_t *fill = calloc(cells + 1, sizeof *fill);
  if (grid->start && fill) {
    grid_file(grid, fill, true);
    for (size_t i = 0; i < cells; i++)
      grid->start[i + 1] += grid->start[i];
    memcpy(fill, grid->start, (cells + 1) * sizeof *fill);
    grid->entry = malloc((grid->start[cells] + 1) * sizeof *grid->entry);
    if (grid->entry)
      grid_file(grid, fill, false);
  }
  free(fill);
  return grid->start && grid->entry ? FAULT_NONE : FAULT_MEMORY;
}

static bool neighbours(const Chord *p, const Chord *q)
{
  if (p->line != q->line)
    return false;
  size_t low = p->index < q->index ? p->index : q->index, high = p->index < q->index ? q->index : p->index;
  return high - low <= 1 || (p->closed && low == 0 && high + 1 == p->count);
}

/* Do two chords meet?  Ends count. */
static bool chords_meet(const Chord *p, const Chord *q, Point *where)
{
  Point d = point_sub(p->b, p->a), e = point_sub(q->b, q->a), f = point_sub(q->a, p->a);
  double det = point_cross(d, e);
  if (fabs(det) <= 1e-14 * point_length(d) * point_length(e))
    return false; /* parallel chords side by side: their neighbours decide */
  double t = point_cross(f, e) / det, u = point_cross(f, d) / det;
  if (!(t >= 0 && t <= 1 && u >= 0 && u <= 1))
    return false;
  *where = point_mix(p->a, p->b, t);
  return true;
}

/* The first meeting along the first line. */
static bool grid_search(const Grid *grid, bool same_line, Point *where)
{
  for (size_t i = 0; i < grid->n; i++) {
    const Chord *p = &grid->chord[i];
    int range[4];
    cells_of(grid, p, range);
    double first = INFINITY;
    for (int r = range[2]; r <= range[3]; r++)
      for (int c = range[0]; c <= range[1]; c++) {
        size_t cell = (size_t)(r * grid->columns + c);
        for (size_t k = grid->start[cell]; k < grid->start[cell + 1]; k++) {
          const Chord *q = &grid->chord[grid->entry[k]];
          Point at;
          if ((p->line == q->line) != same_line || q <= p || neighbours(p, q) || !chords_meet(p, q, &at))
            continue;
          double along = point_distance(p->a, at);
          if (along < first) {
            first = along;
            *where = at;
          }
        }
      }
    if (isfinite(first))
      return true;
  }
  return false;
}

static Fault find(const Outline *const outline[], size_t n, Point *where)
{
  Grid grid = {0};
  Fault fault = FAULT_NONE;
  for (size_t i = 0; i < n && !fault; i++)
    fault = chords_of(outline[i], i, &grid.chord, &grid.n);
  if (!fault && grid.n > 1) {
    fault = grid_make(&grid);
    if (!fault && grid_search(&grid, n == 1, where))
      fault = FAULT_CROSSING;
  }
  free(grid.chord);
  free(grid.start);
  free(grid.entry);
  return fault;
}

Fault outline_find_crossing(const Outline *outline, Point *where)
{
  const Outline *const one[] = {outline};
  return find(one, 1, where);
}

Fault outlines_find_crossing(const Outline *a, const Outline *b, Point *where)
{
  const Outline *const both[] = {a, b};
  return find(both, 2, where);
}
