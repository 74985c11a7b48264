/* shape_moves.c - moves that keep most of the drawn line: mirrored leg, wider plan, disc mark.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, rad.  The moves that draw the roof anew are in shape_roof.c. */
#include "base/tolerance.h"
#include "outline/shape.h"
#include "outline/shape_parts.h"

#define LEAST_SCALE 0.05            /* of the plan notch's depth: flatter is no notch        */
#define MARK_LEAN (15 * M_PI / 180) /* sides of a disc cut; common practice, no source       */
#define MARK_DEPTH_MAX 5.0

/* The left half of `left` and its mirror image, then a straight body to the old far end. */
static Fault mirror_left(const Outline *left, const Embrasure *e, Outline *fresh)
{
  Outline half = {0};
  Point far = outline_at(left, (double)outline_pieces(left));
  Fault fault = outline_append_part(fresh, left, 0, e->roof_t);
  if (!fault)
    fault = outline_append_part(&half, left, e->foot_t[0], e->roof_t);
  if (!fault) {
    outline_mirror(&half, fresh->knot[fresh->n - 1].at.x);
    fault = outline_append_part(fresh, &half, 0, (double)outline_pieces(&half));
  }
  outline_clear(&half);
  if (!fault && !(fresh->knot[fresh->n - 1].at.x < far.x - TOL_POINT_MM))
    fault = FAULT_RANGE; /* the mirrored foot stands past the body */
  return fault ? fault : outline_line_to(fresh, far);
}

Fault shape_mirror_leg(const Outline *gingival, int keep_side, Outline *outline)
{
  if (keep_side != 1 && keep_side != -1)
    return FAULT_RANGE;
  Outline turned = {0}, fresh = {0};
  Embrasure e;
  Fault fault = outline_copy(&turned, gingival);
  if (!fault && keep_side > 0)
    outline_mirror(&turned, 0);
  if (!fault)
    fault = embrasure_read(&turned, &e);
  if (!fault)
    fault = mirror_left(&turned, &e, &fresh);
  if (!fault && keep_side > 0)
    outline_mirror(&fresh, 0);
  outline_clear(&turned);
  return shape_hand_over(&fresh, fault, outline);
}

Fault shape_widen(const Outline *plan, double by_mm, Outline *outline)
{
  if (!isfinite(by_mm))
    return FAULT_NOT_FINITE;
  Polyline line = {0};
  Fault fault = outline_flatten(plan, TOL_FLATTEN_MM, &line);
  if (fault)
    return fault;
  double least = line.at[0].y, most = least;
  for (size_t i = 0; i < line.n; i++) {
    least = fabs(line.at[i].y) < fabs(least) ? line.at[i].y : least;
    most = fabs(line.at[i].y) > fabs(most) ? line.at[i].y : most;
  }
  polyline_clear(&line);
  double depth = fabs(most) - fabs(least);
  if (!(depth > TOL_POINT_MM) || !(fabs(least) + by_mm > MIN_NECK_MM / 2))
    return FAULT_RANGE;
  double k = 1 - by_mm / depth; /* grows by by_mm at the neck and not at all at the widest place */
  if (!(k >= LEAST_SCALE))
    return FAULT_RANGE;
  Outline fresh = {0};
  fault = outline_copy(&fresh, plan);
  if (!fault)
    outline_transform(&fresh, (const double[6]){1, 0, 0, k, 0, most * (1 - k)});
  return shape_hand_over(&fresh, fault, outline);
}

/* ---- disc mark ---- */

/* The cut across: walls that lean by MARK_LEAN, a round edge at the bottom. */
typedef struct {
  double half, mouth; /* half width where the edge begins, and at the surface  */
  double up;          /* depth where the edge begins                           */
  double turn;        /* of the edge                                           */
} MarkCut;

static MarkCut mark_cut(double depth, double radius)
{
  double up = depth - radius * (1 - sin(MARK_LEAN));
  if (up > 0)
    return (MarkCut){radius * cos(MARK_LEAN), radius * cos(MARK_LEAN) + up * tan(MARK_LEAN), up,
                     M_PI - 2 * MARK_LEAN};
  double half = acos(1 - depth / radius); /* shallower than the edge: only the edge cuts */
  return (MarkCut){radius * sin(half), radius * sin(half), 0, 2 * half};
}

/* t of the place `ds` mm along the outline from t; NaN past an end. */
static double place_beside(const Polyline *line, double t, double ds)
{
  size_t i = 0;
  while (i + 2 < line->n && line->t[i + 1] <= t)
    i++;
  double s = line->s[i] +
             (line->s[i + 1] - line->s[i]) * (t - line->t[i]) / (line->t[i + 1] - line->t[i]) + ds;
  if (!(s > 0 && s < line->s[line->n - 1]))
    return NAN;
  for (i = 0; i + 2 < line->n && line->s[i + 1] <= s; i++)
    ;
  return line->t[i] +
         (line->t[i + 1] - line->t[i]) * (s - line->s[i]) / (line->s[i + 1] - line->s[i]);
}

static Fault line_unless_there(Outline *outline, Point p)
{
  Point last = outline->knot[outline->n - 1].at;
  return point_distance(last, p) > 2 * TOL_POINT_MM ? outline_line_to(outline, p) : FAULT_NONE;
}

static Fault mark_build(const Outline *gingival, double t, const double mouth_t[2], double depth,
                        double radius, Outline *fresh)
{
  MarkCut cut = mark_cut(depth, radius);
  Point at = outline_at(gingival, t), chord;
  chord = point_sub(outline_at(gingival, mouth_t[1]), outline_at(gingival, mouth_t[0]));
  double length = point_length(chord);
  if (!(length > TOL_POINT_MM))
    return FAULT_RANGE;
  Point along = point_scale(chord, 1 / length), in = point(-along.y, along.x); /* material: left */
  Point edge = point_add(at, point_add(point_scale(along, -cut.half), point_scale(in, cut.up)));
  Fault fault = outline_append_part(fresh, gingival, 0, mouth_t[0]);
  if (!fault)
    fault = line_unless_there(fresh, edge);
  if (!fault) /* the arc starts where the line really ends */
    fault = outline_arc_to(fresh, point_add(at, point_scale(in, depth - radius)), -cut.turn);
  if (!fault)
    fault = line_unless_there(fresh, outline_at(gingival, mouth_t[1]));
  if (!fault)
    fault = outline_append_part(fresh, gingival, mouth_t[1], (double)outline_pieces(gingival));
  Point where;
  if (!fault && outline_find_crossing(fresh, &where) != FAULT_NONE)
    fault = FAULT_RANGE; /* no room for the cut here */
  return fault;
}

Fault shape_disc_mark(const Outline *gingival, double t, double depth, double edge_radius,
                      Outline *outline)
{
  if (gingival->closed || !(depth >= MIN_ROOF_RADIUS_MM / 2 && depth <= MARK_DEPTH_MAX) ||
      !(edge_radius >= MIN_ROOF_RADIUS_MM / 2 && edge_radius <= MARK_DEPTH_MAX) || !(t >= 0))
    return FAULT_RANGE;
  Polyline line = {0};
  Fault fault = outline_flatten(gingival, TOL_FLATTEN_MM, &line);
  if (fault)
    return fault;
  double mouth = mark_cut(depth, edge_radius).mouth;
  double mouth_t[2] = {NAN, NAN};
  if (t <= (double)outline_pieces(gingival)) {
    mouth_t[0] = place_beside(&line, t, -mouth);
    mouth_t[1] = place_beside(&line, t, mouth);
  }
  polyline_clear(&line);
  if (isnan(mouth_t[0]) || isnan(mouth_t[1]))
    return FAULT_RANGE;
  Outline fresh = {0};
  fault = mark_build(gingival, t, mouth_t, depth, edge_radius, &fresh);
  return shape_hand_over(&fresh, fault, outline);
}
