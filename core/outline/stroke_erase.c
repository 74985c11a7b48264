/* stroke_erase.c - a stretch of an outline rubbed out: a plain join takes its place.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  What lies within reach of the eraser's path goes, run by run; the ends of each run
 * are joined by one cubic in the directions that the outline has there, or by a straight line where
 * those do not lead across.  The ends of the outline itself stay where they are. */
#include "outline/stroke.h"
#include "base/tolerance.h"
#include "outline/segment.h"
#include <stdlib.h>

#define STEP_SHARE 0.1   /* of the reach: how finely the runs are found            */
#define STEPS_MOST 20000 /* at most                                                */
#define ACROSS 0.5       /* cosine: an end must lead across at least this directly */
#define ARM (1.0 / 3)    /* of the chord                                           */

typedef struct {
  double t0, t1;
} Run;

static bool touched(Point p, const PenPoint pen[], size_t n, double reach)
{
  double k;
  for (size_t i = 0; i + 1 < n; i++)
    if (segment_near(p, pen[i].at, pen[i + 1].at, &k) <= reach * reach)
      return true;
  return n == 1 && point_distance(p, pen[0].at) <= reach;
}

/* The runs of the outline within reach, in order; at most `room`, the rest stays. */
static Fault runs_find(const Outline *outline, const PenPoint pen[], size_t n, double reach,
                       Run run[], size_t room, size_t *found)
{
  Polyline line = {0};
  Fault fault = outline_flatten(outline, TOL_FLATTEN_MM, &line);
  if (fault != FAULT_NONE)
    return fault;
  double length = line.s[line.n - 1];
  size_t steps = (size_t)fmin(fmax(length / (STEP_SHARE * reach), 100), STEPS_MOST), k = 0;
  bool inside = false;
  *found = 0;
  for (size_t i = 0; i <= steps; i++) {
    double s = length * (double)i / (double)steps;
    while (k + 2 < line.n && line.s[k + 1] < s)
      k++;
    double part = fmin(fmax((s - line.s[k]) / (line.s[k + 1] - line.s[k]), 0), 1),
           t = line.t[k] + part * (line.t[k + 1] - line.t[k]);
    if (touched(point_mix(line.at[k], line.at[k + 1], part), pen, n, reach)) {
      if (!inside && *found == room)
        break;
      if (!inside)
        run[(*found)++].t0 = t;
      run[*found - 1].t1 = t;
      inside = true;
    } else
      inside = false;
  }
  polyline_clear(&line);
  return FAULT_NONE;
}

static Point heading(const Outline *outline, double t)
{
  Point first;
  outline_derivatives(outline, t, &first, NULL);
  double length = point_length(first);
  return length > 0 ? point_scale(first, 1 / length) : point(0, 0);
}

static Fault run_join(Outline *outline, Run run, bool straight)
{
  Outline join = {0};
  Point from = outline_at(outline, run.t0), to = outline_at(outline, run.t1);
  double chord = point_distance(from, to);
  if (!(chord > 2 * TOL_POINT_MM))
    return FAULT_DEGENERATE;
  Point across = point_scale(point_sub(to, from), 1 / chord),
        leave = heading(outline, fmax(run.t0 - 1e-6, 0)),
        arrive = heading(outline, fmin(run.t1 + 1e-6, (double)outline_pieces(outline)));
  Fault fault = outline_move_to(&join, from);
  bool smooth =
      !straight && point_dot(leave, across) >= ACROSS && point_dot(arrive, across) >= ACROSS;
  if (fault == FAULT_NONE)
    fault = smooth ? outline_curve_to(&join, point_add(from, point_scale(leave, ARM * chord)),
                                      point_sub(to, point_scale(arrive, ARM * chord)), to)
                   : outline_line_to(&join, to);
  if (fault == FAULT_NONE)
    fault = outline_replace(outline, run.t0, run.t1, &join);
  outline_clear(&join);
  return fault;
}

#define RUNS 16

static Fault runs_join(Outline *made, const Outline *outline, const Run run[], size_t n,
                       bool straight, Point *crossing)
{
  Fault fault = outline_copy(made, outline);
  for (size_t i = n; i-- > 0 && fault == FAULT_NONE;) /* the places before it keep theirs */
    fault = run_join(made, run[i], straight);
  return fault != FAULT_NONE ? fault : outline_find_crossing(made, crossing);
}

Fault stroke_erase(Outline *outline, const PenPoint pen[], size_t n, double reach_mm, Point *where)
{
  if (!(reach_mm > 0) || !(reach_mm <= MAX_SIZE_MM) || outline->closed)
    return FAULT_RANGE;
  for (size_t i = 0; i < n; i++)
    if (!point_finite(pen[i].at))
      return FAULT_NOT_FINITE;
  Outline made = {0};
  Run run[RUNS];
  size_t found = 0, kept = 0;
  Point crossing = {0, 0};
  Fault fault = outline_check(outline);
  if (fault == FAULT_NONE)
    fault = runs_find(outline, pen, n, reach_mm, run, RUNS, &found);
  for (size_t i = 0; i < found; i++) /* touched in one point: nothing to rub out */
    if (run[i].t1 > run[i].t0)
      run[kept++] = run[i];
  if (fault == FAULT_NONE && kept == 0)
    fault = FAULT_DEGENERATE;
  if (fault == FAULT_NONE)
    fault = runs_join(&made, outline, run, kept, false, &crossing);
  if (fault == FAULT_CROSSING)
    fault = runs_join(&made, outline, run, kept, true, &crossing);
  if (fault != FAULT_NONE) {
    if (fault == FAULT_CROSSING && where != NULL)
      *where = crossing;
    outline_clear(&made);
    return fault;
  }
  outline_clear(outline);
  *outline = made;
  return FAULT_NONE;
}
