/* plane_bridge_body.c - the connectors' outlines joined to one, and the thickness along its ribs.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  The outlines of neighbouring connectors meet at the middle of the unit between them. */
#include "plane_bridge_body.h"
#include "base/tolerance.h"
#include "plane_body.h"

static Fault join(Outline *to, const Outline *part, double shift, double from_x, double to_x,
                  bool back)
{
  Outline moved;
  outline_init(&moved);
  Fault fault = outline_copy(&moved, part);
  if (!fault) {
    outline_transform(&moved, (const double[6]){1, 0, 0, 1, shift, 0});
    double t0 = plane_place_of_x(&moved, from_x, false), t1 = plane_place_of_x(&moved, to_x, true),
           last = (double)outline_pieces(&moved);
    if (back) {
      outline_reverse(&moved);
      double swap = last - t0;
      t0 = last - t1, t1 = swap;
    }
    Point start = outline_at(&moved, t0);
    if (to->n == 0)
      fault = outline_move_to(to, start);
    else if (point_distance(to->knot[to->n - 1].at, start) > 1e-4)
      fault = outline_line_to(to, start);
    else
      to->knot[to->n - 1].at = start;
    if (!fault)
      fault = t1 > t0 ? outline_append_part(to, &moved, t0, t1) : FAULT_NO_NECK;
  }
  outline_clear(&moved);
  return fault;
}

double bridge_middle(const BridgeUnit *unit)
{
  return (unit->x0 + unit->x1) / 2;
}

static Fault corner_add(Outline *o, Point p)
{
  if (o->n == 0)
    return outline_move_to(o, p);
  return point_distance(o->knot[o->n - 1].at, p) > 1e-4 ? outline_line_to(o, p) : FAULT_NONE;
}

/* An outline of a neck that is missing, or does not lead from the middle of one unit to the next.
 */
static Point at_neck(const BridgeInput *in, size_t neck)
{
  return point(in->neck[neck].neck_x, (in->unit[neck].low + in->unit[neck].high) / 2);
}

static Fault bridge_outline(const BridgeInput *in, Outline *o, Point *where)
{
  const BridgeUnit *first = &in->unit[0], *last = &in->unit[in->n_unit - 1];
  Fault fault = corner_add(o, point(first->x0, first->low));
  for (size_t i = 0; i + 1 < in->n_unit && !fault; i++) {
    fault = join(o, in->neck[i].outline.gingival, in->neck[i].neck_x, bridge_middle(&in->unit[i]),
                 bridge_middle(&in->unit[i + 1]), false);
    if (fault)
      *where = at_neck(in, i);
  }
  if (!fault)
    fault = corner_add(o, point(last->x1, last->low));
  if (!fault)
    fault = corner_add(o, point(last->x1, last->high));
  for (size_t i = in->n_unit - 1; i-- > 0 && !fault;) {
    fault = join(o, in->neck[i].outline.occlusal, in->neck[i].neck_x, bridge_middle(&in->unit[i]),
                 bridge_middle(&in->unit[i + 1]), true);
    if (fault)
      *where = at_neck(in, i);
  }
  if (!fault)
    fault = corner_add(o, point(first->x0, first->high));
  return fault ? fault : outline_close(o);
}

/* ---- thickness: of the crown, made softer where the stump is ---- */

double bridge_body_thickness(Point at, const void *data)
{
  const BridgeBody *b = data;
  size_t i = 0;
  while (i + 2 < b->n_unit && at.x > bridge_middle(&b->unit[i + 1]))
    i++;
  double t = thickness_at(point(at.x - b->neck_x[i], at.y), &b->thickness[i]);
  size_t in = at.x <= b->unit[i].x1 ? i : i + 1;
  const BridgeUnit *unit = &b->unit[in];
  bool in_stump = unit->supported && at.x > unit->x0 + SHELL_MM && at.x < unit->x1 - SHELL_MM &&
                  at.y < unit->high - SHELL_TOP && t > 2 * SHELL_MM;
  return in_stump ? 2 * SHELL_MM + (t - 2 * SHELL_MM) * b->stump_share[in] : t;
}

static Fault units_take(BridgeBody *b, const BridgeInput *in, Point *where)
{
  if (in->n_unit < 2 || in->n_unit > SPAN_MAX_UNITS)
    return FAULT_RANGE;
  if (!(in->young_mpa > 0 && in->poisson >= 0 && in->poisson <= 0.49))
    return FAULT_RANGE;
  b->n_unit = in->n_unit;
  for (size_t i = 0; i < in->n_unit; i++) {
    const BridgeUnit *unit = &in->unit[i];
    b->unit[i] = *unit;
    b->stump_share[i] = unit->stump_mpa / in->young_mpa;
    bool sized = unit->x1 - unit->x0 > MIN_NECK_MM && unit->high - unit->low > MIN_NECK_MM;
    if (!sized || (unit->supported && !(unit->stump_mpa > 0 && isfinite(unit->stump_mpa)))) {
      *where = point(bridge_middle(unit), (unit->low + unit->high) / 2);
      return FAULT_RANGE;
    }
  }
  for (size_t i = 0; i + 1 < in->n_unit; i++) {
    const LoftInput *line = &in->neck[i].outline;
    double x = in->neck[i].neck_x;
    Loft *loft = NULL;
    Point fold;
    *where = at_neck(in, i);
    if (line->gingival->n < 2 || line->occlusal->n < 2 || line->buccal->n < 2 ||
        line->lingual->n < 2)
      return FAULT_NO_NECK; /* not there */
    if (loft_new(line, &loft, &fold))
      loft = NULL; /* ribs fold: upright lines */
    Fault fault = thickness_make(&b->thickness[i], line, loft, bridge_middle(&in->unit[i]) - x,
                                 bridge_middle(&in->unit[i + 1]) - x);
    loft_free(loft);
    if (fault)
      return fault;
    b->neck_x[i] = x;
  }
  *where = point(NAN, NAN);
  return FAULT_NONE;
}

Fault bridge_body_make(BridgeBody *body, const BridgeInput *input, Outline *closed, Point *where)
{
  Fault fault = units_take(body, input, where);
  return fault ? fault : bridge_outline(input, closed, where);
}
