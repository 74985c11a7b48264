/* room_fill.c - roofs drawn into a room, and outlines between two others.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, rad. */
#include "base/tolerance.h"
#include "outline/room.h"
#include "outline/shape_parts.h"

#define BLEND_CUTS 96    /* knots of one side of a blend, at most */
#define BLEND_LEAST 8    /* pieces: a longer one would bulge by some thousandths of a mm */
#define BLEND_NEAR 0.012 /* of a side: knots of both outlines that stand closer are one */

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

/* Places of one side where either outline has a knot, as parts of the arc from foot to roof (side
 * 0) or from roof to foot, 0 and 1 among them. */
static int cuts_of(const Measured *const of[2], int side, double cut[BLEND_CUTS])
{
  int n = 0;
  for (int i = 0; i < BLEND_LEAST; i++)
    cut[n++] = (double)i / BLEND_LEAST;
  for (int k = 0; k < 2; k++) {
    double from = of[k]->cut[side], to = of[k]->cut[side + 1];
    for (size_t i = 0; i < of[k]->outline->n; i++) {
      double u = (arc_of(of[k], (double)i) - from) / (to - from);
      int at = n;
      while (at > 0 && u < cut[at - 1])
        at--;
      bool near = (at > 0 && u - cut[at - 1] < BLEND_NEAR) || (at < n && cut[at] - u < BLEND_NEAR);
      if (near || u > 1 - BLEND_NEAR || u < 0 || n == BLEND_CUTS - 1)
        continue;
      for (int m = n++; m > at; m--)
        cut[m] = cut[m - 1];
      cut[at] = u;
    }
  }
  cut[n++] = 1;
  return n;
}

/* From foot to foot: Hermite cubics through the mixed places. */
static Fault blend_roof(const Measured *a, const Measured *b, double share, Outline *roof)
{
  const Measured *const of[2] = {a, b};
  Fault fault = FAULT_NONE;
  for (int side = 0; side < 2 && !fault; side++) {
    double cut[BLEND_CUTS];
    int n = cuts_of(of, side, cut);
    double long_a = a->cut[side + 1] - a->cut[side], long_b = b->cut[side + 1] - b->cut[side];
    Point last = {0, 0}, out = {0, 0};
    for (int i = 0; i < n && !fault; i++) {
      /* directions of the legs, not of the bodies beyond */
      double u = cut[i], on = fmin(fmax(u, side == 0 ? 1e-6 : 0), side == 1 ? 1 - 1e-6 : 1);
      Point da, db, none;
      Point pa = place_at(a, a->cut[side] + u * long_a, &none);
      Point pb = place_at(b, b->cut[side] + u * long_b, &none);
      place_at(a, a->cut[side] + on * long_a, &da);
      place_at(b, b->cut[side] + on * long_b, &db);
      Point p = point_mix(pa, pb, share);
      Point d = point_mix(point_scale(da, long_a), point_scale(db, long_b), share);
      double step = i > 0 ? (cut[i] - cut[i - 1]) / 3 : 0;
      if (side == 0 && i == 0)
        fault = outline_move_to(roof, p);
      else if (i > 0)
        fault = outline_curve_to(roof, point_add(last, point_scale(out, step)),
                                 point_sub(p, point_scale(d, step)), p);
      last = p;
      out = d;
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
