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

/* Draws the roof anew; today's legs are followed up to today's roof.  Legs that lean less than
 * LEAST_LEAN today may stay so (the same rule as Form.room_to_round), but never undercut. */
static Fault redraw(const Outline *gingival, const Embrasure *e, double height, double radius,
                    Outline *outline)
{
  double corner[2], least = fmin(fmax(fmin(e->lean[0], e->lean[1]), 0), LEAST_LEAN);
  for (int i = 0; i < 2; i++) {
    double run = (e->roof.y - e->foot[i].y) * tan(fmin(fmax(e->lean[i], 0), MOST_LEAN));
    corner[i] = i ? e->foot[1].x - run : e->foot[0].x + run;
  }
  Outline roof = {0};
  Fault fault = roof_between(e->foot, corner, e->roof.x, height, radius, least, &roof);
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
