/* room.c - see room.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "outline/room.h"
#include "base/phrase.h"
#include "base/tolerance.h"
#include "outline/form.h"
#include "outline/segment.h"
#include "outline/shape_parts.h"
#include <stdlib.h>

#define LEAST_HIGH 0.3
#define LEAST_WIDE 0.4
#define ABOVE_FEET 0.05 /* mm; lower, an outline belongs to foot and body */
#define WALK_MM 0.05    /* steps along a straight stretch */
#define LOOKS 16        /* places of a piece where curvature is read */
#define WAVY_1_MM 2e-2  /* left turn that a cubic of the family may show */
#define KINK (0.5 * M_PI / 180)

void room_init(Room *room)
{
  *room = (Room){0};
  outline_init(&room->envelope);
  outline_init(&room->tissue);
}

void room_clear(Room *room)
{
  outline_clear(&room->envelope);
  outline_clear(&room->tissue);
  free(room->wall);
  room->wall = NULL;
  room->n_wall = 0;
}

/* Takes the envelope over. */
static Fault room_set(Room *room, Outline *envelope, bool drawn)
{
  Polyline line = {0};
  Fault fault = outline_flatten(envelope, TOL_FLATTEN_MM, &line);
  if (!fault)
    fault = outline_find_crossing(envelope, NULL);
  if (fault) {
    polyline_clear(&line);
    outline_clear(envelope);
    return fault;
  }
  room_clear(room);
  room->envelope = *envelope;
  room->wall = line.at;
  room->n_wall = line.n;
  line.at = NULL;
  polyline_clear(&line);
  room->drawn = drawn;
  room->top = room->wall[0].y;
  for (size_t i = 1; i < room->n_wall; i++)
    room->top = fmax(room->top, room->wall[i].y);
  return FAULT_NONE;
}

Fault room_around(const Outline *gingival, Room *room)
{
  Embrasure e;
  Fault fault = embrasure_read(gingival, &e);
  if (fault)
    return fault;
  Point at[4];
  for (int i = 0; i < 2; i++) {
    double least = fmin(fmax(e.lean[i], 0), LEAST_LEAN), rise = e.roof.y - e.foot[i].y;
    at[i ? 3 : 0] = e.foot[i];
    at[i ? 2 : 1] = point(e.foot[i].x + (i ? -1 : 1) * rise * tan(least), e.roof.y);
  }
  if (!(at[2].x - at[1].x > TOL_POINT_MM * 10))
    return FAULT_RANGE;
  Outline envelope = {0};
  fault = outline_from_points(&envelope, at, 4, false);
  if (!fault)
    fault = room_set(room, &envelope, false);
  for (int i = 0; i < 2 && !fault; i++)
    room->lean_least[i] = fmin(fmax(e.lean[i], 0), LEAST_LEAN);
  return fault;
}

/* Level of the body beside the embrasure at x; NaN outside the outline. */
static double body_level(const Outline *gingival, const Embrasure *e, double x, int side)
{
  double end = side ? (double)outline_pieces(gingival) : 0, low = e->foot_t[side], high = end;
  if (side ? x <= e->foot[1].x : x >= e->foot[0].x)
    return e->foot[side].y;
  if (side ? !(x < outline_at(gingival, end).x) : !(x > outline_at(gingival, end).x))
    return NAN;
  for (int i = 0; i < 60; i++) {
    double t = (low + high) / 2;
    if (side ? outline_at(gingival, t).x < x : outline_at(gingival, t).x > x)
      low = t;
    else
      high = t;
  }
  return outline_at(gingival, low).y;
}

Fault room_drawn(const Outline *line, const Outline *gingival, Room *room)
{
  Embrasure e;
  Outline envelope = {0};
  Fault fault = embrasure_read(gingival, &e);
  if (!fault)
    fault = outline_check(line);
  if (fault)
    return fault;
  Point first = line->knot[0].at, last = line->knot[line->n - 1].at;
  double level[2] = {body_level(gingival, &e, first.x, 0), body_level(gingival, &e, last.x, 1)};
  if (!(last.x - first.x >= LEAST_WIDE) || isnan(level[0]) || isnan(level[1]))
    return FAULT_RANGE;
  fault = outline_move_to(&envelope, point(first.x, level[0]));
  if (!fault && first.y > level[0] + 10 * TOL_POINT_MM)
    fault = outline_line_to(&envelope, first);
  else if (!fault)
    first = envelope.knot[0].at;
  for (size_t i = 0; i < outline_pieces(line) && !fault; i++) {
    Point c[4];
    outline_piece(line, i, c);
    bool ends = i + 1 == outline_pieces(line) && !(last.y > level[1] + 10 * TOL_POINT_MM);
    fault = outline_curve_to(&envelope, c[1], c[2], ends ? point(last.x, level[1]) : c[3]);
  }
  if (!fault && last.y > level[1] + 10 * TOL_POINT_MM)
    fault = outline_line_to(&envelope, point(last.x, level[1]));
  if (fault) {
    outline_clear(&envelope);
    return fault;
  }
  Room fresh;
  room_init(&fresh);
  fault = room_set(&fresh, &envelope, true);
  if (!fault && !(fresh.top - fmax(level[0], level[1]) >= LEAST_HIGH))
    fault = FAULT_RANGE;
  if (fault) {
    room_clear(&fresh);
    return fault;
  }
  room_clear(room);
  *room = fresh;
  return FAULT_NONE;
}

double room_ceiling(const Room *room, double x)
{
  double ceiling = NAN;
  for (size_t i = 0; i + 1 < room->n_wall; i++) {
    Point a = room->wall[i], b = room->wall[i + 1];
    if ((a.x > x) == (b.x > x))
      continue;
    double y = a.y + (x - a.x) / (b.x - a.x) * (b.y - a.y);
    ceiling = isnan(ceiling) ? y : fmin(ceiling, y); /* the lowest: an overhang hides the rest */
  }
  return ceiling;
}

Fault tissue_of_papilla(double papilla, const Point foot[2], Outline *tissue)
{
  double left = foot[0].x, right = foot[1].x;
  if (!(left < 0 && right > 0))
    return FAULT_DEGENERATE;
  const Point at[5] = {{left - 1, 0}, {left, 0}, {0, papilla}, {right, 0}, {right + 1, 0}};
  return outline_from_points(tissue, at, 5, false);
}

/* ---- check ---- */

/* Whether p lies in the room, closed below from foot to foot; *away: distance to its wall. */
static bool room_holds(const Room *room, Point p, double *away)
{
  bool odd = false;
  double best = INFINITY, k;
  for (size_t i = 0; i < room->n_wall; i++) {
    Point a = room->wall[i], b = room->wall[(i + 1) % room->n_wall];
    if ((a.y > p.y) != (b.y > p.y) && a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x) > p.x)
      odd = !odd;
    if (i + 1 < room->n_wall)
      best = fmin(best, segment_near(p, a, b, &k));
  }
  *away = sqrt(best);
  return odd;
}

/* Whether a corner of the wall stands inside the embrasure, deeper than a touch. */
static bool wall_pierces(const Room *room, const Polyline *line, Point *where)
{
  for (size_t w = 1; w + 1 < room->n_wall; w++) {
    Point p = room->wall[w];
    bool below = false;
    double best = INFINITY, k;
    for (size_t i = 0; i + 1 < line->n; i++) {
      Point a = line->at[i], b = line->at[i + 1];
      if ((a.x > p.x) != (b.x > p.x) && a.y + (p.x - a.x) / (b.x - a.x) * (b.y - a.y) > p.y)
        below = !below;
      best = fmin(best, segment_near(p, a, b, &k));
    }
    if (below && best > ROOM_TOUCH_MM * ROOM_TOUCH_MM) {
      *where = p;
      return true;
    }
  }
  return false;
}

static RoomBreach breach_of_line(const Room *room, const Outline *gingival, const Polyline *line,
                                 Point *where)
{
  double left = room->wall[0].x, right = room->wall[room->n_wall - 1].x;
  double level = fmax(room->wall[0].y, room->wall[room->n_wall - 1].y) + ABOVE_FEET, away;
  for (size_t i = 0; i + 1 < line->n; i++) {
    Point a = line->at[i], b = line->at[i + 1];
    int steps = (int)ceil(point_distance(a, b) / WALK_MM);
    for (int k = 0; k <= steps; k++) {
      Point p = *where = point_mix(a, b, (double)k / fmax(steps, 1));
      if (p.y > level && !room_holds(room, p, &away) && away > ROOM_TOUCH_MM)
        return ROOM_LEFT;
    }
  }
  if (wall_pierces(room, line, where))
    return ROOM_LEFT;
  double sharpest = room->radius_least > 0 ? (1 + ROOM_SHARP_SHARE) / room->radius_least : INFINITY;
  RoomBreach found = ROOM_KEPT;
  Point before = {0, 0};
  for (size_t i = 0; i < outline_pieces(gingival); i++)
    for (int k = 0; k <= LOOKS; k++) {
      double t = (double)i + fmin(fmax((double)k / LOOKS, 1e-9), 1 - 1e-9);
      Point at = outline_at(gingival, t), along;
      outline_derivatives(gingival, t, &along, NULL);
      bool in_roof = at.y > level && at.x > left && at.x < right;
      double kappa = in_roof ? outline_curvature(gingival, t) : 0;
      double turn = k == 0 && i > 0 && in_roof
                        ? atan2(point_cross(before, along), point_dot(before, along))
                        : 0;
      before = along;
      RoomBreach here = kappa > WAVY_1_MM || turn > KINK                            ? ROOM_WAVY
                        : -kappa > sharpest || (turn < -KINK && isfinite(sharpest)) ? ROOM_SHARP
                                                                                    : ROOM_KEPT;
      if (here && (!found || here < found)) {
        found = here;
        *where = at;
      }
    }
  return found;
}

Fault room_check(const Room *room, const Outline *gingival, const Outline *occlusal,
                 RoomBreach *breach, Point *where)
{
  Polyline line = {0};
  Point at = {NAN, NAN};
  if (room->n_wall < 3)
    return FAULT_DEGENERATE;
  Fault fault = outline_flatten(gingival, TOL_FLATTEN_MM, &line);
  if (fault)
    return fault;
  RoomBreach found = breach_of_line(room, gingival, &line, &at);
  polyline_clear(&line);
  if (!found && room->brush_mm > 0) {
    double diameter = 0;
    fault = gap_circle_find(gingival, room->tissue.n ? &room->tissue : NULL, &at, &diameter);
    found = !fault && diameter < room->brush_mm ? ROOM_BRUSH : ROOM_KEPT;
  }
  if (!fault && !found && occlusal && room->neck_least > 0) {
    Form form;
    fault = form_neck_read(gingival, occlusal, NULL, NULL, &form, &at);
    if (!fault && form.neck_height < room->neck_least - ROOM_TOUCH_MM) {
      found = ROOM_NECK;
      at = form.neck_low;
    }
  }
  if (fault)
    return fault;
  *breach = found;
  if (where)
    *where = at;
  return FAULT_NONE;
}

const char *room_breach_text(RoomBreach breach)
{
  static const char *const text[ROOM_BREACH_N] = {
      [ROOM_KEPT] = N_("The outline keeps to its room."),
      [ROOM_LEFT] = N_("The outline leaves the room here."),
      [ROOM_WAVY] = N_("The roof turns the other way here."),
      [ROOM_SHARP] = N_("The cutter cannot make a roof as sharp as this."),
      [ROOM_BRUSH] = N_("The brush does not pass in this room. Make it higher or wider, or order a "
                        "smaller brush."),
      [ROOM_NECK] = N_("This room leaves too little neck. Lower it."),
  };
  return (unsigned)breach < ROOM_BREACH_N ? text[breach] : "";
}
