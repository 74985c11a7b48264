/* chain.c - a chain of legs and arcs: its course, the places of points on it, the best one of its
 * kind. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  Levenberg and Marquardt on start, heading, legs, turns and radii, held inside what a
 * chain can be. */
#include "base/tolerance.h"
#include "outline/chain_parts.h"
#include <string.h>

#define SETTLED 1e-4 /* share of the sum of squares                           */
#define TURN_MOST (1.9 * M_PI)
#define RADIUS_MOST 50.0

static Point turned(Point d, double angle)
{
  double c = cos(angle), s = sin(angle);
  return point(c * d.x - s * d.y, s * d.x + c * d.y);
}

static Point left_of(Point d)
{
  return point(-d.y, d.x);
}

static double side_of(double turn)
{
  return turn < 0 ? -1 : 1;
}

void chain_course(const Chain *chain, Course *course)
{
  Point at = chain->start, along = point(cos(chain->heading), sin(chain->heading));
  course->from[0] = at;
  course->along[0] = along;
  at = point_add(at, point_scale(along, chain->leg));
  for (size_t k = 0; k < chain->n; k++) {
    const ChainCorner *c = &chain->corner[k];
    double side = side_of(c->turn);
    course->from[2 * k + 1] = at;
    course->along[2 * k + 1] = along;
    course->centre[k] = point_add(at, point_scale(left_of(along), side * c->radius));
    along = turned(along, c->turn);
    at = point_sub(course->centre[k], point_scale(left_of(along), side * c->radius));
    course->from[2 * k + 2] = at;
    course->along[2 * k + 2] = along;
    at = point_add(at, point_scale(along, c->leg));
  }
}

/* Distance to part i (even: leg, odd: arc), signed left; *q the nearest place, *d the direction
 * there. The first leg reaches back and the last one on without end. */
static double part_distance(const Chain *chain, const Course *course, size_t i, Point p, Point *q,
                            Point *d)
{
  size_t k = i / 2;
  Point from = course->from[i], along = course->along[i];
  if (i % 2 == 0) {
    double length = i == 0 ? chain->leg : chain->corner[k - 1].leg;
    double s = point_dot(point_sub(p, from), along);
    if (i > 0)
      s = fmax(s, 0);
    if (k < chain->n)
      s = fmin(s, length);
    *q = point_add(from, point_scale(along, s));
    *d = along;
  } else {
    const ChainCorner *c = &chain->corner[k];
    double side = side_of(c->turn);
    Point out = point_sub(p, course->centre[k]), first = point_sub(from, course->centre[k]);
    if (c->radius <= TOL_POINT_MM)
      first = point_scale(left_of(along), -side);
    double angle = side * atan2(point_cross(first, out), point_dot(first, out)); /* from start */
    double half = fabs(c->turn) / 2;
    if (angle < half - M_PI)
      angle += FULL;
    angle = fmin(fmax(angle, 0), fabs(c->turn));
    *d = turned(along, side * angle);
    *q = point_sub(course->centre[k], point_scale(left_of(*d), side * c->radius));
  }
  return point_cross(*d, point_sub(p, *q));
}

static double part_length(const Chain *chain, size_t i)
{
  if (i % 2 == 1)
    return fabs(chain->corner[i / 2].turn) * chain->corner[i / 2].radius;
  return i == 0 ? chain->leg : chain->corner[i / 2 - 1].leg;
}

/* Place, direction and part at the way s from the start. */
static size_t place_at(const Chain *chain, const Course *course, double s, Point *q, Point *d)
{
  size_t i = 0, last = 2 * chain->n;
  while (i < last && s > part_length(chain, i))
    s -= part_length(chain, i++);
  *d = course->along[i];
  if (i % 2 == 0) {
    *q = point_add(course->from[i], point_scale(*d, s));
    return i;
  }
  const ChainCorner *c = &chain->corner[i / 2];
  double side = side_of(c->turn);
  *d = turned(*d, side * fmin(s / fmax(c->radius, TOL_POINT_MM), fabs(c->turn)));
  *q = point_sub(course->centre[i / 2], point_scale(left_of(*d), side * c->radius));
  return i;
}

/* Where the points belong, in order, and how far they lie off there.  The hand goes evenly, so the
 * mean of the nearest places of neighbours is a better place than a point's own: that one is drawn
 * to the inside of a bend.  Returns the sum of squares. */
static double assign(const Cloud *cloud, const Chain *chain, const Course *course, Where where[])
{
  size_t now = 0, last = 2 * chain->n, n = cloud->n, reach = cloud->reach;
  double before[2 * CHAIN_CORNERS + 2] = {0}, sum = 0, *way = cloud->way;
  for (size_t k = 0; k <= last; k++)
    before[k + 1] = before[k] + part_length(chain, k);
  way[0] = 0;
  for (size_t i = 0; i < n; i++) {
    size_t from = now > 0 ? now - 1 : 0;
    double least = INFINITY;
    for (size_t k = from; k <= from + 4 && k <= last; k++) {
      Point q, d;
      part_distance(chain, course, k, cloud->p[i], &q, &d);
      double far = point_distance(cloud->p[i], q);
      if (far < least - 1e-12) {
        least = far;
        now = k;
        Point on = point_sub(q, course->from[k]);
        way[i + 1] = before[k] + (k % 2 == 0 ? point_dot(on, course->along[k])
                                             : chain->corner[k / 2].radius *
                                                   fabs(atan2(point_cross(course->along[k], d),
                                                              point_dot(course->along[k], d))));
      }
    }
    way[i + 1] += way[i]; /* running sums */
  }
  for (size_t i = 0; i < n; i++) {
    size_t r = i < reach ? i : reach;
    r = n - 1 - i < r ? n - 1 - i : r;
    double s = (way[i + r + 1] - way[i - r]) / (double)(2 * r + 1);
    where[i].part = place_at(chain, course, s, &where[i].q, &where[i].d);
    cloud->off[i] = point_cross(where[i].d, point_sub(cloud->p[i], where[i].q));
    sum += cloud->off[i] * cloud->off[i];
  }
  return sum;
}

/* ---- one fit ---- */

size_t chain_numbers(const Chain *chain)
{
  return chain->n == 0 ? 2 : 2 + 3 * chain->n;
}

/* Derivatives of the distance (left of the chain) by: start across, heading, then for each corner
 * the leg before it, its turn, its radius. */
static void derivatives(const Chain *chain, const Course *course, const Where *where, double g[])
{
  size_t part = where->part;
  Point q = where->q, d = where->d;
  Point normal = left_of(d);
  size_t n = chain_numbers(chain);
  for (size_t j = 0; j < n; j++)
    g[j] = 0;
  g[0] = -point_dot(normal, left_of(course->along[0]));
  g[1] = -point_dot(normal, left_of(point_sub(q, chain->start)));
  for (size_t k = 0; k < chain->n; k++) {
    double *of = g + 2 + 3 * k, side = side_of(chain->corner[k].turn);
    size_t leg = 2 * k, arc = 2 * k + 1;
    if (part > leg) /* all behind it moves along */
      of[0] = -point_dot(normal, course->along[leg]);
    if (part < arc)
      continue;
    if (part > arc)
      of[1] = -point_dot(normal, left_of(point_sub(q, course->centre[k])));
    /* a larger radius moves the centre aside and the far side of the arc back */
    Point out = left_of(course->along[arc]), there = part > arc ? course->along[arc + 1] : d;
    Point moves = point_scale(point_sub(out, left_of(there)), side);
    of[2] = -point_dot(normal, moves);
  }
}

/* Solves (a + damp diag(a)) x = b by Cholesky with the held x given; false when it is not positive.
 */
static bool solve(size_t n, double a[CHAIN_NUMBERS][CHAIN_NUMBERS], const double b[], double damp,
                  const bool held[], double x[])
{
  double l[CHAIN_NUMBERS][CHAIN_NUMBERS], y[CHAIN_NUMBERS];
  for (size_t i = 0; i < n; i++)
    for (size_t j = 0; j <= i; j++) {
      double s =
          held[i] || held[j] ? (i == j ? 1 : 0) : a[i][j] + (i == j ? damp * a[i][i] + 1e-12 : 0);
      for (size_t k = 0; k < j; k++)
        s -= l[i][k] * l[j][k];
      if (i == j && !(s > 0))
        return false;
      l[i][j] = i == j ? sqrt(s) : s / l[j][j];
    }
  for (size_t i = 0; i < n; i++) {
    double s = held[i] ? 0 : b[i];
    for (size_t k = 0; k < n && !held[i]; k++)
      if (held[k])
        s -= (k < i ? a[i][k] : a[k][i]) * x[k];
    for (size_t k = 0; k < i; k++)
      s -= l[i][k] * y[k];
    y[i] = s / l[i][i];
  }
  for (size_t i = n; i-- > 0;) {
    double s = y[i];
    for (size_t k = i + 1; k < n; k++)
      s -= l[k][i] * y[k];
    y[i] = s / l[i][i];
  }
  for (size_t i = 0; i < n; i++)
    if (!held[i])
      x[i] = y[i];
  return true;
}

/* How far each parameter may go down and up. */
static void room_of(const Chain *chain, double sharpest, double low[], double high[])
{
  low[0] = low[1] = -INFINITY;
  high[0] = high[1] = INFINITY;
  for (size_t k = 0; k < chain->n; k++) {
    const ChainCorner *c = &chain->corner[k];
    double *down = low + 2 + 3 * k, *up = high + 2 + 3 * k, side = side_of(c->turn);
    down[0] = -(k == 0 ? chain->leg : chain->corner[k - 1].leg);
    up[0] = INFINITY;
    down[1] = (side > 0 ? TURN_LEAST : -TURN_MOST) - c->turn;
    up[1] = (side > 0 ? TURN_MOST : -TURN_LEAST) - c->turn;
    down[2] = sharpest - c->radius;
    up[2] = RADIUS_MOST - c->radius;
  }
}

/* The step within the room: what would leave it stops at its end, and the others allow for that. */
static bool step_find(const Chain *chain, double sharpest, double a[CHAIN_NUMBERS][CHAIN_NUMBERS],
                      const double b[], double damp, double x[])
{
  double low[CHAIN_NUMBERS], high[CHAIN_NUMBERS];
  bool held[CHAIN_NUMBERS] = {false};
  size_t n = chain_numbers(chain);
  room_of(chain, sharpest, low, high);
  for (size_t round = 0; round <= n; round++) {
    bool left = false;
    if (!solve(n, a, b, damp, held, x))
      return false;
    for (size_t i = 0; i < n; i++)
      if (!held[i] && (x[i] < low[i] || x[i] > high[i])) {
        x[i] = x[i] < low[i] ? low[i] : high[i];
        held[i] = left = true;
      }
    if (!left)
      break;
  }
  return true;
}

static Chain stepped(const Chain *chain, const double x[])
{
  Chain to = *chain;
  Point along = point(cos(chain->heading), sin(chain->heading));
  to.start = point_add(to.start, point_scale(left_of(along), x[0]));
  to.heading += x[1];
  for (size_t k = 0; k < to.n; k++) {
    const double *of = x + 2 + 3 * k;
    double *leg = k == 0 ? &to.leg : &to.corner[k - 1].leg;
    *leg = fmax(*leg + of[0], 0);
    to.corner[k].turn += of[1];
    to.corner[k].radius = fmax(to.corner[k].radius + of[2], 0);
  }
  return to;
}

/* Settles the chain on the points; returns the sum of squares. */
double chain_settle(const Cloud *cloud, Chain *chain, Where where[], int rounds)
{
  Course course;
  chain_course(chain, &course);
  double sum = assign(cloud, chain, &course, where), damp = 1e-3;
  size_t n = chain_numbers(chain);
  double a[CHAIN_NUMBERS][CHAIN_NUMBERS], b[CHAIN_NUMBERS], g[CHAIN_NUMBERS], x[CHAIN_NUMBERS];
  for (int round = 0; round < rounds; round++) {
    memset(a, 0, sizeof a);
    memset(b, 0, sizeof b);
    for (size_t i = 0; i < cloud->n; i++) {
      derivatives(chain, &course, &where[i], g);
      for (size_t j = 0; j < n; j++) {
        b[j] -= g[j] * cloud->off[i];
        for (size_t k = 0; k <= j; k++)
          a[j][k] += g[j] * g[k];
      }
    }
    double before = sum;
    bool better = false;
    for (int attempt = 0; attempt < 8 && !better; attempt++) {
      if (step_find(chain, cloud->sharpest, a, b, damp, x)) {
        Chain next = stepped(chain, x);
        Course there;
        chain_course(&next, &there);
        double now = assign(cloud, &next, &there, where);
        if (now < sum) {
          better = true;
          sum = now;
          *chain = next;
          course = there;
        }
      }
      damp = better ? fmax(damp * 0.3, 1e-9) : damp * 5;
    }
    if (!better || before - sum < SETTLED * sum)
      break;
  }
  return assign(cloud, chain, &course, where);
}

/* Standard errors of the radii from the inverse of the normal matrix. */
void chain_doubts(const Cloud *cloud, Chain *chain, const Where where[])
{
  Course course;
  chain_course(chain, &course);
  size_t n = chain_numbers(chain);
  double a[CHAIN_NUMBERS][CHAIN_NUMBERS] = {{0}}, g[CHAIN_NUMBERS], x[CHAIN_NUMBERS];
  bool held[CHAIN_NUMBERS] = {false};
  for (size_t i = 0; i < cloud->n; i++) {
    derivatives(chain, &course, &where[i], g);
    for (size_t j = 0; j < n; j++)
      for (size_t k = 0; k <= j; k++)
        a[j][k] += g[j] * g[k];
  }
  for (size_t k = 0; k < chain->n; k++) {
    double b[CHAIN_NUMBERS] = {0};
    b[2 + 3 * k + 2] = 1;
    bool known = solve(n, a, b, 1e-9, held, x);
    chain->corner[k].doubt = known ? cloud->noise * sqrt(fmax(x[2 + 3 * k + 2], 0)) : INFINITY;
  }
}

Fault chain_outline(const Chain *chain, Outline *outline)
{
  Course course;
  chain_course(chain, &course);
  Fault fault = outline->n == 0 ? outline_move_to(outline, chain->start) : FAULT_NONE;
  double leg = chain->leg;
  for (size_t k = 0; k <= chain->n && fault == FAULT_NONE; k++) {
    Point from = course.from[2 * k];
    Point to = point_add(from, point_scale(course.along[2 * k], leg));
    if (leg > 10 * TOL_POINT_MM)
      fault = outline_line_to(outline, to);
    if (k == chain->n || fault != FAULT_NONE)
      break;
    const ChainCorner *c = &chain->corner[k];
    if (c->radius * fabs(c->turn) > 10 * TOL_POINT_MM)
      fault = outline_arc_to(outline, course.centre[k], c->turn);
    leg = c->leg;
  }
  return fault;
}
