/* outline.c - knots and builders of a drawn line.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Units mm.  A straight piece is one whose two handles lie on their knots; outline_piece() gives it
 * handles at the thirds, so that every piece has an even parameter and a derivative at its ends. */
#include "outline/outline.h"
#include "base/tolerance.h"
#include <stdlib.h>
#include <string.h>

#define MAX_KNOTS 100000
#define MAX_COORDINATE 1e9 /* before a transform to mm; outline_check() is stricter */
#define ARC_STEP (M_PI / 6)

void outline_init(Outline *outline)
{
  *outline = (Outline){0};
}

void outline_clear(Outline *outline)
{
  if (!outline)
    return;
  free(outline->knot);
  *outline = (Outline){0};
}

Fault outline_copy(Outline *to, const Outline *from)
{
  if (to == from)
    return FAULT_NONE;
  Knot *knot = NULL;
  if (from->n > 0) {
    knot = malloc(from->n * sizeof *knot);
    if (!knot)
      return FAULT_MEMORY;
    memcpy(knot, from->knot, from->n * sizeof *knot);
  }
  free(to->knot);
  *to = (Outline){.knot = knot, .n = from->n, .room = from->n, .closed = from->closed};
  return FAULT_NONE;
}

bool outline_equal(const Outline *a, const Outline *b, double tolerance_mm)
{
  if (a->n != b->n || a->closed != b->closed)
    return false;
  for (size_t i = 0; i < a->n; i++) {
    const Knot *p = &a->knot[i], *q = &b->knot[i];
    if (!(point_distance(p->at, q->at) <= tolerance_mm &&
          point_distance(p->in, q->in) <= tolerance_mm &&
          point_distance(p->out, q->out) <= tolerance_mm))
      return false;
  }
  return true;
}

static bool same(Point a, Point b)
{
  return point_distance(a, b) <= TOL_POINT_MM;
}

static bool fits(Point p)
{
  return fabs(p.x) <= MAX_SIZE_MM && fabs(p.y) <= MAX_SIZE_MM;
}

Fault outline_check(const Outline *outline)
{
  if (outline->n < (outline->closed ? 3 : 2))
    return FAULT_DEGENERATE;
  for (size_t i = 0; i < outline->n; i++) {
    const Knot *k = &outline->knot[i];
    if (!point_finite(k->at) || !point_finite(k->in) || !point_finite(k->out))
      return FAULT_NOT_FINITE;
    if (!fits(k->at) || !fits(k->in) || !fits(k->out))
      return FAULT_RANGE;
  }
  for (size_t i = 0; i < outline_pieces(outline); i++) {
    Point c[4];
    outline_piece(outline, i, c);
    if (same(c[0], c[1]) && same(c[0], c[2]) && same(c[0], c[3]))
      return FAULT_DEGENERATE;
  }
  return FAULT_NONE;
}

/* ---- builders ---- */

static Fault point_check(Point p)
{
  if (!point_finite(p))
    return FAULT_NOT_FINITE;
  return fabs(p.x) <= MAX_COORDINATE && fabs(p.y) <= MAX_COORDINATE ? FAULT_NONE : FAULT_RANGE;
}

static Fault append(Outline *outline, Knot knot)
{
  if (outline->n >= MAX_KNOTS)
    return FAULT_ROOM;
  if (outline->n == outline->room) {
    size_t room = outline->room ? 2 * outline->room : 16;
    Knot *grown = realloc(outline->knot, room * sizeof *grown);
    if (!grown)
      return FAULT_MEMORY;
    outline->knot = grown;
    outline->room = room;
  }
  outline->knot[outline->n++] = knot;
  return FAULT_NONE;
}

Fault outline_move_to(Outline *outline, Point p)
{
  Fault fault = point_check(p);
  if (fault)
    return fault;
  if (outline->n > 0)
    return FAULT_RANGE;
  return append(outline, (Knot){p, p, p});
}

Fault outline_line_to(Outline *outline, Point p)
{
  Fault fault = point_check(p);
  if (fault)
    return fault;
  if (outline->n == 0 || outline->closed || same(outline->knot[outline->n - 1].at, p))
    return FAULT_DEGENERATE;
  return append(outline, (Knot){p, p, p});
}

Fault outline_curve_to(Outline *outline, Point c1, Point c2, Point p)
{
  Fault fault = point_check(c1);
  if (!fault)
    fault = point_check(c2);
  if (!fault)
    fault = point_check(p);
  if (fault)
    return fault;
  if (outline->n == 0 || outline->closed)
    return FAULT_DEGENERATE;
  Point last = outline->knot[outline->n - 1].at;
  if (same(last, c1) && same(last, c2) && same(last, p))
    return FAULT_DEGENERATE;
  fault = append(outline, (Knot){.at = p, .in = c2, .out = p});
  if (!fault)
    outline->knot[outline->n - 2].out = c1;
  return fault;
}

static Point turned(Point v, double angle)
{
  double c = cos(angle), s = sin(angle);
  return point(c * v.x - s * v.y, s * v.x + c * v.y);
}

Fault outline_arc_to(Outline *outline, Point centre, double angle)
{
  if (!point_finite(centre) || !isfinite(angle))
    return FAULT_NOT_FINITE;
  if (outline->n == 0 || outline->closed)
    return FAULT_DEGENERATE;
  Point arm = point_sub(outline->knot[outline->n - 1].at, centre);
  if (fabs(angle) > 2 * M_PI + 1e-9)
    return FAULT_RANGE;
  if (point_length(arm) * fabs(angle) <= TOL_POINT_MM)
    return FAULT_DEGENERATE;
  /* handle length of the cubic that touches the arc at both ends and in its middle */
  size_t n = (size_t)ceil(fabs(angle) / ARC_STEP - 1e-9), was = outline->n;
  Knot first = outline->knot[was - 1];
  double step = angle / (double)n, k = 4.0 / 3.0 * tan(step / 4);
  for (size_t i = 0; i < n; i++) {
    Point a = turned(arm, step * (double)i);
    Point b = turned(arm, i + 1 < n ? step * (double)(i + 1) : angle);
    Point c1 = point(a.x - k * a.y, a.y + k * a.x), c2 = point(b.x + k * b.y, b.y - k * b.x);
    Fault fault = outline_curve_to(outline, point_add(centre, c1), point_add(centre, c2),
                                   point_add(centre, b));
    if (fault) {
      outline->n = was;
      outline->knot[was - 1] = first;
      return fault;
    }
  }
  return FAULT_NONE;
}

Fault outline_close(Outline *outline)
{
  if (outline->closed || outline->n < 3)
    return FAULT_DEGENERATE;
  Knot *first = outline->knot, *last = &outline->knot[outline->n - 1];
  if (same(first->at, last->at)) {
    if (outline->n < 4)
      return FAULT_DEGENERATE;
    first->in = same(last->in, last->at) ? first->at : last->in;
    outline->n--;
  }
  outline->closed = true;
  return FAULT_NONE;
}

/* How far the rounding of corner i reaches along its legs; *turn is its change of direction. */
static double corner_reach(const Corner corner[], size_t i, double *turn)
{
  Point before = point(corner[i].x - corner[i - 1].x, corner[i].y - corner[i - 1].y);
  Point after = point(corner[i + 1].x - corner[i].x, corner[i + 1].y - corner[i].y);
  *turn = atan2(point_cross(before, after), point_dot(before, after));
  return corner[i].r * tan(fabs(*turn) / 2);
}

static Fault corners_append(Outline *outline, const Corner corner[], size_t n)
{
  Fault fault = outline_move_to(outline, point(corner[0].x, corner[0].y));
  double left = 0; /* reach of the corner before */
  for (size_t i = 1; i < n && !fault; i++) {
    Point from = point(corner[i - 1].x, corner[i - 1].y), at = point(corner[i].x, corner[i].y);
    double leg = point_distance(from, at), turn = 0;
    double reach = i + 1 < n ? corner_reach(corner, i, &turn) : 0;
    if (leg <= TOL_POINT_MM)
      return FAULT_DEGENERATE;
    if (!(left + reach <= leg + TOL_POINT_MM))
      return FAULT_RANGE;
    bool round = corner[i].r * fabs(turn) > TOL_POINT_MM && reach > TOL_POINT_MM;
    if (!round)
      reach = 0;
    Point to = point_mix(at, from, reach / leg);
    if (leg - left - reach > 2 * TOL_POINT_MM)
      fault = outline_line_to(outline, to);
    if (!fault && round) {
      Point along = point_scale(point_sub(at, from), copysign(corner[i].r, turn) / leg);
      fault = outline_arc_to(outline, point(to.x - along.y, to.y + along.x), turn);
    }
    left = reach;
  }
  return fault;
}

Fault outline_from_corners(Outline *outline, const Corner corner[], size_t n)
{
  if (n < 2)
    return FAULT_DEGENERATE;
  for (size_t i = 0; i < n; i++) {
    if (!isfinite(corner[i].x) || !isfinite(corner[i].y) || !isfinite(corner[i].r))
      return FAULT_NOT_FINITE;
    if (!fits(point(corner[i].x, corner[i].y)) || corner[i].r < 0 || corner[i].r > MAX_SIZE_MM)
      return FAULT_RANGE;
  }
  if (corner[0].r > 0 || corner[n - 1].r > 0) /* an end cannot be rounded */
    return FAULT_RANGE;
  Outline made = {0};
  Fault fault = corners_append(&made, corner, n);
  if (fault) {
    outline_clear(&made);
    return fault;
  }
  outline_clear(outline);
  *outline = made;
  return FAULT_NONE;
}

Fault outline_from_points(Outline *outline, const Point at[], size_t n, bool closed)
{
  if (n < 2)
    return FAULT_DEGENERATE;
  Outline made = {0};
  Fault fault = outline_move_to(&made, at[0]);
  for (size_t i = 1; i < n && !fault; i++)
    fault = outline_line_to(&made, at[i]);
  if (!fault && closed)
    fault = outline_close(&made);
  if (fault) {
    outline_clear(&made);
    return fault;
  }
  outline_clear(outline);
  *outline = made;
  return FAULT_NONE;
}

/* ---- whole-outline changes ---- */

static Point mapped(const double m[6], Point p)
{
  return point(m[0] * p.x + m[2] * p.y + m[4], m[1] * p.x + m[3] * p.y + m[5]);
}

void outline_transform(Outline *outline, const double matrix[6])
{
  for (size_t i = 0; i < outline->n; i++) {
    Knot *k = &outline->knot[i];
    *k = (Knot){
        .at = mapped(matrix, k->at), .in = mapped(matrix, k->in), .out = mapped(matrix, k->out)};
  }
}

void outline_reverse(Outline *outline)
{
  size_t n = outline->n;
  for (size_t i = 0; i < n / 2; i++) {
    Knot swap = outline->knot[i];
    outline->knot[i] = outline->knot[n - 1 - i];
    outline->knot[n - 1 - i] = swap;
  }
  for (size_t i = 0; i < n; i++) {
    Knot *k = &outline->knot[i];
    *k = (Knot){.at = k->at, .in = k->out, .out = k->in};
  }
}

void outline_mirror(Outline *outline, double axis)
{
  outline_transform(outline, (const double[6]){-1, 0, 0, 1, 2 * axis, 0});
  outline_reverse(outline);
}
