/* embrasure.c - the embrasure as it stands in a gum-side outline.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, rad.  Roof, feet and legs are those that the readings use (hollow.h). */
#include "base/tolerance.h"
#include "outline/hollow.h"
#include "outline/shape_parts.h"

#define LEAST_DEPTH_MM 0.1            /* shallower is no embrasure          */
#define SETTLED_TURN (2 * M_PI / 180) /* the leg begins this near its lean  */

/* x of the first place outward from the roof whose direction is that of the leg. */
static double settled_at(const Turning *turning, const Hollow *hollow, int side)
{
  size_t foot = hollow->foot_at[side], i = foot;
  double steep = (90 - hollow->lean_deg[side]) * M_PI / 180 - SETTLED_TURN;
  double found = hollow->foot[side].x;
  for (; turning->place[i].t != hollow->roof_t; i = side == 0 ? i + 1 : i - 1) {
    const TurnPlace *p = &turning->place[i];
    if (side == 0 ? p->t > hollow->roof_t : p->t < hollow->roof_t)
      break;
    if ((side == 0 ? p->theta : -p->theta) >= steep)
      found = p->at.x; /* the last one on the way to the roof */
  }
  return found;
}

/* Moves the roof from the nearest place of the polyline to the top of the curve itself. */
static void roof_refine(const Outline *gingival, Embrasure *e)
{
  double low = fmax(e->roof_t - 0.5, 0);
  double high = fmin(e->roof_t + 0.5, (double)outline_pieces(gingival));
  Point d0, d1;
  outline_derivatives(gingival, low, &d0, NULL);
  outline_derivatives(gingival, high, &d1, NULL);
  if (!(d0.y > 0 && d1.y < 0)) /* a flat roof: its middle */
    return;
  for (int i = 0; i < 60; i++) {
    double t = (low + high) / 2;
    outline_derivatives(gingival, t, &d0, NULL);
    if (d0.y > 0)
      low = t;
    else
      high = t;
  }
  Point top = outline_at(gingival, low);
  if (top.y > e->roof.y) {
    e->roof = top;
    e->roof_t = low;
  }
}

Fault embrasure_read(const Outline *gingival, Embrasure *embrasure)
{
  Turning turning = {0};
  if (gingival->closed)
    return FAULT_RANGE;
  Fault fault = turning_of(gingival, false, &turning);
  if (fault)
    return fault;
  Hollow hollow = hollow_read(&turning);
  Embrasure e = {.roof = hollow.roof, .roof_t = hollow.roof_t};
  if (!(hollow.depth >= LEAST_DEPTH_MM))
    fault = FAULT_RANGE;
  else
    roof_refine(gingival, &e);
  for (int side = 0; side < 2 && !fault; side++) {
    e.foot[side] = hollow.foot[side];
    e.foot_t[side] = turning.place[hollow.foot_at[side]].t;
    e.lean[side] = hollow.lean_deg[side] * M_PI / 180;
    e.settled[side] = settled_at(&turning, &hollow, side);
    if (!((side ? e.foot[1].x - e.roof.x : e.roof.x - e.foot[0].x) > TOL_POINT_MM))
      fault = FAULT_RANGE; /* the roof does not stand between the feet */
  }
  if (!fault) {
    Arc arc;
    e.radius = turning_radius(&turning, hollow.zone_lo, hollow.zone_hi, &arc).value;
    *embrasure = e;
  }
  turning_clear(&turning);
  return fault;
}

Fault embrasure_replace(const Outline *gingival, const Embrasure *embrasure, const Outline *roof,
                        Outline *outline)
{
  Outline fresh = {0};
  Fault fault = outline_append_part(&fresh, gingival, 0, embrasure->foot_t[0]);
  if (!fault)
    fault = outline_append_part(&fresh, roof, 0, (double)outline_pieces(roof));
  if (!fault)
    fault = outline_append_part(&fresh, gingival, embrasure->foot_t[1],
                                (double)outline_pieces(gingival));
  return shape_hand_over(&fresh, fault, outline);
}

Fault shape_hand_over(Outline *fresh, Fault fault, Outline *outline)
{
  if (!fault)
    fault = outline_check(fresh);
  if (fault) {
    outline_clear(fresh);
    return fault;
  }
  outline_clear(outline);
  *outline = *fresh;
  return FAULT_NONE;
}
