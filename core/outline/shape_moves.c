/* shape_moves.c - the moves behind each advice: rounder, lower, wider, best, mirrored, marked.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, rad.  A moved embrasure is drawn anew from feet, roof height and radius: two straight legs and a rounded roof. */
#include "base/tolerance.h"
#include "outline/shape.h"
#include "outline/shape_parts.h"

#define SAMPLES 40           /* a piece */
#define BODY_Y 0.02          /* above this the outline has left the body */
#define LEAST_LEAN 0.035     /* 2 degrees: no undercut */
#define BEST_LEAN 0.087      /* 5 degrees: legs of the best outline */
#define BEST_EXPONENT 3.0
#define BEST_ARCS 12         /* a side */
#define MARK_LEAN 0.26       /* 15 degrees: sides of a disc cut */

static const double quarter_turn = 1.5707963267948966;

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

bool embrasure_read(const Outline *gingival, Embrasure *embrasure)
{
  size_t n = SAMPLES * outline_pieces(gingival), first = n, last = 0;
  double top = -INFINITY, base[2] = {outline_at(gingival, 0).y, outline_at(gingival, (double)outline_pieces(gingival)).y};
  for (size_t i = 0; i <= n; i++) {
    double y = outline_at(gingival, (double)i / SAMPLES).y;
    top = fmax(top, y);
    if (y > fmax(base[0], base[1]) + BODY_Y) {
      first = i < first ? i : first;
      last = i;
    }
  }
  if (first >= last || first == 0 || last >= n || !(top > 0.1))
    return false;
  Embrasure e = {.radius = INFINITY};
  /* the feet are knots as a rule: the sample before the rise is as near as a sample comes */
  e.foot[0] = outline_at(gingival, (double)(first - 1) / SAMPLES);
  e.foot[1] = outline_at(gingival, (double)(last + 1) / SAMPLES);
  double flat_low = INFINITY, flat_high = -INFINITY, steepest[2] = {0, 0};
  for (int pass = 0; pass < 2; pass++)
    for (size_t i = first; i <= last; i++) {
      double t = (double)i / SAMPLES;
      Point p = outline_at(gingival, t), d;
      outline_derivatives(gingival, t, &d, NULL);
      if (p.y > top - 1e-3 && pass == 0) {
        flat_low = fmin(flat_low, p.x);
        flat_high = fmax(flat_high, p.x);
      }
      double slope = atan2(d.y, d.x); /* up on the left, down on the right */
      for (int side = 0; side < 2; side++) {
        double steep = side ? -slope : slope;
        if (pass == 0)
          steepest[side] = fmax(steepest[side], steep);
        else if (steep > steepest[side] - 0.03 && p.y > top * 0.2)
          e.settled[side] = side ? fmin(e.settled[side], p.x) : fmax(e.settled[side], p.x);
      }
      if (pass == 0) { /* ready for the second pass */
        e.settled[0] = -INFINITY;
        e.settled[1] = INFINITY;
        double k = p.y > top - 0.4 * (top - fmin(base[0], base[1])) ? fabs(outline_curvature(gingival, t)) : 0;
        if (k > 1e-6)
          e.radius = fmin(e.radius, 1 / k);
      }
    }
  e.roof = point((flat_low + flat_high) / 2, top);
  for (int side = 0; side < 2; side++) {
    e.lean[side] = quarter_turn - steepest[side];
    if (!isfinite(e.settled[side]))
      e.settled[side] = e.foot[side].x;
  }
  *embrasure = e;
  return true;
}

/* Length from a corner to where its rounding begins. */
static double tangent_length(double radius, double lean)
{
  return radius * tan((quarter_turn - lean) / 2);
}

/* Lean of a leg from a foot `run` beside the roof's middle when the roof is one arc: found by going round. */
static bool single_arc(double run, double height, double radius, double *lean)
{
  double low = -quarter_turn / 2, high = quarter_turn * 0.98;
  /* run = height tan(lean) + tangent(lean): the right side grows with lean where it matters */
  for (int i = 0; i < 80; i++) {
    double mid = (low + high) / 2;
    if (height * tan(mid) + tangent_length(radius, mid) < run)
      low = mid;
    else
      high = mid;
  }
  *lean = (low + high) / 2;
  double leg = height / cos(*lean);
  return *lean >= LEAST_LEAN && tangent_length(radius, *lean) < leg;
}

/* The outline with its embrasure drawn anew: feet kept, roof at `height`, rounded by `radius`. */
static Fault redraw(const Outline *gingival, const Embrasure *e, double height, double radius, Outline *outline)
{
  double base = fmin(e->foot[0].y, e->foot[1].y), rise = height - base;
  if (!(rise > 0.1 && radius >= MIN_ROOF_RADIUS_MM && radius < 20))
    return FAULT_RANGE;
  Corner c[6];
  size_t pieces = outline_pieces(gingival);
  Point far[2] = {outline_at(gingival, 0), outline_at(gingival, (double)pieces)};
  double corner[2], room = 0;
  for (int side = 0; side < 2; side++) { /* where today's legs meet the roof's level */
    double out = side ? 1 : -1, lean = fmax(e->lean[side], LEAST_LEAN);
    corner[side] = e->foot[side].x - out * (e->roof.y - e->foot[side].y) * tan(lean);
    double now = fabs(corner[side] - e->foot[side].x);
    room += tangent_length(radius, atan(now / rise));
  }
  if (corner[1] - corner[0] < room + 1e-3) { /* no flat is left: one arc over the roof's middle */
    for (int side = 0; side < 2; side++) {
      double out = side ? 1 : -1, lean, run = fabs(e->foot[side].x - e->roof.x);
      if (!single_arc(run, rise, radius, &lean))
        return FAULT_RANGE;
      corner[side] = e->roof.x + out * (tangent_length(radius, lean) + 1e-5);
    }
  }
  c[0] = (Corner){far[0].x, far[0].y, 0};
  c[1] = (Corner){e->foot[0].x, e->foot[0].y, 0};
  c[2] = (Corner){corner[0], height, radius};
  c[3] = (Corner){corner[1], height, radius};
  c[4] = (Corner){e->foot[1].x, e->foot[1].y, 0};
  c[5] = (Corner){far[1].x, far[1].y, 0};
  return outline_from_corners(outline, c, 6);
}

Fault shape_round_roof(const Outline *gingival, double radius, Outline *outline)
{
  Embrasure e;
  return embrasure_read(gingival, &e) ? redraw(gingival, &e, e.roof.y, radius, outline) : FAULT_RANGE;
}

Fault shape_move_roof(const Outline *gingival, double new_roof_y, Outline *outline)
{
  Embrasure e;
  if (!embrasure_read(gingival, &e))
    return FAULT_RANGE;
  double radius = isfinite(e.radius) ? fmax(e.radius, MIN_ROOF_RADIUS_MM) : MIN_ROOF_RADIUS_MM;
  return redraw(gingival, &e, new_roof_y, radius, outline);
}

Fault shape_mirror_leg(const Outline *gingival, int keep_side, Outline *outline)
{
  Embrasure e;
  Outline half;
  size_t cut;
  if (!embrasure_read(gingival, &e) || (keep_side != 1 && keep_side != -1))
    return FAULT_RANGE;
  Point far[2] = {outline_at(gingival, 0), outline_at(gingival, (double)outline_pieces(gingival))};
  outline_init(&half);
  Fault fault = outline_copy(&half, gingival);
  if (!fault && keep_side < 0)
    outline_mirror(&half, e.roof.x); /* now the kept side is the right one */
  if (!fault)
    fault = outline_split(&half, outline_nearest(&half, e.roof, NULL), &cut);
  Outline fresh;
  outline_init(&fresh);
  if (!fault) {
    size_t right = half.n - cut; /* knots from the roof outward */
    double other = keep_side > 0 ? 2 * e.roof.x - far[0].x : far[1].x, mine = keep_side > 0 ? far[1].x : 2 * e.roof.x - far[0].x;
    Point at = point(2 * e.roof.x - half.knot[half.n - 1].at.x, half.knot[half.n - 1].at.y);
    fault = outline_move_to(&fresh, at);
    for (size_t i = 1; i < right && !fault; i++) { /* from the far end to the roof, mirrored */
      const Knot *a = &half.knot[half.n - i], *b = &half.knot[half.n - 1 - i];
      fault = outline_curve_to(&fresh, point(2 * e.roof.x - a->in.x, a->in.y), point(2 * e.roof.x - b->out.x, b->out.y),
                               point(2 * e.roof.x - b->at.x, b->at.y));
    }
    for (size_t i = cut; i + 1 < half.n && !fault; i++)
      fault = outline_curve_to(&fresh, half.knot[i].out, half.knot[i + 1].in, half.knot[i + 1].at);
    if (!fault) { /* the bodies keep their own lengths */
      Knot *ends[2] = {&fresh.knot[0], &fresh.knot[fresh.n - 1]};
      double x[2] = {2 * e.roof.x - other, mine};
      for (int k = 0; k < 2; k++)
        ends[k]->at.x = ends[k]->in.x = ends[k]->out.x = x[k];
    }
    if (!fault && keep_side < 0)
      outline_mirror(&fresh, e.roof.x);
  }
  outline_clear(&half);
  return shape_hand_over(&fresh, fault, outline);
}

Fault shape_widen(const Outline *plan, double by_mm, Outline *outline)
{
  double least = INFINITY, most = 0, sign = 1;
  for (size_t i = 0, n = SAMPLES * outline_pieces(plan); i <= n; i++) {
    double z = outline_at(plan, (double)i / SAMPLES).y;
    if (fabs(z) < least) {
      least = fabs(z);
      sign = z < 0 ? -1 : 1;
    }
    most = fmax(most, fabs(z));
  }
  /* |z| grows by by_mm at the neck and not at all at the widest place */
  double k = 1 - by_mm / (most - least);
  if (!isfinite(by_mm) || !(k > 0.05) || !(least + by_mm > MIN_NECK_MM / 2))
    return FAULT_RANGE;
  Outline fresh;
  outline_init(&fresh);
  Fault fault = outline_copy(&fresh, plan);
  if (!fault)
    outline_transform(&fresh, (const double[6]){1, 0, 0, k, 0, sign * most * (1 - k)});
  return shape_hand_over(&fresh, fault, outline);
}

/* Half a best roof by arcs: how far it runs and drops for the scale c. */
static void best_reach(double c, double floor_mm, double turn, double *run, double *drop)
{
  double step = turn / BEST_ARCS;
  *run = *drop = 0;
  for (int i = 0; i < BEST_ARCS; i++) {
    double a = i * step, radius = fmax(c * exp(-BEST_EXPONENT * (i + 0.5) / BEST_ARCS), floor_mm);
    *run += radius * (sin(a + step) - sin(a));
    *drop += radius * (cos(a) - cos(a + step));
  }
}

/* Appends half a roof: from the leg up to the apex (side 0) or from the apex down (side 1). */
static Fault best_half(Outline *o, int side, double c, double floor_mm, double turn)
{
  double step = turn / BEST_ARCS;
  for (int i = 0; i < BEST_ARCS; i++) {
    int k = side ? i : BEST_ARCS - 1 - i;
    double radius = fmax(c * exp(-BEST_EXPONENT * (k + 0.5) / BEST_ARCS), floor_mm);
    double angle = side ? -k * step : (k + 1) * step; /* direction of travel; clockwise turning */
    Point at = o->knot[o->n - 1].at, centre = point(at.x + radius * sin(angle), at.y - radius * cos(angle));
    Fault fault = outline_arc_to(o, centre, -step);
    if (fault)
      return fault;
  }
  return FAULT_NONE;
}

Fault shape_best_roof(const Outline *gingival, double floor_mm, Outline *outline)
{
  Embrasure e;
  if (!embrasure_read(gingival, &e) || !(floor_mm > 0))
    return FAULT_RANGE;
  double c[2], run[2], drop[2], turn = quarter_turn - BEST_LEAN;
  for (int side = 0; side < 2; side++) {
    double wanted = fabs(e.foot[side].x - e.roof.x), rise = e.roof.y - e.foot[side].y, low = 0, high = 40;
    best_reach(low, floor_mm, turn, &run[side], &drop[side]);
    if (drop[side] > rise || run[side] + (rise - drop[side]) * tan(BEST_LEAN) > wanted)
      return FAULT_RANGE; /* the room is narrower than the cutter */
    for (int i = 0; i < 80; i++) {
      c[side] = (low + high) / 2;
      best_reach(c[side], floor_mm, turn, &run[side], &drop[side]);
      if (drop[side] > rise || run[side] + (rise - drop[side]) * tan(BEST_LEAN) > wanted)
        high = c[side];
      else
        low = c[side];
    }
    c[side] = low;
    best_reach(low, floor_mm, turn, &run[side], &drop[side]);
  }
  Outline fresh;
  outline_init(&fresh);
  Fault fault = outline_move_to(&fresh, outline_at(gingival, 0));
  if (!fault)
    fault = outline_line_to(&fresh, e.foot[0]);
  if (!fault)
    fault = outline_line_to(&fresh, point(e.roof.x - run[0], e.roof.y - drop[0]));
  if (!fault)
    fault = best_half(&fresh, 0, c[0], floor_mm, turn);
  if (!fault)
    fault = best_half(&fresh, 1, c[1], floor_mm, turn);
  if (!fault)
    fault = outline_line_to(&fresh, e.foot[1]);
  if (!fault)
    fault = outline_line_to(&fresh, outline_at(gingival, (double)outline_pieces(gingival)));
  return shape_hand_over(&fresh, fault, outline);
}

Fault shape_disc_mark(const Outline *gingival, double t, double depth, double edge_radius, Outline *outline)
{
  if (!(depth > 0 && depth < 5 && edge_radius > 0 && edge_radius <= depth))
    return FAULT_RANGE;
  Point d, at = outline_at(gingival, t);
  outline_derivatives(gingival, t, &d, NULL);
  double length = point_length(d);
  if (!(length > 0))
    return FAULT_DEGENERATE;
  Point along = point_scale(d, 1 / length), in = point(-along.y, along.x); /* the material is on the left */
  double arc_half = edge_radius * cos(MARK_LEAN), arc_up = depth - edge_radius * (1 - sin(MARK_LEAN));
  double mouth = arc_half + arc_up * tan(MARK_LEAN);
  double pieces = (double)outline_pieces(gingival), t0 = t, t1 = t, step = 0.002;
  while (t0 > 0 && point_distance(outline_at(gingival, t0), at) < mouth)
    t0 -= step;
  while (t1 < pieces && point_distance(outline_at(gingival, t1), at) < mouth)
    t1 += step;
  if (t0 <= 0 || t1 >= pieces)
    return FAULT_RANGE;
  Outline fresh;
  size_t from, to;
  outline_init(&fresh);
  Fault fault = outline_copy(&fresh, gingival);
  if (!fault)
    fault = outline_split(&fresh, t1, &to); /* the later one first: the earlier t stays true */
  if (!fault)
    fault = outline_split(&fresh, t0, &from);
  Outline marked;
  outline_init(&marked);
  if (!fault)
    fault = outline_move_to(&marked, fresh.knot[0].at);
  for (size_t i = 0; i < from && !fault; i++)
    fault = outline_curve_to(&marked, fresh.knot[i].out, fresh.knot[i + 1].in, fresh.knot[i + 1].at);
  Point bottom = point_add(at, point_scale(in, depth - edge_radius)); /* middle of the edge */
  if (!fault)
    fault = outline_line_to(&marked, point_add(point_add(at, point_scale(along, -arc_half)), point_scale(in, arc_up)));
  if (!fault)
    fault = outline_arc_to(&marked, bottom, -(2 * quarter_turn - 2 * MARK_LEAN));
  to += 1; /* splitting at t0 put one knot before it */
  if (!fault)
    fault = outline_line_to(&marked, fresh.knot[to].at);
  for (size_t i = to; i + 1 < fresh.n && !fault; i++)
    fault = outline_curve_to(&marked, fresh.knot[i].out, fresh.knot[i + 1].in, fresh.knot[i + 1].at);
  outline_clear(&fresh);
  return shape_hand_over(&marked, fault, outline);
}
