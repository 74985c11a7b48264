/* stroke_apply.c - a stroke drawn into an outline: the stretch that it covers is replaced.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  The outline is changed only when the result is whole and does not cross itself.  A
 * join leaves the outline in its own direction and runs into the stroke over a length that keeps it
 * round: an offset g over the length b bends by about 6 g / b^2.  Only a foot is a corner: where
 * the stroke leaves the straight run to an end of the outline steeply.  The outline outside the
 * stroke is kept exactly. */
#include "outline/stroke.h"
#include "base/tolerance.h"

#define JOIN_LEAST_MM 0.5 /* length of a join                                              */
#define JOIN_BEND 1.0     /* 1/mm that a join may bend by for its offset                   */
#define JOIN_SHARE 0.4    /* at most this share of the stroke                              */
#define JOIN_TURN -0.5    /* cosine: a stroke that leaves further back is joined straight  */
#define FOOT_TURN 0.7     /* the same at a foot                                            */

static Point direction(const Outline *outline, double t)
{
  Point first, second;
  outline_derivatives(outline, t, &first, &second);
  double length = point_length(first);
  return length > 0 ? point_scale(first, 1 / length) : point(1, 0);
}

/* The place `length` mm behind the start of the outline. */
static Fault place_after(const Outline *outline, double length, double *t)
{
  Polyline line = {0};
  Fault fault = outline_flatten(outline, 10 * TOL_FLATTEN_MM, &line);
  if (fault != FAULT_NONE)
    return fault;
  size_t i = 1;
  while (i + 1 < line.n && line.s[i] < length)
    i++;
  double k = (length - line.s[i - 1]) / (line.s[i] - line.s[i - 1]);
  *t = line.t[i - 1] + fmin(fmax(k, 0), 1) * (line.t[i] - line.t[i - 1]);
  polyline_clear(&line);
  return FAULT_NONE;
}

/* Cosine of the turn beyond which a stroke is joined straight at t, where the outline runs `along`;
 * `outer` is the outermost piece on that side. */
static double join_turn(const Outline *outline, double t, double outer, Point along)
{
  bool outermost = fabs(t - (outer + 0.5)) <= 0.5 + 1e-6;
  Point run = direction(outline, outer + 0.5);
  return outermost && fabs(point_cross(run, along)) < 1e-3 ? FOOT_TURN : JOIN_TURN;
}

/* Gives the stretch a new beginning: at `from`, in the direction `along`, or straight to it when
 * far or when it turns by more than the cosine `turn`. */
static Fault lead_in(Outline *stretch, Point from, Point along, bool far, double turn)
{
  Outline led = {0};
  double pieces = (double)outline_pieces(stretch), t = 0,
         gap = point_distance(from, stretch->knot[0].at);
  Fault fault = outline_move_to(&led, from);
  double join = fmax(JOIN_LEAST_MM, sqrt(6 * gap / JOIN_BEND));
  if (fault == FAULT_NONE && !far)
    fault = place_after(stretch, fmin(join, JOIN_SHARE * outline_length(stretch)), &t);
  Point to = outline_at(stretch, t), into = direction(stretch, t);
  double arm = point_distance(from, to) / 3;
  if (fault == FAULT_NONE && arm > TOL_POINT_MM) {
    if (far || point_dot(along, into) < turn)
      fault = outline_line_to(&led, to);
    else
      fault = outline_curve_to(&led, point_add(from, point_scale(along, arm)),
                               point_sub(to, point_scale(into, arm)), to);
  }
  if (fault == FAULT_NONE)
    fault = outline_append_part(&led, stretch, t, pieces);
  if (fault != FAULT_NONE) {
    outline_clear(&led);
    return fault;
  }
  outline_clear(stretch);
  *stretch = led;
  return FAULT_NONE;
}

typedef struct {
  double t, gap; /* place on the outline, and how far the stroke ends from it */
  bool wanted;   /* given, not the nearest                                    */
} Join;

static Join join_at(const Outline *outline, Point end, const Point *wanted)
{
  Join join = {.wanted = wanted && point_finite(*wanted)};
  join.t = outline_nearest(outline, join.wanted ? *wanted : end, &join.gap);
  join.gap = point_distance(end, outline_at(outline, join.t));
  return join;
}

/* Finds the places t[0] < t[1] between which the stretch belongs and joins it to them. */
static Fault cover_find(const Outline *outline, Outline *stretch, const Point ends[2],
                        double reach_mm, double t[2])
{
  double last = (double)outline_pieces(stretch), pieces = (double)outline_pieces(outline);
  Join first = join_at(outline, outline_at(stretch, 0), ends),
       second = join_at(outline, outline_at(stretch, last), ends ? ends + 1 : NULL);
  if (first.t > second.t) { /* drawn against the run of the outline */
    outline_reverse(stretch);
    Join swap = first;
    first = second;
    second = swap;
  }
  t[0] = first.t;
  t[1] = second.t;
  Point begin = outline_at(outline, t[0]), end = outline_at(outline, t[1]);
  if (t[1] <= t[0] || point_distance(begin, end) <= 2 * TOL_POINT_MM)
    return FAULT_DEGENERATE;
  /* an end of the outline itself is drawn anew and needs no join */
  Fault fault = FAULT_NONE;
  if (t[0] > 0 || first.wanted) {
    Point along = direction(outline, fmax(t[0] - 1e-6, 0));
    fault =
        lead_in(stretch, begin, along, first.gap > reach_mm, join_turn(outline, t[0], 0, along));
  }
  if (fault == FAULT_NONE && (t[1] < pieces || second.wanted)) {
    outline_reverse(stretch);
    Point back = point_scale(direction(outline, fmin(t[1] + 1e-6, pieces)), -1);
    fault = lead_in(stretch, end, back, second.gap > reach_mm,
                    join_turn(outline, t[1], pieces - 1, back));
    outline_reverse(stretch);
  }
  return fault;
}

Fault stroke_apply(Outline *outline, const PenPoint pen[], size_t n, const StrokeSettings *settings,
                   double reach_mm, Point *where)
{
  if (!(reach_mm >= 0))
    return FAULT_RANGE;
  Outline stretch = {0}, made = {0};
  double t[2];
  Point crossing;
  Fault fault = outline_check(outline);
  if (fault == FAULT_NONE && outline->closed)
    fault = FAULT_RANGE;
  if (fault == FAULT_NONE)
    fault = stroke_fit(pen, n, settings, &stretch, NULL);
  if (fault == FAULT_NONE)
    fault = cover_find(outline, &stretch, settings ? settings->ends : NULL, reach_mm, t);
  if (fault == FAULT_NONE)
    fault = outline_copy(&made, outline);
  if (fault == FAULT_NONE)
    fault = outline_replace(&made, t[0], t[1], &stretch);
  if (fault == FAULT_NONE) {
    fault = outline_find_crossing(&made, &crossing);
    if (fault == FAULT_CROSSING && where != NULL)
      *where = crossing;
  }
  if (fault == FAULT_NONE && made.knot[0].at.x >= made.knot[made.n - 1].at.x)
    fault = FAULT_RANGE; /* it no longer runs from small to large x */
  outline_clear(&stretch);
  if (fault != FAULT_NONE) {
    outline_clear(&made);
    return fault;
  }
  outline_clear(outline);
  *outline = made;
  return FAULT_NONE;
}
