/* room_fill.c - roofs drawn into a room, and outlines between two others.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, rad. */
#include "base/tolerance.h"
#include "outline/room.h"
#include "outline/shape_parts.h"

#define BLEND_PIECES 24 /* of each side of a blend */

/* Where the body beside the embrasure reaches the foot of the room; inside today's foot: there. */
static double foot_place(const Outline *gingival, const Embrasure *e, Point foot, int side)
{
  bool outside = side ? foot.x > e->foot[1].x : foot.x < e->foot[0].x;
  return outside ? outline_nearest(gingival, foot, NULL) : e->foot_t[side];
}

Fault room_fill(const Room *room, const Outline *gingival, Point apex, const RoofHalf half[2],
                Outline *outline)
{
  Embrasure e;
  RoofCurve curve[2];
  Fault fault = embrasure_read(gingival, &e);
  if (fault)
    return fault;
  const Point foot[2] = {room->wall[0], room->wall[room->n_wall - 1]};
  RoofWall wall = {room->wall, room->n_wall};
  double ceiling = room_ceiling(room, apex.x);
  if (!(ceiling > fmax(foot[0].y, foot[1].y)))
    return FAULT_RANGE;
  apex.y = fmin(apex.y, ceiling);
  for (int i = 0; i < 2; i++)
    if (!roof_half_fit(&half[i], apex, foot[i], wall, &curve[i]))
      return FAULT_RANGE;
  Embrasure around = e; /* what is drawn anew */
  for (int i = 0; i < 2; i++)
    around.foot_t[i] = foot_place(gingival, &e, foot[i], i);
  Outline roof = {0}, whole = {0};
  fault = roof_draw(curve, apex, foot, &roof);
  Point left = outline_at(gingival, around.foot_t[0]),
        right = outline_at(gingival, around.foot_t[1]);
  if (!fault && point_distance(left, foot[0]) > 2 * TOL_POINT_MM) {
    fault = outline_move_to(&whole, left);
    if (!fault)
      fault = outline_line_to(&whole, foot[0]);
  }
  if (!fault)
    fault = outline_append_part(&whole, &roof, 0, (double)outline_pieces(&roof));
  if (!fault && point_distance(right, foot[1]) > 2 * TOL_POINT_MM)
    fault = outline_line_to(&whole, right);
  if (!fault)
    fault = embrasure_replace(gingival, &around, &whole, outline);
  outline_clear(&roof);
  outline_clear(&whole);
  return fault;
}

/* ---- between two outlines ---- */

typedef struct {
  const Outline *outline;
  Polyline line;
  double cut[3]; /* arc length at the left foot, roof, right foot */
} Measured;

/* Place and unit direction at an arc length. */
static Point place_at(const Measured *m, double s, Point *along)
{
  size_t i = 0;
  while (i + 2 < m->line.n && m->line.s[i + 1] < s)
    i++;
  double s0 = m->line.s[i], s1 = m->line.s[i + 1];
  double k = s1 > s0 ? fmin(fmax((s - s0) / (s1 - s0), 0), 1) : 0;
  double t = m->line.t[i] + k * (m->line.t[i + 1] - m->line.t[i]);
  Point d;
  outline_derivatives(m->outline, t, &d, NULL);
  double speed = point_length(d);
  *along = speed > 0 ? point_scale(d, 1 / speed) : point(1, 0);
  return outline_at(m->outline, t);
}

static double arc_of(const Measured *m, double t)
{
  size_t i = 0;
  while (i + 2 < m->line.n && m->line.t[i + 1] < t)
    i++;
  double k = (t - m->line.t[i]) / (m->line.t[i + 1] - m->line.t[i]);
  return m->line.s[i] + fmin(fmax(k, 0), 1) * (m->line.s[i + 1] - m->line.s[i]);
}

static Fault measure(const Outline *outline, Measured *m)
{
  Embrasure e;
  *m = (Measured){.outline = outline};
  Fault fault = embrasure_read(outline, &e);
  if (!fault)
    fault = outline_flatten(outline, TOL_FLATTEN_MM, &m->line);
  if (fault)
    return fault;
  m->cut[0] = arc_of(m, e.foot_t[0]);
  m->cut[1] = arc_of(m, e.roof_t);
  m->cut[2] = arc_of(m, e.foot_t[1]);
  return FAULT_NONE;
}

/* From foot to foot: Hermite cubics through the mixed places. */
static Fault blend_roof(const Measured *a, const Measured *b, double share, Outline *roof)
{
  Fault fault = FAULT_NONE;
  Point last_out = {0, 0};
  for (int side = 0; side < 2 && !fault; side++)
    for (int i = side; i <= BLEND_PIECES && !fault; i++) {
      double u = (double)i / BLEND_PIECES;
      double long_a = a->cut[side + 1] - a->cut[side], long_b = b->cut[side + 1] - b->cut[side];
      Point da, db;
      double on = side == 0 && i == 0 ? 1e-6 : 0; /* the leg, not the body before it */
      Point pa = place_at(a, a->cut[side] + fmax(u, on) * long_a, &da);
      Point pb = place_at(b, b->cut[side] + fmax(u, on) * long_b, &db);
      Point p = point_mix(pa, pb, share);
      Point d = point_scale(point_mix(point_scale(da, long_a), point_scale(db, long_b), share),
                            1.0 / (3 * BLEND_PIECES));
      if (side == 0 && i == 0)
        fault = outline_move_to(roof, p);
      else
        fault = outline_curve_to(roof, last_out, point_sub(p, d), p);
      last_out = point_add(p, d);
      if (side == 0 && i == BLEND_PIECES) { /* the other half has a measure of its own */
        double other = (1 - share) * (a->cut[2] - a->cut[1]) + share * (b->cut[2] - b->cut[1]);
        double own = (1 - share) * long_a + share * long_b;
        last_out = point_add(p, point_scale(d, other / own));
      }
    }
  return fault;
}

Fault outline_blend(const Outline *from, const Outline *to, double share, Outline *outline)
{
  if (!(share >= 0 && share <= 1))
    return FAULT_RANGE;
  if (share <= 0 || share >= 1)
    return outline_copy(outline, share <= 0 ? from : to);
  Measured a = {0}, b = {0};
  Embrasure e;
  Outline roof = {0};
  Fault fault = embrasure_read(from, &e);
  if (!fault)
    fault = measure(from, &a);
  if (!fault)
    fault = measure(to, &b);
  if (!fault)
    fault = blend_roof(&a, &b, share, &roof);
  Outline whole = {0};
  Point foot[2] = {e.foot[0], e.foot[1]};
  if (!fault && point_distance(roof.knot[0].at, foot[0]) > 2 * TOL_POINT_MM) {
    double t = outline_nearest(from, roof.knot[0].at, NULL); /* a wider room: back into the body */
    e.foot_t[0] = fmin(t, e.foot_t[0]);
    Point body = outline_at(from, e.foot_t[0]);
    fault = outline_move_to(&whole, body);
    if (!fault && point_distance(body, roof.knot[0].at) > 2 * TOL_POINT_MM)
      fault = outline_line_to(&whole, roof.knot[0].at);
    if (!fault && whole.n == 1)
      outline_clear(&whole);
  }
  if (!fault)
    fault = outline_append_part(&whole, &roof, 0, (double)outline_pieces(&roof));
  if (!fault && point_distance(whole.knot[whole.n - 1].at, foot[1]) > 2 * TOL_POINT_MM) {
    double t = outline_nearest(from, whole.knot[whole.n - 1].at, NULL);
    e.foot_t[1] = fmax(t, e.foot_t[1]);
    Point body = outline_at(from, e.foot_t[1]);
    if (point_distance(body, whole.knot[whole.n - 1].at) > 2 * TOL_POINT_MM)
      fault = outline_line_to(&whole, body);
  }
  if (!fault)
    fault = embrasure_replace(from, &e, &whole, outline);
  outline_clear(&roof);
  outline_clear(&whole);
  polyline_clear(&a.line);
  polyline_clear(&b.line);
  return fault;
}
