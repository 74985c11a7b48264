/* shape_roof.c - moves that draw the embrasure anew between its feet: rounder, lower, best.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, rad.  Feet and bodies stay.  A roof of one radius is two straight legs with one arc between
 * them, or two arcs with a flat where the legs stand far enough apart. */
#include "base/tolerance.h"
#include "outline/roof_family.h"
#include "outline/shape.h"
#include "outline/shape_parts.h"

#define MAX_ROOF_RADIUS_MM 20.0
#define FLAT_SHARE 0.25   /* a flat shorter than this part of the radius is drawn as one arc  */
#define BEST_EXPONENT 3.0 /* mechanics notes, "best outline": R ~ exp(-3 theta / theta_e)     */
#define MOST_LEAN (85 * M_PI / 180)

/* Lean of the leg from a foot to the roof circle: `run` beside and `rise` below its top. */
static bool leg_lean(double run, double rise, double radius, double least, double *lean)
{
  double up = rise - radius, away = hypot(run, up);
  if (!(away >= radius * (1 - 1e-12))) /* the foot lies inside the circle */
    return false;
  *lean = M_PI / 2 - atan2(up, run) - asin(fmin(1, radius / away));
  return *lean >= least - 1e-9;
}

/* How far beside the top of the circle a foot must at least stand.  In a low, wide room the circle
 * reaches the foot before its leg is that steep. */
static double least_run(double least, double rise, double radius)
{
  if (radius * (1 - sin(least)) > rise)
    return sqrt(rise * (2 * radius - rise));
  return rise * tan(least) + radius * tan((M_PI / 2 - least) / 2);
}

static Fault leg_and_arc(Outline *roof, Point foot, Point centre, double lean, double radius)
{
  Point touch = point(centre.x - radius * cos(lean), centre.y + radius * sin(lean));
  Fault fault = outline_move_to(roof, foot);
  if (!fault && point_distance(foot, touch) > 2 * TOL_POINT_MM)
    fault = outline_line_to(roof, touch);
  return fault ? fault : outline_arc_to(roof, centre, lean - M_PI / 2);
}

/* One arc as near to x as the legs allow. */
static Fault roof_of_one_arc(const Point foot[2], double x, double height, double radius,
                             double least, Outline *roof)
{
  double low = foot[0].x + least_run(least, height - foot[0].y, radius);
  double high = foot[1].x - least_run(least, height - foot[1].y, radius), lean[2];
  if (low > high + 1e-9)
    return FAULT_RANGE;
  x = fmax(fmin(x, high), fmin(low, high));
  if (!leg_lean(x - foot[0].x, height - foot[0].y, radius, least, &lean[0]) ||
      !leg_lean(foot[1].x - x, height - foot[1].y, radius, least, &lean[1]))
    return FAULT_RANGE;
  Point centre = point(x, height - radius);
  Fault fault = leg_and_arc(roof, foot[0], centre, lean[0], radius);
  if (!fault)
    fault = outline_arc_to(roof, centre, lean[1] - M_PI / 2);
  if (!fault && point_distance(roof->knot[roof->n - 1].at, foot[1]) > 2 * TOL_POINT_MM)
    fault = outline_line_to(roof, foot[1]);
  return fault;
}

/* From foot to foot with the roof at `height`, rounded by `radius`.  `corner`: x where the legs
 * would meet the roof's level if it were not rounded; moved outward where a leg would lean too
 * little. */
static Fault roof_between(const Point foot[2], const double corner[2], double x, double height,
                          double radius, double least, Outline *roof)
{
  double rise[2] = {height - foot[0].y, height - foot[1].y}, at[2], reach[2];
  if (!(rise[0] > TOL_POINT_MM && rise[1] > TOL_POINT_MM) ||
      !(radius >= MIN_ROOF_RADIUS_MM && radius <= MAX_ROOF_RADIUS_MM))
    return FAULT_RANGE;
  bool legs_reach = true;
  for (int i = 0; i < 2; i++) {
    double run = fmax(i ? foot[1].x - corner[1] : corner[0] - foot[0].x, rise[i] * tan(least));
    at[i] = i ? foot[1].x - run : foot[0].x + run;
    reach[i] = radius * tan(atan2(rise[i], run) / 2);
    legs_reach = legs_reach && reach[i] <= hypot(run, rise[i]);
  }
  double flat = at[1] - at[0] - reach[0] - reach[1];
  if (!legs_reach || flat < FLAT_SHARE * radius)
    return roof_of_one_arc(foot, x, height, radius, least, roof);
  const Corner c[4] = {{foot[0].x, foot[0].y, 0},
                       {at[0], height, radius},
                       {at[1], height, radius},
                       {foot[1].x, foot[1].y, 0}};
  return outline_from_corners(roof, c, 4);
}

/* Legs that lean less than LEAST_LEAN today may stay so (the same rule as Form.room_to_round), but
 * never undercut. */
static double least_lean(const Embrasure *e)
{
  return fmin(fmax(fmin(e->lean[0], e->lean[1]), 0), LEAST_LEAN);
}

/* x where today's legs would reach the roof's level. */
static void corners_find(const Embrasure *e, double corner[2])
{
  for (int i = 0; i < 2; i++) {
    double run = (e->roof.y - e->foot[i].y) * tan(fmin(fmax(e->lean[i], 0), MOST_LEAN));
    corner[i] = i ? e->foot[1].x - run : e->foot[0].x + run;
  }
}

/* Draws the roof anew; today's legs are followed up to today's roof. */
static Fault redraw(const Outline *gingival, const Embrasure *e, double height, double radius,
                    Outline *outline)
{
  const Point foot[2] = {e->foot[0], e->foot[1]};
  double corner[2];
  corners_find(e, corner);
  Outline roof = {0};
  Fault fault = roof_between(foot, corner, e->roof.x, height, radius, least_lean(e), &roof);
  if (!fault)
    fault = embrasure_replace(gingival, e, &roof, outline);
  outline_clear(&roof);
  return fault;
}

Fault shape_round_roof(const Outline *gingival, double radius, Outline *outline)
{
  Embrasure e;
  Fault fault = embrasure_read(gingival, &e);
  return fault ? fault : redraw(gingival, &e, e.roof.y, radius, outline);
}

Fault shape_move_roof(const Outline *gingival, double new_roof_y, Outline *outline)
{
  Embrasure e;
  Fault fault = embrasure_read(gingival, &e);
  if (!fault && !isfinite(new_roof_y))
    fault = FAULT_NOT_FINITE;
  return fault ? fault
               : redraw(gingival, &e, new_roof_y, fmax(e.radius, MIN_ROOF_RADIUS_MM), outline);
}

/* ---- feet ---- */

/* The foot `by` mm outward along the body (its place becomes *t), or inward at its own level. */
static Fault foot_moved(const Outline *gingival, const Embrasure *e, int i, double by, Point *foot,
                        double *t)
{
  double x = e->foot[i].x + (i ? by : -by);
  *foot = point(x, e->foot[i].y);
  *t = e->foot_t[i];
  if (by <= 0)
    return FAULT_NONE;
  Polyline line = {0};
  Fault fault = outline_flatten(gingival, TOL_FLATTEN_MM, &line);
  if (fault)
    return fault;
  fault = FAULT_RANGE; /* the body ends before */
  for (size_t k = 0; k + 1 < line.n; k++) {
    Point a = line.at[k], b = line.at[k + 1];
    if (!((a.x - x) * (b.x - x) <= 0) || !(b.x > a.x))
      continue;
    double share = (x - a.x) / (b.x - a.x);
    double there = line.t[k] + share * (line.t[k + 1] - line.t[k]);
    if (i ? there < e->foot_t[i] : there > e->foot_t[i])
      continue;
    *foot = point_mix(a, b, share);
    *t = there;
    fault = FAULT_NONE;
    if (i) /* the first one outward */
      break;
  }
  polyline_clear(&line);
  return fault;
}

Fault shape_move_feet(const Outline *gingival, double by_mm, Outline *outline)
{
  if (!isfinite(by_mm))
    return FAULT_NOT_FINITE;
  Embrasure e, at;
  Fault fault = embrasure_read(gingival, &e);
  if (fault)
    return fault;
  at = e;
  double was[2], corner[2], radius = fmax(e.radius, MIN_ROOF_RADIUS_MM), least = least_lean(&e);
  corners_find(&e, was);
  for (int i = 0; i < 2; i++) {
    double turn = M_PI / 2 - fmin(fmax(e.lean[i], 0), MOST_LEAN), out = i ? 1 : -1, lean;
    fault = foot_moved(gingival, &e, i, by_mm, &at.foot[i], &at.foot_t[i]);
    /* the rounding stays where it is, the leg turns about it */
    double centre = was[i] - out * radius * tan(turn / 2);
    if (fault)
      return fault;
    if (!leg_lean(out * (at.foot[i].x - centre), e.roof.y - at.foot[i].y, radius, least, &lean) ||
        lean > MOST_LEAN)
      return FAULT_RANGE;
    corner[i] = centre + out * radius * tan((M_PI / 2 - lean) / 2);
  }
  Outline roof = {0}, whole = {0};
  fault = roof_between(at.foot, corner, e.roof.x, e.roof.y, radius, least, &roof);
  if (!fault)
    fault = outline_move_to(&whole, by_mm > 0 ? at.foot[0] : e.foot[0]);
  if (!fault && by_mm < -2 * TOL_POINT_MM)
    fault = outline_line_to(&whole, at.foot[0]);
  if (!fault)
    fault = outline_append_part(&whole, &roof, 0, (double)outline_pieces(&roof));
  if (!fault && by_mm < -2 * TOL_POINT_MM)
    fault = outline_line_to(&whole, e.foot[1]);
  if (!fault)
    fault = embrasure_replace(gingival, &at, &whole, outline);
  outline_clear(&roof);
  outline_clear(&whole);
  return fault;
}

/* ---- best outline ---- */

Fault shape_best_roof(const Outline *gingival, double floor_mm, Outline *outline)
{
  Embrasure e;
  Fault fault = embrasure_read(gingival, &e);
  if (fault)
    return fault;
  if (!(floor_mm >= MIN_ROOF_RADIUS_MM && floor_mm <= MAX_ROOF_RADIUS_MM))
    return FAULT_RANGE;
  const RoofHalf half = {.decay = BEST_EXPONENT, .floor = floor_mm, .lean = LEAST_LEAN};
  RoofCurve curve[2];
  for (int i = 0; i < 2; i++)
    if (!roof_half_fit(&half, e.roof, e.foot[i], (RoofWall){0}, &curve[i]))
      return FAULT_RANGE; /* the room is narrower than the cutter */
  Outline roof = {0};
  fault = roof_draw(curve, e.roof, e.foot, &roof);
  if (!fault)
    fault = embrasure_replace(gingival, &e, &roof, outline);
  outline_clear(&roof);
  return fault;
}
