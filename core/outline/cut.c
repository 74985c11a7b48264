/* cut.c - outlines cut at a place, taken in part, and joined again.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Units mm.  Everything is built beside the outline and put in its place at the end, so that a
 * failure leaves it untouched. */
#include "outline/outline.h"
#include "outline/cubic.h"
#include "base/tolerance.h"

static bool straight(const Outline *outline, size_t i)
{
  const Knot *a = &outline->knot[i], *b = &outline->knot[(i + 1) % outline->n];
  return point_distance(a->at, a->out) <= TOL_POINT_MM &&
         point_distance(b->in, b->at) <= TOL_POINT_MM;
}

/* Appends piece i between u0 < u1; stubs shorter than the point tolerance are left out. */
static Fault append_piece(Outline *to, const Outline *from, size_t i, double u0, double u1)
{
  Point c[4], before[4], after[4];
  outline_piece(from, i, c);
  if (u1 < 1) {
    cubic_cut(c, u1, before, after);
    for (int k = 0; k < 4; k++)
      c[k] = before[k];
  }
  if (u0 > 0) {
    cubic_cut(c, u0 / u1, before, after);
    for (int k = 0; k < 4; k++)
      c[k] = after[k];
  }
  if (cubic_length(c, 0, 1) <= 2 * TOL_POINT_MM)
    return FAULT_NONE;
  return straight(from, i) ? outline_line_to(to, c[3]) : outline_curve_to(to, c[1], c[2], c[3]);
}

Fault outline_append_part(Outline *to, const Outline *from, double t0, double t1)
{
  size_t pieces = outline_pieces(from);
  if (!isfinite(t0) || !isfinite(t1))
    return FAULT_NOT_FINITE;
  if (pieces == 0 || t0 < 0 || t1 > (double)pieces || t0 > t1)
    return FAULT_RANGE;
  Fault fault = to->n == 0 ? outline_move_to(to, outline_at(from, t0)) : FAULT_NONE;
  for (size_t i = (size_t)t0; i < pieces && (double)i < t1 && !fault; i++) {
    double u0 = fmax(0, t0 - (double)i), u1 = fmin(1, t1 - (double)i);
    if (u0 < u1)
      fault = append_piece(to, from, i, u0, u1);
  }
  return fault;
}

/* Puts `made` in the place of `outline`, closed if that was. */
static Fault take(Outline *outline, Outline *made, Fault fault)
{
  if (!fault && outline->closed)
    fault = outline_close(made);
  if (fault) {
    outline_clear(made);
    return fault;
  }
  outline_clear(outline);
  *outline = *made;
  return FAULT_NONE;
}

Fault outline_split(Outline *outline, double t, size_t *knot)
{
  size_t pieces = outline_pieces(outline);
  if (!isfinite(t))
    return FAULT_NOT_FINITE;
  if (pieces == 0 || t < 0 || t > (double)pieces)
    return FAULT_RANGE;
  Point at = outline_at(outline, t);
  size_t near = (size_t)t < pieces ? (size_t)t : pieces - 1;
  for (size_t i = near; i <= near + 1; i++)
    if (fabs(t - (double)i) < 0.5 &&
        point_distance(at, outline->knot[i % outline->n].at) <= 2 * TOL_POINT_MM) {
      *knot = i % outline->n;
      return FAULT_NONE;
    }
  Outline made = {0};
  Fault fault = outline_append_part(&made, outline, 0, t);
  size_t index = made.n ? made.n - 1 : 0;
  if (!fault)
    fault = outline_append_part(&made, outline, t, (double)pieces);
  fault = take(outline, &made, fault);
  if (!fault)
    *knot = index;
  return fault;
}

/* ---- replace ---- */

static Point direction(const Outline *outline, double t)
{
  Point first, second;
  outline_derivatives(outline, t, &first, &second);
  double length = point_length(first);
  if (length <= TOL_POINT_MM) { /* a handle on its knot */
    first = point_scale(second, t < 0.5 ? 1 : -1);
    length = point_length(first);
  }
  return length > 0 ? point_scale(first, 1 / length) : point(1, 0);
}

/* The place `back` mm before (sign -1) or behind (+1) t, at most half of what is left there. */
static double step_along(const Outline *outline, double t, double back, int sign)
{
  double pieces = (double)outline_pieces(outline), limit = sign < 0 ? 0 : pieces;
  limit = t + (limit - t) / 2;
  double inner = t, outer = limit; /* halve on the straight distance: deterministic and enough */
  Point from = outline_at(outline, t);
  if (point_distance(from, outline_at(outline, limit)) <= back)
    return limit;
  for (int i = 0; i < 50; i++) {
    double middle = (inner + outer) / 2;
    if (point_distance(from, outline_at(outline, middle)) < back)
      inner = middle;
    else
      outer = middle;
  }
  return outer;
}

#define JOIN_GENTLE 2.5 /* a gap g is closed by an S of this many g of outline */

/* The smooth join from the last knot of `made` (direction d0) to p (direction d1). */
static Fault join_to(Outline *made, Point d0, Point p, Point d1)
{
  Point from = made->knot[made->n - 1].at;
  double arm = point_distance(from, p) / 3;
  return outline_curve_to(made, point_add(from, point_scale(d0, arm)),
                          point_sub(p, point_scale(d1, arm)), p);
}

static Fault replace_into(Outline *made, const Outline *outline, double t0, double t1,
                          const Outline *stretch)
{
  double pieces = (double)outline_pieces(outline), last = (double)outline_pieces(stretch);
  Point first = outline_at(stretch, 0), end = outline_at(stretch, last);
  bool head = t0 > 0 || outline->closed, tail = t1 < pieces || outline->closed;
  double gap0 = head ? point_distance(first, outline_at(outline, t0)) : 0;
  double gap1 = tail ? point_distance(end, outline_at(outline, t1)) : 0;
  Fault fault = FAULT_NONE;
  if (head) {
    if (gap0 > TOL_POINT_MM)
      t0 = step_along(outline, t0, JOIN_GENTLE * gap0, -1);
    fault = outline_append_part(made, outline, 0, t0);
    if (!fault && gap0 > TOL_POINT_MM)
      fault = join_to(made, direction(outline, t0), first, direction(stretch, 0));
  }
  if (!fault)
    fault = outline_append_part(made, stretch, 0, last);
  if (!fault && tail) {
    if (gap1 > TOL_POINT_MM) {
      t1 = step_along(outline, t1, JOIN_GENTLE * gap1, +1);
      fault =
          join_to(made, direction(stretch, last), outline_at(outline, t1), direction(outline, t1));
    }
    if (!fault)
      fault = outline_append_part(made, outline, t1, pieces);
  }
  return fault;
}

Fault outline_replace(Outline *outline, double t0, double t1, const Outline *stretch)
{
  if (!isfinite(t0) || !isfinite(t1))
    return FAULT_NOT_FINITE;
  Fault fault = outline_check(outline);
  if (!fault)
    fault = outline_check(stretch);
  if (fault)
    return fault;
  if (stretch->closed || t0 < 0 || t0 >= t1 || t1 > (double)outline_pieces(outline))
    return FAULT_RANGE;
  Outline made = {0};
  fault = replace_into(&made, outline, t0, t1, stretch);
  return take(outline, &made, fault);
}
