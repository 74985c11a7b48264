/* curvature.c - direction over arc length, radii read from it, sharp places, comb.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm, curvature 1/mm, angles rad; left turn positive.
 * Method: core/SOURCES.md "radius of a drawn line". */
#include "outline/form.h"
#include "base/tolerance.h"
#include "outline/cubic.h"
#include "outline/turning.h"
#include <stdlib.h>

#define CHORD_MM 2e-4               /* chord error of the places; their s and theta are exact */
#define READ_TURN (20 * M_PI / 180) /* a radius is read over this much turning            */
#define FLAT_TURN (5 * M_PI / 180)  /* less than this has no radius                       */
#define KAPPA_MAX 1e4               /* curvature told for a sharp corner, 1/mm            */

static Point tangent(const Point c[4], double u)
{
  Point first = cubic_first(c, u);
  double size =
      point_distance(c[0], c[1]) + point_distance(c[1], c[2]) + point_distance(c[2], c[3]);
  if (point_length(first) > 1e-9 * size)
    return first;
  return point_scale(cubic_second(c, u), u < 0.5 ? 1 : -1); /* a handle on its knot */
}

Fault turning_of(const Outline *outline, bool flip, Turning *turning)
{
  Polyline line = {0};
  Fault fault = outline_flatten(outline, CHORD_MM, &line);
  if (fault != FAULT_NONE)
    return fault;
  Turning made = {malloc(2 * line.n * sizeof *made.place), 0};
  if (made.place == NULL) {
    polyline_clear(&line);
    return FAULT_MEMORY;
  }
  double theta = 0, side = flip ? -1 : 1;
  Point before = {0, 0};
  for (size_t i = 0; i + 1 < line.n; i++) {
    size_t piece = (size_t)((line.t[i] + line.t[i + 1]) / 2);
    Point c[4];
    outline_piece(outline, piece, c);
    Point d0 = tangent(c, line.t[i] - (double)piece),
          d1 = tangent(c, line.t[i + 1] - (double)piece);
    double jump = i == 0 ? 0 : atan2(point_cross(before, d0), point_dot(before, d0));
    theta += i == 0 ? atan2(d0.y, d0.x) : jump;
    if (i == 0 || fabs(jump) > 1e-9)
      made.place[made.n++] =
          (TurnPlace){line.s[i], line.t[i], side * theta, point(line.at[i].x, side * line.at[i].y)};
    theta += atan2(point_cross(d0, d1), point_dot(d0, d1));
    made.place[made.n++] = (TurnPlace){line.s[i + 1], line.t[i + 1], side * theta,
                                       point(line.at[i + 1].x, side * line.at[i + 1].y)};
    before = d1;
  }
  polyline_clear(&line);
  *turning = made;
  return FAULT_NONE;
}

void turning_clear(Turning *turning)
{
  if (turning == NULL)
    return;
  free(turning->place);
  *turning = (Turning){0};
}

TurnPlace turning_at(const Turning *turning, double s)
{
  const TurnPlace *place = turning->place;
  size_t lo = 0, hi = turning->n - 1;
  while (hi - lo > 1) {
    size_t middle = (lo + hi) / 2;
    if (place[middle].s <= s)
      lo = middle;
    else
      hi = middle;
  }
  double span = place[hi].s - place[lo].s;
  double k = span > 0 ? fmin(fmax((s - place[lo].s) / span, 0), 1) : 0;
  return (TurnPlace){s, place[lo].t + k * (place[hi].t - place[lo].t),
                     place[lo].theta + k * (place[hi].theta - place[lo].theta),
                     point_mix(place[lo].at, place[hi].at, k)};
}

/* From place i, going by `step`, the arc length at which the turn `turn` (> 0 in the sense of
 * `sign`) is reached before s leaves `limit`; NaN if never. */
static double reach(const Turning *turning, size_t i, size_t end, int step, double sign,
                    double turn, double limit)
{
  const TurnPlace *place = turning->place;
  for (size_t j = i; j != end;) {
    size_t k = step > 0 ? j + 1 : j - 1;
    double was = sign * step * (place[j].theta - place[i].theta);
    double now = sign * step * (place[k].theta - place[i].theta);
    if (now >= turn) {
      double part = now > was ? (turn - was) / (now - was) : 0;
      return place[j].s + fmax(part, 0) * (place[k].s - place[j].s);
    }
    if (fabs(place[k].s - place[i].s) >= limit)
      break;
    j = k;
  }
  return NAN;
}

bool turning_shortest(const Turning *turning, size_t lo, size_t hi, double turn, Arc *arc)
{
  double sign = turn < 0 ? -1 : 1, best = INFINITY;
  for (size_t i = lo; i <= hi; i++) { /* the shortest arc has an end on a place */
    double s = turning->place[i].s;
    double on = reach(turning, i, hi, 1, sign, fabs(turn), best);
    if (on - s < best) {
      best = on - s;
      *arc = (Arc){s, on};
    }
    double back = reach(turning, i, lo, -1, sign, fabs(turn), best);
    if (s - back < best) {
      best = s - back;
      *arc = (Arc){back, s};
    }
  }
  return isfinite(best);
}

Banded turning_radius(const Turning *turning, size_t lo, size_t hi, Arc *arc)
{
  const TurnPlace *place = turning->place;
  double highest = place[lo].theta, most = 0; /* largest right turn inside lo..hi */
  for (size_t i = lo; i <= hi; i++) {
    highest = fmax(highest, place[i].theta);
    most = fmax(most, highest - place[i].theta);
  }
  *arc = (Arc){place[lo].s, place[hi].s};
  double turn = fmin(READ_TURN, 0.9 * most), r[3] = {0, 0, 0};
  if (most < FLAT_TURN || !turning_shortest(turning, lo, hi, -turn, arc))
    return banded(RADIUS_FLAT_MM, fmin((place[hi].s - place[lo].s) / FLAT_TURN, RADIUS_FLAT_MM),
                  RADIUS_FLAT_MM);
  for (int i = 0; i < 3; i++) {
    double over = i == 0 ? turn / 2 : i == 1 ? turn : fmin(2 * turn, 0.95 * most);
    Arc found;
    if (turning_shortest(turning, lo, hi, -over, &found))
      r[i] = fmin((found.s1 - found.s0) / over, RADIUS_FLAT_MM);
    else
      r[i] = RADIUS_FLAT_MM;
  }
  return banded(r[1], fmin(r[0], 0.995 * r[1]), fmax(r[2], 1.005 * r[1]));
}

/* ---- sharp places ---- */

typedef struct {
  size_t lo, hi; /* places not yet used */
} Stretch;

static SharpPlace sharp_place(const Outline *outline, const Turning *turning, size_t lo, size_t hi,
                              Arc arc, double turn)
{
  double length = fmax(arc.s1 - arc.s0, fabs(turn) / KAPPA_MAX);
  double kappa = turn / length, half = kappa;
  Arc inner;
  if (turning_shortest(turning, lo, hi, turn / 2, &inner))
    half = turn / 2 / fmax(inner.s1 - inner.s0, fabs(turn) / 2 / KAPPA_MAX);
  double t = turning_at(turning, (arc.s0 + arc.s1) / 2).t;
  return (SharpPlace){t, outline_at(outline, t), kappa, fabs(half - kappa) + 2e-3 * fabs(kappa)};
}

/* Puts `found` in order (sharpest first, then by t) among the n places kept in an array of `room`.
 */
static void keep(SharpPlace place[], size_t room, size_t n, SharpPlace found)
{
  size_t at = n < room ? n : room;
  while (at > 0 && fabs(place[at - 1].kappa) < fabs(found.kappa)) {
    if (at < room)
      place[at] = place[at - 1];
    at--;
  }
  if (at < room)
    place[at] = found;
}

Fault sharp_places_find(const Outline *outline, double min_turn, SharpPlace place[], size_t room,
                        size_t *n_place)
{
  if (!(min_turn > 0 && min_turn <= M_PI))
    return FAULT_RANGE;
  Turning turning = {0};
  Fault fault = turning_of(outline, false, &turning);
  if (fault != FAULT_NONE)
    return fault;
  Stretch *todo = malloc((turning.n + 2) * sizeof *todo);
  if (todo == NULL) {
    turning_clear(&turning);
    return FAULT_MEMORY;
  }
  size_t n = 0, left = 0;
  todo[left++] = (Stretch){0, turning.n - 1};
  while (left > 0) { /* take the sharpest arc of a stretch, go on before and behind it */
    Stretch now = todo[--left];
    Arc arc[2];
    bool found[2];
    for (int i = 0; i < 2; i++)
      found[i] = turning_shortest(&turning, now.lo, now.hi, i ? -min_turn : min_turn, &arc[i]);
    if (!found[0] && !found[1])
      continue;
    int sharper = found[0] && (!found[1] || arc[0].s1 - arc[0].s0 <= arc[1].s1 - arc[1].s0) ? 0 : 1;
    double turn = sharper ? -min_turn : min_turn;
    size_t lo = now.lo, hi = now.hi; /* the places around the arc, then its whole turn */
    while (lo < now.hi && turning.place[lo + 1].s <= arc[sharper].s0 - TOL_POINT_MM)
      lo++;
    while (hi > lo + 1 && turning.place[hi - 1].s >= arc[sharper].s1 + TOL_POINT_MM)
      hi--;
    keep(place, room, n++, sharp_place(outline, &turning, lo, hi, arc[sharper], turn));
    double kappa = fabs(turn) / fmax(arc[sharper].s1 - arc[sharper].s0, fabs(turn) / KAPPA_MAX);
    /* what goes on turning the same way, at least half as sharply, belongs to the same place */
    const TurnPlace *p = turning.place;
    while (lo > now.lo && copysign(1, turn) * (p[lo].theta - p[lo - 1].theta) >
                              0.5 * kappa * (p[lo].s - p[lo - 1].s) + 1e-12)
      lo--;
    while (hi < now.hi && copysign(1, turn) * (p[hi + 1].theta - p[hi].theta) >
                              0.5 * kappa * (p[hi + 1].s - p[hi].s) + 1e-12)
      hi++;
    if (lo > now.lo)
      todo[left++] = (Stretch){now.lo, lo};
    if (hi < now.hi)
      todo[left++] = (Stretch){hi, now.hi};
  }
  free(todo);
  turning_clear(&turning);
  *n_place = n;
  return n > room ? FAULT_ROOM : FAULT_NONE;
}

Fault curvature_comb(const Outline *outline, size_t n, Point at[], Point normal[], double kappa[])
{
  if (n < 2)
    return FAULT_RANGE;
  Turning turning = {0};
  Fault fault = turning_of(outline, false, &turning);
  if (fault != FAULT_NONE)
    return fault;
  double length = turning.place[turning.n - 1].s;
  for (size_t i = 0; i < n; i++) {
    TurnPlace place = turning_at(&turning, length * (double)i / (double)(n - 1));
    at[i] = outline_at(outline, place.t);
    normal[i] = point(-sin(place.theta), cos(place.theta));
    kappa[i] = outline_curvature(outline, place.t);
  }
  turning_clear(&turning);
  return FAULT_NONE;
}
