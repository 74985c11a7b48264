/* loft_side.c - one side of one outline, from the neck outwards: roof arc, leg, body.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, rad.  Samples keep position, arc length and direction, so a circular arc is followed to
 * better than 1e-5 of its radius by the cubic between two samples. */
#include "loft_side.h"
#include "base/tolerance.h"
#include "outline/cubic.h"
#include <stdint.h>
#include <stdlib.h>

#define PIECE_STEPS 16   /* samples of a curved piece                                 */
#define NOTCH_TURN 0.2   /* rad: a side that turns less has no roof of its own        */
#define TURN_STEP 0.035  /* rad: 2 degrees, how the end of the arc is read            */
#define RADIUS_TURN 0.15 /* rad: a radius is read over this much turning              */
#define LEG_SHARE 0.10   /* the leg takes at least this share of arc and leg           */
#define ARC_SHARE 0.02   /* the arc takes at least this share of arc and leg           */
#define BODY_SHARE 0.08  /* the body takes at least this share of the whole            */
#define MAX_PIECES 20000

static double wrap(double angle)
{
  return remainder(angle, 2 * acos(-1.0));
}

/* Direction of a piece at t; where the derivative vanishes, that of the chord to the far control
 * point. */
static double direction(const Point c[4], double t)
{
  Point d = cubic_first(c, t);
  double size = point_distance(c[0], c[3]) + point_distance(c[0], c[1]);
  if (point_length(d) < 1e-6 * size) {
    Point e = t < 0.5 ? c[2] : c[1];
    d = t < 0.5 ? point_sub(e, c[0]) : point_sub(c[3], e);
    if (point_length(d) < 1e-6 * size)
      d = point_sub(c[3], c[0]);
  }
  return atan2(d.y, d.x);
}

static bool piece_straight(const Point c[4])
{
  Point chord = point_sub(c[3], c[0]);
  double length = point_length(chord);
  return fabs(point_cross(chord, point_sub(c[1], c[0]))) <= 1e-9 * length &&
         fabs(point_cross(chord, point_sub(c[2], c[0]))) <= 1e-9 * length;
}

/* The piece in local axes, running outwards. */
static void local_piece(const Outline *outline, size_t i, LoftOutline which, int side,
                        double neck_x, Point c[4])
{
  Point p[4];
  double flip = which == LOFT_GINGIVAL || which == LOFT_LINGUAL ? -1 : 1;
  outline_piece(outline, i, p);
  for (int k = 0; k < 4; k++) {
    Point q = p[side > 0 ? k : 3 - k];
    c[k] = point(side * (q.x - neck_x), flip * q.y);
  }
}

static void side_push(LoftSide *out, Point at, double angle)
{
  SideSample *s = &out->sample[out->n];
  s->at = at;
  s->length = 0;
  s->turn = angle;
  s->ahead = point(cos(angle), sin(angle));
  if (out->n > 0) {
    const SideSample *before = s - 1;
    double turned = wrap(angle - before->turn), chord = point_distance(at, before->at);
    double half = fabs(turned) / 2;
    s->turn = before->turn + turned;
    s->length = before->length + (half > 1e-3 && half < 1 ? chord * half / sin(half) : chord);
  }
  out->n++;
}

/* The crossing of u = 0 that lies nearest to the middle of the material: smallest v.  Pieces run
 * outwards. */
static bool find_start(const Outline *outline, LoftOutline which, int side, double neck_x,
                       size_t *piece, double *t)
{
  size_t n = outline_pieces(outline);
  double best = INFINITY;
  for (size_t i = 0; i < n; i++) {
    Point c[4];
    local_piece(outline, i, which, side, neck_x, c);
    int steps = piece_straight(c) ? 1 : PIECE_STEPS;
    for (int k = 0; k < steps; k++) {
      double a = (double)k / steps, b = (double)(k + 1) / steps;
      double ua = cubic_at(c, a).x, ub = cubic_at(c, b).x;
      if (!(ua <= 0 && ub >= 0) || ua == ub)
        continue;
      for (int it = 0; it < 50; it++) {
        double m = (a + b) / 2;
        if (cubic_at(c, m).x <= 0)
          a = m;
        else
          b = m;
      }
      double v = cubic_at(c, b).y;
      if (v < best) {
        best = v;
        *piece = i;
        *t = b;
      }
    }
  }
  return isfinite(best);
}

Fault loft_side_new(const Outline *outline, LoftOutline which, int side, double neck_x,
                    LoftSide *out)
{
  Fault fault = outline_check(outline);
  if (fault)
    return fault;
  size_t n = outline_pieces(outline), piece = 0;
  if (n > MAX_PIECES || outline->closed)
    return FAULT_RANGE;
  double t = 0;
  if (!find_start(outline, which, side, neck_x, &piece, &t))
    return FAULT_NO_NECK;
  LoftSide made = {.n = 0};
  size_t count = side > 0 ? n - piece : piece + 1;
  made.sample = malloc(count * (PIECE_STEPS + 1) * sizeof *made.sample);
  if (!made.sample)
    return FAULT_MEMORY;
  for (size_t i = piece; count-- > 0; i = side > 0 ? i + 1 : i - 1) {
    Point c[4];
    local_piece(outline, i, which, side, neck_x, c);
    double from = i == piece ? t : 0;
    if (1 - from < 1e-9)
      continue;
    int steps = piece_straight(c) ? 1 : PIECE_STEPS;
    for (int k = 0; k <= steps; k++) {
      double at = from + (1 - from) * k / steps;
      side_push(&made, cubic_at(c, at), direction(c, at));
    }
  }
  if (made.n < 2 || made.sample[made.n - 1].length < TOL_POINT_MM) {
    loft_side_clear(&made);
    return FAULT_NO_NECK;
  }
  made.sample[0].at.x = 0;
  *out = made;
  return FAULT_NONE;
}

void loft_side_clear(LoftSide *side)
{
  if (!side)
    return;
  free(side->sample);
  *side = (LoftSide){0};
}

double loft_side_reach(const LoftSide *side)
{
  double reach = 0;
  for (size_t i = 0; i < side->n; i++)
    reach = fmax(reach, side->sample[i].at.x);
  return reach;
}

/* Arc length where the turning first (dir +1) passes `turn` upwards, or downwards (dir -1), from
 * sample i. */
static double turn_find(const LoftSide *side, size_t from, double turn, int dir)
{
  const SideSample *s = side->sample;
  for (size_t i = from; i < side->n; i++) {
    if (dir * (s[i].turn - turn) < 0)
      continue;
    if (i == from)
      return s[i].length;
    double span = s[i].turn - s[i - 1].turn, share = span != 0 ? (turn - s[i - 1].turn) / span : 1;
    return s[i - 1].length + share * (s[i].length - s[i - 1].length);
  }
  return s[side->n - 1].length;
}

void loft_side_divide(LoftSide *side, double reach)
{
  const SideSample *s = side->sample;
  double end = loft_side_find(side, reach), top = -INFINITY, after = INFINITY;
  size_t last = 0, n = side->n;
  while (n > 1 && s[n - 1].length > end)
    n--;
  for (size_t i = 0; i < n; i++)
    top = fmax(top, s[i].turn);
  for (size_t i = 0; i < n; i++)
    if (s[i].turn >= top - TURN_STEP / 2)
      last = i;
  for (size_t i = last; i < n; i++)
    after = fmin(after, s[i].turn);
  /* the end of the arc: the last two degrees of turning, carried on at their own rate */
  double near = turn_find(side, 0, top - TURN_STEP, 1);
  double arc =
      fmin(2 * near - turn_find(side, 0, top - 2 * TURN_STEP, 1), turn_find(side, 0, top, 1));
  double foot = turn_find(side, last, (top + after) / 2, -1);
  double body = BODY_SHARE * end;
  if (top - after < NOTCH_TURN || foot > end - body)
    foot = fmin(end - body, arc < 0.6 * end ? arc + 0.7 * (end - arc) : end);
  arc = fmin(fmax(arc, ARC_SHARE * foot), (1 - LEG_SHARE) * foot);
  side->notch = top > NOTCH_TURN;
  side->part[0] = 0;
  side->part[1] = side->notch ? arc : end / 4;
  side->part[2] = side->notch ? foot : end / 2;
  side->part[3] = end;
}

void loft_side_divide_like(LoftSide *side, const LoftSide *like)
{
  for (int k = 1; k < 3; k++)
    side->part[k] = loft_side_find(side, loft_side_at(like, like->part[k]).x);
  side->part[1] = fmin(side->part[1], (1 - LEG_SHARE) * side->part[2]);
}

double loft_side_length_at(const LoftSide *side, double s)
{
  int k = s < 1 ? 0 : s < 2 ? 1 : 2;
  return side->part[k] + (s - k) * (side->part[k + 1] - side->part[k]);
}

/* Index i of the interval [i, i + 1] that holds the length. */
static size_t interval(const LoftSide *side, double length)
{
  size_t low = 0, high = side->n - 1;
  while (high - low > 1) {
    size_t mid = (low + high) / 2;
    if (side->sample[mid].length <= length)
      low = mid;
    else
      high = mid;
  }
  return low;
}

/* Between two samples: cubic of Hermite, ends and directions. */
static Point between(const SideSample *a, const SideSample *b, double length)
{
  double span = b->length - a->length;
  if (!(span > 0))
    return a->at;
  double t = (length - a->length) / span, r = 1 - t;
  double ha = t * r * r * span, hb = -t * t * r * span, mix = t * t * (3 - 2 * t);
  return point(a->at.x + mix * (b->at.x - a->at.x) + ha * a->ahead.x + hb * b->ahead.x,
               a->at.y + mix * (b->at.y - a->at.y) + ha * a->ahead.y + hb * b->ahead.y);
}

Point loft_side_at(const LoftSide *side, double length)
{
  const SideSample *a = &side->sample[interval(side, length)];
  return between(a, a + 1, length);
}

double loft_side_turn(const LoftSide *side, double length)
{
  const SideSample *a = &side->sample[interval(side, length)], *b = a + 1;
  double span = b->length - a->length;
  return span > 0 ? a->turn + (length - a->length) / span * (b->turn - a->turn) : a->turn;
}

double loft_side_find(const LoftSide *side, double u)
{
  const SideSample *s = side->sample;
  for (size_t i = 1; i < side->n; i++) {
    if (s[i].at.x < u)
      continue;
    double low = s[i - 1].length, high = s[i].length;
    for (int it = 0; it < 40; it++) {
      double m = (low + high) / 2;
      if (between(&s[i - 1], &s[i], m).x < u)
        low = m;
      else
        high = m;
    }
    return high;
  }
  return s[side->n - 1].length;
}

double loft_side_radius(const LoftSide *side)
{
  const SideSample *s = side->sample;
  double radius = LOFT_RADIUS_FLAT;
  for (size_t i = 0, j = 0; i < side->n && s[i].length <= side->part[1]; i++) {
    while (j < side->n && s[j].turn - s[i].turn < RADIUS_TURN)
      j++;
    if (j >= side->n || s[j].length > side->part[1] * (1 + 1e-6))
      break;
    radius = fmin(radius, (s[j].length - s[i].length) / (s[j].turn - s[i].turn));
  }
  return fmax(radius, MIN_ROOF_RADIUS_MM);
}
