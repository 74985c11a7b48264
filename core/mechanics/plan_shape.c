/* plan_shape.c - see plan_shape.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "mechanics/plan_shape.h"
#include "base/phrase.h"
#include "base/tolerance.h"
#include "outline/form.h"
#include "outline/knot.h"

#define BACK_MM 1e-3 /* a line that goes back by less stands upright */

Fault plan_move_knot(Outline *plan, size_t knot, Point to)
{
  if (knot >= plan->n)
    return FAULT_RANGE;
  if (knot == 0 || knot + 1 == plan->n)
    to.x = plan->knot[knot].at.x;
  return knot_move(plan, knot, KNOT_ITSELF, to);
}

Fault plan_mirror(const Outline *plan, Outline *made)
{
  Fault fault = outline_copy(made, plan);
  if (!fault)
    outline_transform(made, (const double[6]){1, 0, 0, -1, 0, 0});
  return fault;
}

/* It stays on its side of the middle and runs on from one tooth to the other: ribs take the first
 * place at their x, and would leave out what hangs over. */
static Fault course_check(const Outline *plan, int sign, Point *where, const char **reason)
{
  Polyline line = {0};
  Fault fault = outline_flatten(plan, TOL_FLATTEN_MM, &line);
  double least = INFINITY, ahead = -INFINITY, back = 0;
  Point nearest = {0, 0}, hanging = {0, 0};
  for (size_t i = 0; i < line.n && !fault; i++) {
    Point at = line.at[i];
    if (sign * at.y < least) {
      least = sign * at.y;
      nearest = at;
    }
    if (ahead - at.x > back) {
      back = ahead - at.x;
      hanging = at;
    }
    ahead = fmax(ahead, at.x);
  }
  polyline_clear(&line);
  if (fault || (least >= PLAN_LEAST_MM && back <= BACK_MM))
    return fault;
  *where = least < PLAN_LEAST_MM ? nearest : hanging;
  *reason = least < PLAN_LEAST_MM
                ? N_("This side comes closer than 0.15 mm to the middle here. Move it outwards.")
                : N_("The line turns back here, so the ribs would fold. Lead it on from one tooth "
                     "to the other.");
  return least < PLAN_LEAST_MM ? FAULT_NO_NECK : FAULT_FOLD;
}

static Fault line_check(const Outline *plan, int sign, Point *where, const char **reason)
{
  Fault fault = outline_check(plan);
  if (!fault)
    fault = outline_find_crossing(plan, where);
  *reason = fault_text(fault);
  return fault ? fault : course_check(plan, sign, where, reason);
}

Fault plan_check(const LoftInput *input, Point *where, const char **reason)
{
  Form form;
  Point at = {0, 0};
  *where = at;
  Fault fault = line_check(input->buccal, 1, where, reason);
  if (!fault)
    fault = line_check(input->lingual, -1, where, reason);
  if (fault)
    return fault;
  Loft *loft = NULL;
  LoftInput at_neck = *input;
  fault =
      form_neck_read(input->gingival, input->occlusal, input->buccal, input->lingual, &form, &at);
  if (!fault) {
    at_neck.neck_x = form.neck_x;
    fault = loft_new(&at_neck, &loft, &at);
  }
  loft_free(loft);
  *where = point(at.x, 0);
  *reason = fault_text(fault);
  return fault;
}
