/* shape.c - starters and propositions.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  Everything is made of straight lines and circular arcs. */
#include "base/tolerance.h"
#include "outline/shape.h"
#include "outline/shape_parts.h"

#define STARTER_LEAN_DEG 10
#define STARTER_V_RADIUS 0.2
#define STARTER_FOOT_LEAST 0.25
#define STARTER_ROOF_LEAST 0.2
#define MOST_OF_BODY 0.8 /* a notch takes at most this part of the half unit */
#define LEAST_RISE 0.05  /* the body lies at least this far outside the bottom of its notch */
#define PLAN_RADIUS_LEAST 0.8
#define PLAN_RADIUS_MOST 2.5
#define PLAN_RADIUS_SPARE 1.05 /* the plan arc reaches past the roof arc */
#define SHOULDER_RADIUS                                                                            \
  1.5                      /* mm, where a notch meets the body: no tooth has an edge there        */
#define SHOULDER_ROOM 0.45 /* at most this part of the leg and of the body */
#define STEEPEN_DEG 2
#define DEGREE (M_PI / 180)

static bool around_fits(const Neighbours *around)
{
  for (int i = 0; i < 2; i++)
    if (!(around->length[i] > 0.2 && around->length[i] < MAX_SIZE_MM && around->width[i] > 0 &&
          around->width[i] < MAX_SIZE_MM && around->height[i] > 0 &&
          around->height[i] < MAX_SIZE_MM))
      return false;
  return true;
}

Fault shape_gingival(const Corner corner[], size_t n, const Neighbours *around, Outline *outline)
{
  Corner all[SHAPE_MAX_CORNERS + 2];
  if (!around_fits(around) || n < 2 || n > SHAPE_MAX_CORNERS)
    return FAULT_RANGE;
  for (size_t i = 0; i < n; i++) {
    if (!(fabs(corner[i].x) < MAX_SIZE_MM && fabs(corner[i].y) < MAX_SIZE_MM && corner[i].r >= 0))
      return FAULT_RANGE;
    all[i + 1] = corner[i];
  }
  if (corner[0].x <= -around->length[0] || corner[n - 1].x >= around->length[1])
    return FAULT_RANGE;
  all[0] = (Corner){-around->length[0], corner[0].y, 0};
  all[n + 1] = (Corner){around->length[1], corner[n - 1].y, 0};
  return outline_from_corners(outline, all, n + 2);
}

/* One side of a notch that opens upward: where its arc and its leg end. */
typedef struct {
  double turn;         /* of the arc, rad       */
  double arc_x, arc_y; /* above the bottom      */
  double foot, rise;
} NotchSide;

static NotchSide notch_side(double radius, double open_deg, double rise, double length)
{
  NotchSide side = {.rise = fmax(rise, LEAST_RISE)};
  double half = open_deg / 2 * DEGREE, least = LEAST_LEAN;
  for (;;
       half = fmax(least, half - STEEPEN_DEG * DEGREE)) { /* steeper until it fits the half unit */
    side.turn = 90 * DEGREE - half;
    if (radius * (1 - cos(side.turn)) > side.rise)
      side.turn = acos(1 - side.rise / radius);
    side.arc_x = radius * sin(side.turn);
    side.arc_y = radius * (1 - cos(side.turn));
    side.foot = side.arc_x + (side.rise - side.arc_y) * tan(half);
    if (side.foot <= MOST_OF_BODY * length || half <= least)
      return side;
  }
}

/* How far a rounded shoulder reaches from its corner, along the leg and along the body: whichever
 * is shorter gives the room. */
static double shoulder_reach(const NotchSide *side, double length)
{
  double leg = hypot(side->foot - side->arc_x, side->rise - side->arc_y);
  double reach = SHOULDER_RADIUS * tan(side->turn / 2);
  return fmin(reach, SHOULDER_ROOM * fmin(leg, length - side->foot));
}

/* From the notch's arc up the leg, round the shoulder and out to the end of the body (sign +1), or
 * the same way back (-1). */
static Fault notch_leg(Outline *o, const NotchSide *side, double bottom, double length, int sign)
{
  double reach = shoulder_reach(side, length), radius = reach / tan(side->turn / 2);
  double top = bottom + side->rise, low_x = side->foot - reach * cos(side->turn),
         flat_x = side->foot + reach;
  Point centre = point(sign * flat_x, top - radius);
  bool leg = side->rise - side->arc_y > TOL_POINT_MM * 10 && reach > TOL_POINT_MM * 10;
  Point low = point(sign * low_x, top - reach * sin(side->turn));
  Fault fault = FAULT_NONE;
  if (sign > 0) {
    if (leg)
      fault = outline_line_to(o, low);
    if (!fault && leg)
      fault = outline_arc_to(o, centre, -side->turn);
    return fault ? fault : outline_line_to(o, point(length, top));
  }
  fault = outline_line_to(o, point(leg ? -flat_x : -side->arc_x, top));
  if (!fault && leg)
    fault = outline_arc_to(o, centre, -side->turn);
  return fault || !leg ? fault : outline_line_to(o, point(-side->arc_x, bottom + side->arc_y));
}

/* A notch with its bottom at (0, bottom), opening upward, between bodies at the given heights, with
 * rounded shoulders. */
static Fault notch_build(double bottom, double radius, double open_deg, const double length[2],
                         const double height[2], Outline *outline)
{
  if (!(radius >= MIN_ROOF_RADIUS_MM && radius < 20 && open_deg >= 10 && open_deg <= 170) ||
      !isfinite(bottom))
    return FAULT_RANGE;
  NotchSide side[2];
  for (int i = 0; i < 2; i++) {
    side[i] = notch_side(radius, open_deg, height[i] - bottom, length[i]);
    if (!(side[i].foot < length[i] - 0.05))
      return FAULT_RANGE;
  }
  Outline o = {0};
  Fault fault = outline_move_to(&o, point(-length[0], bottom + side[0].rise));
  if (!fault)
    fault = notch_leg(&o, &side[0], bottom, length[0], -1);
  if (!fault)
    fault = outline_arc_to(&o, point(0, bottom + radius), side[0].turn + side[1].turn);
  if (!fault)
    fault = notch_leg(&o, &side[1], bottom, length[1], 1);
  return shape_hand_over(&o, fault, outline);
}

Fault shape_occlusal(double groove_y, double radius, double open_deg, const Neighbours *around,
                     Outline *outline)
{
  return around_fits(around)
             ? notch_build(groove_y, radius, open_deg, around->length, around->height, outline)
             : FAULT_RANGE;
}

Fault shape_plan(double neck_width, double radius, double open_deg, int sign,
                 const Neighbours *around, Outline *outline)
{
  if (!around_fits(around) || !(neck_width > 0.2 && neck_width < MAX_SIZE_MM) ||
      (sign != 1 && sign != -1))
    return FAULT_RANGE;
  double half[2];
  for (int i = 0; i < 2; i++)
    half[i] = fmax(around->width[i] / 2, neck_width / 2 + 0.2);
  Fault fault = notch_build(neck_width / 2, radius, open_deg, around->length, half, outline);
  if (!fault && sign < 0)
    outline_transform(outline, (const double[6]){1, 0, 0, -1, 0, 0});
  return fault;
}

double shape_plan_radius(const Outline *gingival)
{
  Embrasure e;
  if (embrasure_read(gingival, &e))
    return PLAN_RADIUS_LEAST;
  double reach = fmax(-e.settled[0], e.settled[1]); /* of the roof arc from the neck plane x = 0 */
  /* a plan notch of 90 degrees turns through 45: its arc reaches radius sin 45 to each side */
  double radius = PLAN_RADIUS_SPARE * reach / sin(45 * DEGREE);
  return fmin(fmax(radius, PLAN_RADIUS_LEAST), PLAN_RADIUS_MOST);
}

Fault shape_starter_u(double foot, double roof, const Neighbours *around, Outline *outline)
{
  if (!(foot >= STARTER_FOOT_LEAST && roof >= STARTER_ROOF_LEAST && foot < MAX_SIZE_MM &&
        roof < MAX_SIZE_MM))
    return FAULT_RANGE;
  /* in a high, narrow room the legs lean less so that a top is left */
  double lean = fmin(STARTER_LEAN_DEG * DEGREE, atan(0.4 * foot / roof));
  double top = foot - roof * tan(lean), leg = roof / cos(lean);
  double radius = fmin(top, 0.9 * leg) / tan((90 * DEGREE - lean) / 2);
  Corner corner[] = {{-foot, 0, 0}, {-top, roof, radius}, {top, roof, radius}, {foot, 0, 0}};
  return shape_gingival(corner, 4, around, outline);
}

Fault shape_starter_v(double foot, double roof, const Neighbours *around, Outline *outline)
{
  const double r = STARTER_V_RADIUS;
  if (!(foot >= STARTER_FOOT_LEAST && roof >= STARTER_ROOF_LEAST && foot < MAX_SIZE_MM &&
        roof < MAX_SIZE_MM))
    return FAULT_RANGE;
  /* the rounded top stands at `roof`: apex - r (hypot(foot, apex) / foot - 1) = roof */
  double b = roof - r;
  double apex = foot * (b * foot + r * sqrt(b * b + foot * foot - r * r)) / (foot * foot - r * r);
  Corner corner[] = {{-foot, 0, 0}, {0, apex, r}, {foot, 0, 0}};
  return shape_gingival(corner, 3, around, outline);
}
