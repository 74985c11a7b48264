/* gap.c - the gap circle: the largest circle between the gum-side outline and the tissue line.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  Squares over the embrasure are halved as long as one may hold a centre that is
 * better than the best one known (branch and bound): the answer is the global one to GAP_MM.
 * Method: core/SOURCES.md "gap circle". */
#include "outline/form.h"
#include "base/tolerance.h"
#include "outline/hollow.h"
#include "outline/segment.h"
#include <stdlib.h>

#define GAP_MM 1.5e-3     /* half width of the search error of the radius            */
#define GAP_CHORD_MM 2e-4 /* chord error of the lines that the circle touches        */
#define STACK 4096        /* squares waiting; depth first, so that few ever wait     */
#define START 12          /* squares across the embrasure to begin with              */
#define ROWS_MAX 300
#define WORK_MAX 200000 /* squares looked at before giving up                      */

typedef struct {
  Point *at;
  size_t n;
} Line; /* borrowed points */

typedef struct {
  Line roof, gum;
  double left, right; /* the centre lies between the feet */
} Room;

typedef struct {
  Point centre;
  double half, radius; /* radius: of the largest circle around the centre */
} Square;

/* Distance to the line; *above tells whether a ray straight up from p meets it an odd number of
 * times. */
static double line_distance(Line line, Point p, bool *above)
{
  double best = INFINITY, k;
  bool odd = false;
  for (size_t i = 0; i + 1 < line.n; i++) {
    Point a = line.at[i], b = line.at[i + 1];
    double near = segment_near(p, a, b, &k);
    best = near < best ? near : best;
    if ((a.x > p.x) != (b.x > p.x) && a.y + (p.x - a.x) / (b.x - a.x) * (b.y - a.y) > p.y)
      odd = !odd;
  }
  *above = odd;
  return sqrt(best);
}

/* Radius of the largest circle around p that touches neither line; negative outside the room. */
static double room_at(const Room *room, Point p)
{
  bool below_roof, below_gum;
  double d =
      fmin(line_distance(room->roof, p, &below_roof), line_distance(room->gum, p, &below_gum));
  return below_roof && !below_gum ? d : -d;
}

static Square square_at(const Room *room, double x, double y, double half)
{
  return (Square){point(x, y), half, room_at(room, point(x, y))};
}

/* Covers the room with squares; returns how many. */
static size_t cover(const Room *room, double low, double high, Square square[])
{
  double width = room->right - room->left, height = high - low;
  double columns = fmax(1, round(START * width / fmax(width, height)));
  double half = width / (2 * columns), rows = ceil(height / (2 * half));
  size_t n = 0;
  if (rows > ROWS_MAX) /* a slit: no circle worth telling */
    return 0;
  for (double i = 0; i < columns; i++)
    for (double j = 0; j < rows; j++)
      square[n++] =
          square_at(room, room->left + (2 * i + 1) * half, low + (2 * j + 1) * half, half);
  return n;
}

static void better(const Square *square, Point *centre, double *best)
{
  if (square->radius > *best) {
    *best = square->radius;
    *centre = square->centre;
  }
}

/* Distance changes no faster than the place. */
static bool hopeless(const Square *square, double best)
{
  return square->radius + square->half * M_SQRT2 <= best + GAP_MM;
}

static Fault search(const Room *room, double low, double high, Point *centre, double *radius)
{
  Square *todo = malloc(STACK * sizeof *todo);
  if (todo == NULL)
    return FAULT_MEMORY;
  size_t n = cover(room, low, high, todo), work = 0;
  double best = 0;
  Fault fault = FAULT_NONE;
  for (size_t i = 0; i < n; i++) /* a good first answer cuts most of the work */
    better(&todo[i], centre, &best);
  while (n > 0 && fault == FAULT_NONE) {
    Square now = todo[--n];
    if (hopeless(&now, best))
      continue;
    if (n + 4 > STACK || ++work > WORK_MAX)
      fault = FAULT_NO_CONVERGENCE;
    double h = now.half / 2;
    for (int k = 0; k < 4 && fault == FAULT_NONE; k++) {
      todo[n] =
          square_at(room, now.centre.x + (k & 1 ? h : -h), now.centre.y + (k & 2 ? h : -h), h);
      better(&todo[n], centre, &best);
      if (!hopeless(&todo[n], best))
        n++;
    }
  }
  free(todo);
  *radius = best;
  return fault;
}

/* The tissue line as points, carried on level far to both sides. */
static Fault gum_line(const Outline *tissue, Line *gum)
{
  Polyline line = {0};
  Point flat[2] = {{0, 0}, {0, 0}};
  if (tissue != NULL) {
    Fault fault = outline_flatten(tissue, GAP_CHORD_MM, &line);
    if (fault != FAULT_NONE)
      return fault;
  }
  size_t n = tissue != NULL ? line.n : 2;
  const Point *at = tissue != NULL ? line.at : flat;
  gum->at = malloc((n + 2) * sizeof *gum->at);
  if (gum->at != NULL) {
    gum->n = n + 2;
    gum->at[0] = point(-3 * MAX_SIZE_MM, at[0].y);
    for (size_t i = 0; i < n; i++)
      gum->at[i + 1] = at[i];
    gum->at[n + 1] = point(3 * MAX_SIZE_MM, at[n - 1].y);
  }
  polyline_clear(&line);
  return gum->at != NULL ? FAULT_NONE : FAULT_MEMORY;
}

Fault gap_circle_find(const Outline *gingival, const Outline *tissue, Point *centre,
                      double *diameter)
{
  Turning turning = {0};
  Polyline line = {0};
  Line gum = {0};
  Point found = {0, 0};
  double radius = 0;
  Fault fault = turning_of(gingival, false, &turning);
  if (fault != FAULT_NONE)
    return fault;
  fault = outline_flatten(gingival, GAP_CHORD_MM, &line);
  if (fault == FAULT_NONE)
    fault = gum_line(tissue, &gum);
  if (fault == FAULT_NONE) {
    Hollow hollow = hollow_read(&turning);
    Room room = {{line.at, line.n}, gum, hollow.foot[0].x, hollow.foot[1].x};
    double low = 0;
    for (size_t i = 0; i < gum.n; i++)
      low = i == 0 ? gum.at[i].y : fmin(low, gum.at[i].y);
    found = hollow.roof;
    if (hollow.roof.y > low && room.right > room.left)
      fault = search(&room, low, hollow.roof.y, &found, &radius);
  }
  free(gum.at);
  polyline_clear(&line);
  turning_clear(&turning);
  if (fault == FAULT_NONE) {
    *centre = found;
    *diameter = 2 * radius;
  }
  return fault;
}
