/* form.c - the readings of a connector: neck, roof, legs, gap, U or V.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm, angles degrees.  Method and limits: core/SOURCES.md "readings", "U and V". */
#include "outline/form.h"
#include "base/tolerance.h"
#include "outline/hollow.h"
#include "outline/segment.h"
#include <stdlib.h>

#define FLAT_DEPTH_MM 0.1    /* shallower is no embrasure                                        */
#define FLAT_OPENING_DEG 160 /* opener is no embrasure */
#define LEAN_LEAST_DEG 5     /* legs of a rounded roof lean at least this (practice.md 1.1)      */
#define U_ROUNDNESS 0.4
#define V_TOP_SHARE 0.4
#define KINK_ARC_MM 0.02  /* a turn on a shorter arc than this is a kink                      */
#define NECK_REACH_MM 1.5 /* the plan is read this far on both sides of the neck              */
#define NECK_TIE_MM 2e-3  /* places thinner by less than this are one neck                    */

/* A point of one line and the nearest one of the other. */
typedef struct {
  Point low, high;
  double distance;
} Way;

/* Nearest point of a line to p, and its squared distance. */
static double line_near(const Polyline *line, Point p, Point *on)
{
  double best = INFINITY, k;
  for (size_t j = 0; j + 1 < line->n; j++) {
    double near = segment_near(p, line->at[j], line->at[j + 1], &k);
    if (near < best) {
      best = near;
      *on = point_mix(line->at[j], line->at[j + 1], k);
    }
  }
  return best;
}

static void keep_shorter(Way *best, Way way)
{
  if (way.distance < best->distance)
    *best = way;
}

/* The shortest way between two lines that do not cross starts at a vertex of one of them.  Where it
 * is equally short along a stretch, the middle of that is the neck. way  work  low->n + high->n
 * items */
static Way neck_find(const Polyline *low, const Polyline *high, Way way[])
{
  size_t n = 0;
  Way best = {.distance = INFINITY};
  for (size_t i = 0; i < low->n; i++) {
    way[n].low = low->at[i];
    way[n].distance = sqrt(line_near(high, low->at[i], &way[n].high));
    keep_shorter(&best, way[n++]);
  }
  for (size_t j = 0; j < high->n; j++) {
    way[n].high = high->at[j];
    way[n].distance = sqrt(line_near(low, high->at[j], &way[n].low));
    keep_shorter(&best, way[n++]);
  }
  double limit = best.distance + NECK_TIE_MM, first = INFINITY, last = -INFINITY;
  for (size_t i = 0; i < n; i++)
    if (way[i].distance < limit) {
      first = fmin(first, way[i].low.x);
      last = fmax(last, way[i].low.x);
    }
  double middle = (first + last) / 2;
  for (size_t i = 0; i + 1 < low->n && last - first > NECK_TIE_MM; i++) {
    Point a = low->at[i], b = low->at[i + 1];
    if ((a.x - middle) * (b.x - middle) > 0 || fabs(b.x - a.x) < TOL_POINT_MM)
      continue;
    Way there = {.low = point_mix(a, b, (middle - a.x) / (b.x - a.x))};
    there.distance = sqrt(line_near(high, there.low, &there.high));
    if (there.distance < limit) { /* two necks side by side have no middle */
      there.distance = best.distance;
      return there;
    }
  }
  return best;
}

static Fault neck_read(const Outline *gingival, const Outline *occlusal, Form *form, Point *where)
{
  Polyline low = {0}, high = {0};
  Fault fault = outline_flatten(gingival, TOL_FLATTEN_MM, &low);
  if (fault == FAULT_NONE)
    fault = outline_flatten(occlusal, TOL_FLATTEN_MM, &high);
  Way *way = fault == FAULT_NONE ? malloc((low.n + high.n) * sizeof *way) : NULL;
  if (fault == FAULT_NONE && way == NULL)
    fault = FAULT_MEMORY;
  if (fault == FAULT_NONE) {
    Way neck = neck_find(&low, &high, way);
    form->neck_height = neck.distance;
    form->neck_low = neck.low;
    form->neck_high = neck.high;
    Point middle = point_mix(form->neck_low, form->neck_high, 0.5);
    form->neck_x = middle.x;
    form->neck_y = middle.y;
    if (form->neck_height < MIN_NECK_MM || form->neck_high.y <= form->neck_low.y) {
      fault = FAULT_NO_NECK;
      if (where != NULL)
        *where = middle;
    }
  }
  free(way);
  polyline_clear(&low);
  polyline_clear(&high);
  return fault;
}

/* Smallest half width of a plan outline near x; NaN where it does not reach. */
static Fault half_width(const Outline *plan, double x, double *width)
{
  Polyline line = {0};
  Fault fault = outline_flatten(plan, TOL_FLATTEN_MM, &line);
  if (fault != FAULT_NONE)
    return fault;
  double least = INFINITY;
  for (size_t i = 0; i + 1 < line.n; i++) {
    double x0 = line.at[i].x, x1 = line.at[i + 1].x, left = x - NECK_REACH_MM,
           right = x + NECK_REACH_MM;
    if (fmax(x0, x1) < left || fmin(x0, x1) > right)
      continue;
    for (int k = 0; k < 2; k++) { /* the segment cut to the reach */
      double at = k == 0 ? fmin(fmax(x0, left), right) : fmin(fmax(x1, left), right);
      double part = fabs(x1 - x0) > 0 ? (at - x0) / (x1 - x0) : k;
      least = fmin(least, fabs(point_mix(line.at[i], line.at[i + 1], part).y));
    }
  }
  polyline_clear(&line);
  *width = isfinite(least) ? least : NAN;
  return FAULT_NONE;
}

/* The largest sudden turn, either way, on an arc of KINK_ARC_MM in the roof zone. */
static void kink_read(const Turning *turning, const Hollow *hollow, Form *form)
{
  const TurnPlace *place = turning->place;
  for (size_t i = hollow->zone_lo; i <= hollow->zone_hi; i++)
    for (size_t j = i + 1; j <= hollow->zone_hi; j++) {
      double over = place[j].s - place[i].s, turn = fabs(place[j].theta - place[i].theta);
      bool past = over > KINK_ARC_MM;
      if (past)
        turn *= KINK_ARC_MM / over;
      if (turn * 180 / M_PI > form->kink_deg) {
        form->kink_deg = turn * 180 / M_PI;
        form->kink_at = point_mix(place[i].at, place[j].at, 0.5);
      }
      if (past)
        break;
    }
}

/* Largest circular roof that touches the roof line between two legs that start at the feet (half
 * distance `half`, `depth` below) and lean inward by `lean_deg`; a flat arc through the feet where
 * it is wider. */
static double room_radius(double half, double depth, double lean_deg)
{
  double c = cos(lean_deg * M_PI / 180), s = sin(lean_deg * M_PI / 180);
  double radius = (half * c - depth * s) / (1 - s);
  if (depth - radius * (1 - s) < 0) /* it would touch the legs below the feet */
    radius = (half * half + depth * depth) / (2 * depth);
  return fmax(radius, 0);
}

static FormKind kind_of(const Form *form, const Hollow *hollow)
{
  if (form->roundness >= U_ROUNDNESS)
    return FORM_U;
  return hollow->top_share < V_TOP_SHARE ? FORM_V : FORM_BETWEEN;
}

Fault form_roof_read(const Outline *gingival, Form *form)
{
  Turning turning = {0};
  Fault fault = turning_of(gingival, false, &turning);
  if (fault != FAULT_NONE)
    return fault;
  Hollow hollow = hollow_read(&turning);
  Arc arc;
  form->roof = form->kink_at = hollow.roof;
  form->roof_t = hollow.roof_t;
  form->foot[0] = hollow.foot[0];
  form->foot[1] = hollow.foot[1];
  form->depth = hollow.depth;
  form->leg_lean_left_deg = hollow.lean_deg[0];
  form->leg_lean_right_deg = hollow.lean_deg[1];
  form->opening_deg = hollow.lean_deg[0] + hollow.lean_deg[1];
  form->roof_centre_x = (hollow.zone_left + hollow.zone_right) / 2;
  form->roof_radius = turning_radius(&turning, hollow.zone_lo, hollow.zone_hi, &arc);
  form->roof_sharpest = turning_at(&turning, (arc.s0 + arc.s1) / 2).at;
  if (form->depth >= FLAT_DEPTH_MM && form->opening_deg <= FLAT_OPENING_DEG) {
    double half = (hollow.foot[1].x - hollow.foot[0].x) / 2;
    double lean = fmin(hollow.lean_deg[0], hollow.lean_deg[1]);
    double room = room_radius(half, form->depth, fmin(fmax(lean, 0), LEAN_LEAST_DEG));
    kink_read(&turning, &hollow, form);
    form->roundness = room > 0 ? fmin(form->roof_radius.value / room, 1) : 1;
    form->room_to_round = fmax(room - form->roof_radius.value, 0);
    form->kind = kind_of(form, &hollow);
  }
  turning_clear(&turning);
  return FAULT_NONE;
}

static Fault groove_read(const Outline *occlusal, Form *form)
{
  Turning turning = {0};
  Fault fault = turning_of(occlusal, true, &turning);
  if (fault != FAULT_NONE)
    return fault;
  Hollow hollow = hollow_read(&turning);
  Arc arc;
  form->groove_y = -hollow.roof.y;
  form->groove_radius = RADIUS_FLAT_MM;
  if (hollow.depth >= FLAT_DEPTH_MM)
    form->groove_radius = turning_radius(&turning, hollow.zone_lo, hollow.zone_hi, &arc).value;
  turning_clear(&turning);
  return FAULT_NONE;
}

Fault form_neck_read(const Outline *gingival, const Outline *occlusal, const Outline *buccal,
                     const Outline *lingual, Form *form, Point *where)
{
  double left = NAN, right = NAN;
  Fault fault = neck_read(gingival, occlusal, form, where);
  if (fault == FAULT_NONE && buccal != NULL)
    fault = half_width(buccal, form->neck_x, &left);
  if (fault == FAULT_NONE && lingual != NULL)
    fault = half_width(lingual, form->neck_x, &right);
  form->neck_buccal = left;
  form->neck_lingual = right;
  form->neck_width = left + right;
  return fault;
}

Fault form_read(const Outline *gingival, const Outline *occlusal, const Outline *buccal,
                const Outline *lingual, const Outline *tissue, Form *form, Point *where)
{
  Form found = {0};
  Point at = {0, 0};
  if (gingival->closed || occlusal->closed)
    return FAULT_RANGE;
  Fault fault = outline_check(gingival);
  if (fault == FAULT_NONE)
    fault = outline_check(occlusal);
  if (fault != FAULT_NONE)
    return fault;
  fault = outline_find_crossing(gingival, &at);
  if (fault == FAULT_NONE)
    fault = outline_find_crossing(occlusal, &at);
  if (fault == FAULT_NONE)
    fault = outlines_find_crossing(gingival, occlusal, &at);
  if (fault == FAULT_CROSSING && where != NULL)
    *where = at;
  if (fault == FAULT_NONE)
    fault = form_neck_read(gingival, occlusal, buccal, lingual, &found, where);
  if (fault == FAULT_NONE)
    fault = form_roof_read(gingival, &found);
  if (fault == FAULT_NONE)
    fault = groove_read(occlusal, &found);
  if (fault == FAULT_NONE)
    fault = gap_circle_find(gingival, tissue, &found.gap_centre, &found.gap_circle);
  if (fault == FAULT_NONE)
    *form = found;
  return fault;
}
