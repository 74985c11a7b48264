/* walk.c - see walk.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Arc length by outline.h's own quadrature; the bend is that of the cubic where one stands. */
#include "outline/walk.h"
#include "outline/cubic.h"

#define DEGREE (M_PI / 180)
#define ON_LINE_MM 0.05 /* the hot spot is a node of a mesh: no further beside the line */

static bool walkable(const Outline *outline)
{
  return outline->n >= 2 && !outline->closed;
}

/* Length of piece i between its own parameters. */
static double part(const Outline *outline, size_t i, double u0, double u1)
{
  Point c[4];
  outline_piece(outline, i, c);
  return cubic_length(c, u0, u1);
}

double walk_way(const Outline *outline, double t)
{
  double sum = 0, pieces = (double)outline_pieces(outline);
  t = fmin(fmax(t, 0), pieces);
  for (size_t i = 0; (double)i < t; i++)
    sum += part(outline, i, 0, fmin(t - (double)i, 1));
  return sum;
}

/* The place at arc length s from the start. */
static double place_at(const Outline *outline, double s)
{
  size_t pieces = outline_pieces(outline);
  for (size_t i = 0; i < pieces; i++) {
    double whole = part(outline, i, 0, 1);
    if (s <= whole || i + 1 == pieces) {
      double lo = 0, hi = 1;
      for (int k = 0; k < 50 && s < whole; k++) {
        double u = (lo + hi) / 2;
        *(part(outline, i, 0, u) < s ? &lo : &hi) = u;
      }
      return (double)i + hi;
    }
    s -= whole;
  }
  return 0;
}

Fault walk_step(const Outline *outline, double t, double by_mm, double *to)
{
  if (!walkable(outline))
    return FAULT_DEGENERATE;
  if (!isfinite(t) || !isfinite(by_mm))
    return FAULT_NOT_FINITE;
  double s = walk_way(outline, t) + by_mm, pieces = (double)outline_pieces(outline);
  *to = s <= 0 ? 0 : s >= outline_length(outline) ? pieces : place_at(outline, s);
  return FAULT_NONE;
}

/* ---- bend ---- */

/* Direction just beside t, towards `side`; the handles of a corner may lie on their knot. */
static Point direction(const Outline *outline, double t, double side)
{
  Point first;
  double beside = t + side * 1e-9;
  outline_derivatives(outline, beside, &first, NULL);
  if (point_length(first) > 1e-6)
    return first;
  return point_scale(point_sub(outline_at(outline, t + side * 1e-4), outline_at(outline, t)), side);
}

static double turn_at(const Outline *outline, double t)
{
  Point in = direction(outline, t, -1), out = direction(outline, t, 1);
  return atan2(point_cross(in, out), point_dot(in, out));
}

static double radius_of(double kappa)
{
  return fmin(1 / fmax(fabs(kappa), 1e-9), 1e9);
}

/* Least and largest bend, of the sense of `kappa`, within reach; a turn to the other side is
 * straight. */
static Fault radius_band(const Outline *outline, double t, double kappa, Banded *radius)
{
  double most = fabs(kappa), least = fabs(kappa);
  for (int k = -2; k <= 2; k++) {
    double at;
    Fault fault = walk_step(outline, t, k * WALK_REACH_MM / 2, &at);
    if (fault)
      return fault;
    double here = fmax(copysign(1, kappa) * outline_curvature(outline, at), 0);
    most = fmax(most, here);
    least = fmin(least, here);
  }
  *radius = banded(radius_of(kappa), radius_of(most), radius_of(least));
  return FAULT_NONE;
}

Fault walk_bend(const Outline *outline, double t, WalkBend *bend)
{
  if (!walkable(outline))
    return FAULT_DEGENERATE;
  if (!isfinite(t))
    return FAULT_NOT_FINITE;
  double pieces = (double)outline_pieces(outline), knot = round(t);
  t = fmin(fmax(t, 0), pieces);
  *bend = (WalkBend){.at = outline_at(outline, t), .radius = {NAN, NAN, NAN}};
  if (knot > 0 && knot < pieces && point_distance(bend->at, outline_at(outline, knot)) < 1e-6) {
    double turn = turn_at(outline, knot) / DEGREE;
    if (fabs(turn) >= WALK_CORNER_DEG) {
      bend->kind = BEND_CORNER;
      bend->corner_deg = fabs(turn);
      return FAULT_NONE;
    }
  }
  double kappa = outline_curvature(outline, t);
  if (!(radius_of(kappa) <= WALK_STRAIGHT_MM)) {
    bend->kind = BEND_STRAIGHT;
    return FAULT_NONE;
  }
  bend->kind = kappa < 0 ? BEND_HOLLOW : BEND_BULGING;
  return radius_band(outline, t, kappa, &bend->radius);
}

/* ---- landmarks ---- */

static size_t mark_add(Landmark mark[], size_t n, LandmarkKind kind, double t)
{
  size_t at = n;
  for (; at > 0 && mark[at - 1].t > t; at--)
    mark[at] = mark[at - 1];
  mark[at] = (Landmark){kind, t};
  return n + 1;
}

size_t walk_landmarks(const Outline *outline, const Form *form, Point hot,
                      Landmark mark[LANDMARK_N])
{
  if (!walkable(outline))
    return 0;
  size_t n = 0;
  bool roofed = point_finite(form->roof) && form->kind != FORM_NONE;
  double roof = roofed ? outline_nearest(outline, form->roof, NULL) : NAN, away;
  if (roofed)
    n = mark_add(mark, n, LANDMARK_ROOF, roof);
  for (int side = 0; side < 2 && roofed; side++) {
    if (!point_finite(form->foot[side]))
      continue;
    double foot = outline_nearest(outline, form->foot[side], NULL);
    n = mark_add(mark, n, side ? LANDMARK_FOOT_RIGHT : LANDMARK_FOOT_LEFT, foot);
    double middle = (walk_way(outline, foot) + walk_way(outline, roof)) / 2;
    n = mark_add(mark, n, side ? LANDMARK_LEG_RIGHT : LANDMARK_LEG_LEFT, place_at(outline, middle));
  }
  if (form->neck_height > 0 && point_finite(form->neck_low))
    n = mark_add(mark, n, LANDMARK_NECK, outline_nearest(outline, form->neck_low, NULL));
  if (point_finite(hot)) {
    double t = outline_nearest(outline, hot, &away);
    if (away < ON_LINE_MM)
      n = mark_add(mark, n, LANDMARK_HOT_SPOT, t);
  }
  return n;
}
