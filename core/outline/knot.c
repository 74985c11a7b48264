/* knot.c - see knot.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "outline/knot.h"
#include "base/tolerance.h"
#include <stdint.h>
#include <string.h>

#define LEAST_KNOTS 3
#define MOST_GROWTH                                                                                \
  4.0 /* of a tangent beside a dropped knot: a sliver of a piece grows no loop                     \
       */

static size_t before(const Outline *outline, size_t i)
{
  return i > 0 ? i - 1 : outline->n - 1;
}

static size_t after(const Outline *outline, size_t i)
{
  return (i + 1) % outline->n;
}

bool knot_has(const Outline *outline, size_t i, KnotPart part)
{
  if (i >= outline->n)
    return false;
  return part == KNOT_ITSELF || outline->closed || (part == KNOT_IN ? i > 0 : i + 1 < outline->n);
}

Point knot_part_at(const Outline *outline, size_t i, KnotPart part)
{
  Point c[4];
  if (part == KNOT_ITSELF || !knot_has(outline, i, part))
    return i < outline->n ? outline->knot[i].at : point(NAN, NAN);
  outline_piece(outline, part == KNOT_IN ? before(outline, i) : i, c);
  return part == KNOT_IN ? c[2] : c[1];
}

size_t knot_near(const Outline *outline, Point at, double reach_mm, double *away)
{
  double least = reach_mm;
  size_t found = SIZE_MAX;
  for (size_t i = 0; i < outline->n; i++) {
    double distance = point_distance(outline->knot[i].at, at);
    if (distance < least) {
      least = distance;
      found = i;
    }
  }
  if (away)
    *away = least;
  return found;
}

static bool is_inside(const Outline *outline, size_t i)
{
  return knot_has(outline, i, KNOT_IN) && knot_has(outline, i, KNOT_OUT);
}

/* Arms of the tangents, as drawn. */
static Point arm(const Outline *outline, size_t i, KnotPart part)
{
  return point_sub(knot_part_at(outline, i, part), outline->knot[i].at);
}

bool knot_smooth(const Outline *outline, size_t i)
{
  if (i >= outline->n || !is_inside(outline, i))
    return false;
  Point in = arm(outline, i, KNOT_IN), out = arm(outline, i, KNOT_OUT);
  if (point_length(in) <= TOL_POINT_MM || point_length(out) <= TOL_POINT_MM)
    return false;
  double turn = atan2(fabs(point_cross(in, out)), -point_dot(in, out));
  return turn * 180 / M_PI <= KNOT_SMOOTH_DEG;
}

/* A piece that is to bend has both its tangents written down. */
static void piece_bend(Outline *outline, size_t i)
{
  Point c[4];
  outline_piece(outline, i, c);
  outline->knot[i].out = c[1];
  outline->knot[after(outline, i)].in = c[2];
}

Fault knot_move(Outline *outline, size_t i, KnotPart part, Point to)
{
  if (i >= outline->n || !knot_has(outline, i, part))
    return FAULT_RANGE;
  if (!point_finite(to))
    return FAULT_NOT_FINITE;
  if (fabs(to.x) > MAX_SIZE_MM || fabs(to.y) > MAX_SIZE_MM)
    return FAULT_RANGE;
  Knot *knot = &outline->knot[i];
  if (part == KNOT_ITSELF) {
    Point by = point_sub(to, knot->at);
    *knot = (Knot){to, point_add(knot->in, by), point_add(knot->out, by)};
    return FAULT_NONE;
  }
  bool smooth = knot_smooth(outline, i);
  if (point_distance(to, knot->at) <= 2 * TOL_POINT_MM)
    return FAULT_DEGENERATE;
  piece_bend(outline, part == KNOT_IN ? before(outline, i) : i);
  *(part == KNOT_IN ? &knot->in : &knot->out) = to;
  if (smooth) {
    piece_bend(outline, part == KNOT_IN ? i : before(outline, i));
    Point *other = part == KNOT_IN ? &knot->out : &knot->in;
    Point along = point_sub(knot->at, to);
    double k = point_distance(*other, knot->at) / point_length(along);
    *other = point_add(knot->at, point_scale(along, k));
  }
  return FAULT_NONE;
}

Fault knot_make_smooth(Outline *outline, size_t i)
{
  if (i >= outline->n || !is_inside(outline, i))
    return FAULT_RANGE;
  Point in = arm(outline, i, KNOT_IN), out = arm(outline, i, KNOT_OUT);
  double a = point_length(in), b = point_length(out);
  if (!(a > TOL_POINT_MM && b > TOL_POINT_MM))
    return FAULT_DEGENERATE;
  Point along = point_sub(point_scale(out, 1 / b), point_scale(in, 1 / a));
  double length = point_length(along);
  if (!(length > 1e-6)) /* it turns back on itself: straight across has no side */
    return FAULT_DEGENERATE;
  piece_bend(outline, before(outline, i));
  piece_bend(outline, i);
  Knot *knot = &outline->knot[i];
  knot->in = point_sub(knot->at, point_scale(along, a / length));
  knot->out = point_add(knot->at, point_scale(along, b / length));
  return FAULT_NONE;
}

Fault knot_make_sharp(Outline *outline, size_t i)
{
  if (i >= outline->n || !is_inside(outline, i))
    return FAULT_RANGE;
  piece_bend(outline, before(outline, i));
  piece_bend(outline, i);
  Knot *knot = &outline->knot[i];
  knot->in = point_mix(knot->at, outline->knot[before(outline, i)].at, 1.0 / 3);
  knot->out = point_mix(knot->at, outline->knot[after(outline, i)].at, 1.0 / 3);
  return FAULT_NONE;
}

Fault knot_drop(Outline *outline, size_t i)
{
  if (i >= outline->n)
    return FAULT_RANGE;
  if (!is_inside(outline, i) || outline->n <= LEAST_KNOTS + (outline->closed ? 1 : 0))
    return FAULT_DEGENERATE;
  size_t left = before(outline, i), right = after(outline, i);
  Point from = outline->knot[left].at, to = outline->knot[right].at;
  bool straight = point_distance(from, outline->knot[left].out) <= TOL_POINT_MM &&
                  point_distance(to, outline->knot[right].in) <= TOL_POINT_MM &&
                  point_distance(outline->knot[i].at, outline->knot[i].in) <= TOL_POINT_MM &&
                  point_distance(outline->knot[i].at, outline->knot[i].out) <= TOL_POINT_MM;
  if (!straight) {
    double a = point_length(arm(outline, i, KNOT_IN)), b = point_length(arm(outline, i, KNOT_OUT));
    if (!(a + b > 2 * TOL_POINT_MM))
      a = b = 1;
    double u = fmin(fmax(a / (a + b), 1 / MOST_GROWTH), 1 - 1 / MOST_GROWTH);
    if (knot_smooth(outline, i)) /* a split at u shortens them to u and 1 - u */
      u = fmin(fmax(a / (a + b), 1e-3), 1 - 1e-3);
    Point out = knot_part_at(outline, left, KNOT_OUT), in = knot_part_at(outline, right, KNOT_IN);
    outline->knot[left].out = point_mix(from, out, 1 / u);
    outline->knot[right].in = point_mix(to, in, 1 / (1 - u));
  }
  memmove(&outline->knot[i], &outline->knot[i + 1], (outline->n - i - 1) * sizeof *outline->knot);
  outline->n--;
  return FAULT_NONE;
}
