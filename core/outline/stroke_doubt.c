/* stroke_doubt.c - see stroke_doubt.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  Three independent parts, added in squares: what noise leaves open in the arc that
 * explains the points best; how far the drawn radius lies from that arc; how far the arc lies from
 * those of other chains, one corner more or less, that explain the points about as well. */
#include "outline/stroke_doubt.h"
#include "base/tolerance.h"
#include "outline/chain_parts.h"
#include "outline/form.h"
#include "outline/segment.h"
#include "outline/stroke_parts.h"
#include <stdint.h>
#include <stdlib.h>

#define REACH_MM 0.3     /* a roof this far from all points was not drawn by them     */
#define SETTLE_ROUNDS 25 /* of another chain                                          */
#define TREMOR_MM 0.12   /* what a trembling hand may scatter by: also tried, halved twice */
#define SEEN_TURN 0.5    /* rad; a slighter corner is not read as the roof                     */
#define TOLD 0.5         /* of its radius: a corner with a smaller error is one                   */
#define UNTOLD 1.0       /* share of the radius where no arc explains the points       */
#define OPTIMISM                                                                                   \
  1.3 /* errors are this much larger than a settled chain says: its structure                      \
         was chosen on the same points */

typedef struct {
  double radius;
  Point at; /* the sharpest place */
} Roof;

static Fault roof_read(const Outline *outline, Roof *roof)
{
  Form form;
  Fault fault = form_roof_read(outline, &form);
  *roof = fault ? (Roof){0} : (Roof){form.roof_radius.value, form.roof_sharpest};
  return fault;
}

static double off_arc(const ChainCorner *c, const Course *course, size_t k, Point at)
{
  Point a = course->from[2 * k + 1], b = course->from[2 * k + 2], to = point_sub(at, a),
        middle = point_sub(point_mix(a, b, 0.5), course->centre[k]);
  double length = point_length(middle), t;
  if (length > TOL_POINT_MM && fabs(c->turn) < M_PI)
    to = point_sub(at, point_add(course->centre[k], point_scale(middle, c->radius / length)));
  double near = fmin(segment_near(at, a, b, &t), point_dot(to, to));
  return near;
}

/* The corner whose arc lies nearest to a place, or SIZE_MAX. */
static size_t corner_near(const Chain *chain, Point at)
{
  Course course;
  size_t best = SIZE_MAX;
  double least = INFINITY;
  chain_course(chain, &course);
  for (size_t k = 0; k < chain->n; k++) {
    double off = off_arc(&chain->corner[k], &course, k, at);
    if (off < least) {
      least = off;
      best = k;
    }
  }
  return best;
}

/* Settles another chain; returns what it is worth beside the first one, which costs `cost`: 0 .. 1
 * (Akaike weights). */
static double other_settle(const Cloud *cloud, Chain *other, double cost, Where where[],
                           double *misfit)
{
  *misfit = chain_settle(cloud, other, where, SETTLE_ROUNDS);
  double gain = cost - chain_cost(cloud, other, where, *misfit);
  chain_doubts(cloud, other, where);
  return exp(fmin(gain, 0) / 2);
}

static double square_of(const ChainCorner *there, double radius)
{
  double own = fmin(there->doubt, there->radius), off = there->radius - radius;
  return off * off + own * own;
}

static bool told(const ChainCorner *c)
{
  return c->doubt < TOLD * c->radius;
}

/* Mean square of what other structures say, mm^2. */
static double others(const Cloud *cloud, const Chain *chain, size_t k, Where where[])
{
  Chain settled = *chain;
  double misfit = chain_settle(cloud, &settled, where, SETTLE_ROUNDS),
         cost = chain_cost(cloud, &settled, where, misfit), radius = settled.corner[k].radius,
         sum = 0, weights = 1, there;
  if (settled.n < CHAIN_CORNERS) {
    Chain two = chain_parted(&settled, k);
    double weight = other_settle(cloud, &two, cost, where, &there);
    const ChainCorner *a = &two.corner[k], *b = &two.corner[k + 1];
    bool first = fabs(b->turn) < SEEN_TURN || (fabs(a->turn) >= SEEN_TURN && a->radius < b->radius);
    double square = square_of(first ? a : b, radius);
    if (a->turn * b->turn > 0 && told(a) && told(b) && there <= misfit)
      return square; /* they hold the one arc as a special case */
    sum += weight * square;
    weights += weight;
  }
  for (size_t i = k > 0 ? k - 1 : k; i <= k && i + 1 < settled.n; i++) {
    if (settled.corner[i].turn * settled.corner[i + 1].turn < 0)
      continue;
    Chain one = chain_joined(&settled, i);
    double weight = other_settle(cloud, &one, cost, where, &there);
    sum += weight * square_of(&one.corner[i], radius);
    weights += weight;
    /* alike: what the one reads too sharp the other reads too round */
    const ChainCorner *next = &chain->corner[i == k ? k + 1 : i];
    double off = next->radius - radius, apart = off / (next->doubt + chain->corner[k].doubt);
    weight = exp(-apart * apart / 2);
    sum += weight * off * off / 4;
    weights += weight;
  }
  return sum / weights;
}

/* Standard error of the roof by an arc through points; FAULT_NO_CONVERGENCE where none explains
 * them. */
static Fault error_by_arc(const Point p[], size_t n, double noise, const Roof *roof, double *error)
{
  Chain chain;
  Cloud cloud = {0};
  Fault fault = chain_fit(p, n, noise, &chain);
  if (fault)
    return fault;
  size_t k = corner_near(&chain, roof->at);
  if (k == SIZE_MAX)
    return FAULT_NO_CONVERGENCE;
  Where *where = malloc(n * sizeof *where);
  fault = where ? cloud_make(p, n, noise, &cloud) : FAULT_MEMORY;
  if (!fault) {
    double other = others(&cloud, &chain, k, where), own = OPTIMISM * chain.corner[k].doubt,
           off = roof->radius - chain.corner[k].radius;
    *error = sqrt(own * own + off * off + other);
  }
  cloud_clear(&cloud);
  free(where);
  return fault;
}

static Fault error_find(const Point p[], size_t n, const Outline *outline, double *percent)
{
  Roof roof;
  double noise = 0, error = NAN;
  Fault fault = roof_read(outline, &roof);
  if (!fault)
    fault = stroke_noise(p, n, &noise);
  if (fault)
    return fault;
  size_t middle = 0;
  for (size_t i = 1; i < n; i++)
    if (point_distance(p[i], roof.at) < point_distance(p[middle], roof.at))
      middle = i;
  *percent = NAN;
  if (point_distance(p[middle], roof.at) > REACH_MM + 3 * noise)
    return FAULT_NONE;
  fault = error_by_arc(p, n, noise, &roof, &error);
  if (fault == FAULT_NO_CONVERGENCE) /* the line follows what may have been a tremor */
    for (double loud = TREMOR_MM; loud >= TREMOR_MM / 4; loud /= 2) {
      double there;
      if (error_by_arc(p, n, loud, &roof, &there) == FAULT_NONE) {
        error = fault ? there : fmax(error, there);
        fault = FAULT_NONE;
      }
    }
  if (fault == FAULT_NO_CONVERGENCE)
    error = UNTOLD * roof.radius;
  else if (fault)
    return fault;
  *percent = fmin(100 * error / fmax(roof.radius, MIN_ROOF_RADIUS_MM), STROKE_DOUBT_MOST);
  return FAULT_NONE;
}

Fault stroke_roof_doubt(const PenPoint pen[], size_t n, const Outline *outline, double *percent)
{
  if (n < 2)
    return FAULT_DEGENERATE;
  Point *p = malloc(n * sizeof *p);
  size_t kept = 0;
  Fault fault = p ? stroke_points(pen, n, p, &kept) : FAULT_MEMORY;
  if (!fault && kept < 2)
    fault = FAULT_DEGENERATE;
  if (!fault)
    fault = error_find(p, kept, outline, percent);
  free(p);
  return fault;
}
