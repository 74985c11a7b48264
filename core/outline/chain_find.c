/* chain_find.c - how many legs and arcs a stroke has.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  The number of corners by an information criterion.  The best of several polylines is
 * the beginning; neighbours are joined into one arc, dropped or parted, as long as that explains
 * the points better for what it costs. */
#include "base/tolerance.h"
#include "outline/chain_parts.h"
#include "outline/segment.h"
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#define ROUNDS 30
#define TRY_ROUNDS 25
#define NUMBER 3.5   /* what each number of a chain must gain, in variances   */
#define EVIDENCE 4.5 /* standard errors of a local mean that noise explains   */
#define SPREAD 1.3   /* and of the whole: scatter over the noise              */
#define FIRST_CORNERS 7
#define APART 3.0   /* a first corner stands out by this many deviations ... */
#define MEAN 3      /* ... of the mean of twice as many points and one       */
#define ENDS 4      /* points that an end leg needs                          */
#define SLIGHT 14.0 /* what a slight turn must gain besides                  */
#define SLIGHT_TURN (40 * M_PI / 180)
#define SLIGHT_MM 1.0
#define EVEN_MM 0.25  /* to each side the hand goes at an even speed            */
#define COARSE_MM 1.5 /* the first polyline                                      */
#define UNKNOWN 10.0  /* what a bend of two corners may cost that are not known  */

/* ---- how many corners ---- */

/* What a chain costs: misfit and its numbers.  Between the criteria of Akaike (2 each; finds
 * corners that are not there) and Schwarz (ln n; takes two corners of a box for one bend). */
double chain_cost(const Cloud *cloud, const Chain *chain, const Where where[], double sum)
{
  size_t n = cloud->n;
  if (chain->n > 0 && (where[ENDS - 1].part > 0 || where[n - ENDS].part < 2 * chain->n))
    return INFINITY; /* a hook that an end alone speaks for */
  if (!(cloud->way[n] - cloud->way[n - 1] > cloud->way[1]))
    return INFINITY; /* run backwards */
  double cost = sum / (cloud->noise * cloud->noise) + (double)chain_numbers(chain) * NUMBER;
  for (size_t k = 0; k < chain->n;
       k++) /* a short, slight turn is a tremor more often than a shape */
    if (fabs(chain->corner[k].turn) < SLIGHT_TURN && chain->corner[k].radius < SLIGHT_MM)
      cost += SLIGHT;
  return cost;
}

/* A polyline through means of the points that stand out, as a chain. */
static void corners_mark(const Cloud *cloud, size_t lo, size_t hi, bool mark[], size_t *n,
                         double least)
{
  double most = 0, k;
  size_t at = lo;
  for (size_t i = lo + 1; i < hi; i++) {
    double off = sqrt(segment_near(cloud->mean[i], cloud->mean[lo], cloud->mean[hi], &k));
    if (off > most) {
      most = off;
      at = i;
    }
  }
  if (most < least || *n >= CHAIN_CORNERS)
    return;
  mark[at] = true;
  *n += 1;
  corners_mark(cloud, lo, at, mark, n, least);
  corners_mark(cloud, at, hi, mark, n, least);
}

static void polyline_chain(const Cloud *cloud, double least, bool mark[], Chain *chain)
{
  size_t n = 0, last = cloud->n - 1, vertex[CHAIN_CORNERS + 2], k = 0;
  memset(mark, 0, cloud->n * sizeof *mark);
  corners_mark(cloud, 0, last, mark, &n, least);
  vertex[k++] = 0;
  for (size_t i = 1; i < last; i++)
    if (mark[i])
      vertex[k++] = i;
  vertex[k] = last;
  *chain = (Chain){.start = cloud->mean[0], .n = n};
  double before = 0, cut = 0; /* taken off the leg by the rounding before it */
  for (size_t i = 0; i + 1 < n + 2; i++) {
    Point d = point_sub(cloud->mean[vertex[i + 1]], cloud->mean[vertex[i]]);
    double heading = atan2(d.y, d.x), length = point_length(d), next = 0;
    if (i == 0)
      chain->heading = heading;
    else
      chain->corner[i - 1].turn = remainder(heading - before, FULL);
    if (i < n) {
      Point e = point_sub(cloud->mean[vertex[i + 2]], cloud->mean[vertex[i + 1]]);
      double turn = fabs(remainder(atan2(e.y, e.x) - heading, FULL));
      double tangent = 0.35 * fmin(length, point_length(e));
      chain->corner[i].radius = fmin(tangent / fmax(tan(fmin(turn, 3) / 2), 0.05), 2);
      next = chain->corner[i].radius * tan(fmin(turn, 3) / 2);
    }
    *(i == 0 ? &chain->leg : &chain->corner[i - 1].leg) = fmax(length - cut - next, 0);
    cut = next;
    before = heading;
  }
  for (size_t i = 0; i < n; i++)
    if (fabs(chain->corner[i].turn) < TURN_LEAST)
      chain->corner[i].turn = TURN_LEAST;
}

/* Corner k and the next one become one arc of both turns. */
Chain chain_joined(const Chain *chain, size_t k)
{
  Chain to = *chain;
  const ChainCorner *a = &chain->corner[k], *b = &chain->corner[k + 1];
  double turn = a->turn + b->turn;
  double way = fabs(a->turn) * a->radius + a->leg + fabs(b->turn) * b->radius;
  to.corner[k] = (ChainCorner){.turn = fabs(turn) < TURN_LEAST ? TURN_LEAST : turn,
                               .radius = way / fmax(fabs(turn), 0.05),
                               .leg = b->leg};
  for (size_t i = k + 1; i + 1 < to.n; i++)
    to.corner[i] = chain->corner[i + 1];
  to.n--;
  return to;
}

/* Arc k becomes two with a leg between. */
Chain chain_parted(const Chain *chain, size_t k)
{
  Chain to = *chain;
  for (size_t i = to.n; i > k + 1; i--)
    to.corner[i] = chain->corner[i - 1];
  ChainCorner half = chain->corner[k];
  half.turn /= 2;
  half.radius *= 0.6;
  to.corner[k] = to.corner[k + 1] = half;
  to.corner[k].leg = 0.8 * fabs(half.turn) * chain->corner[k].radius;
  to.corner[k + 1].leg = chain->corner[k].leg;
  to.n++;
  return to;
}

/* The first or the last corner is straightened. */
static Chain dropped(const Chain *chain, bool first)
{
  Chain to = *chain;
  to.n--;
  if (first) {
    Course course;
    chain_course(chain, &course);
    Point on = course.along[2];
    to.heading = atan2(on.y, on.x);
    double back = chain->leg + fabs(chain->corner[0].turn) * chain->corner[0].radius;
    to.start = point_sub(course.from[2], point_scale(on, back));
    to.leg = back + chain->corner[0].leg;
    for (size_t i = 0; i < to.n; i++)
      to.corner[i] = chain->corner[i + 1];
  }
  return to;
}

/* Tries one change of structure, keeps it when it costs less. */
static bool keep_cheaper(const Cloud *cloud, Chain tried, Chain *best, double *cost, Where where[])
{
  double sum = chain_settle(cloud, &tried, where, TRY_ROUNDS),
         now = chain_cost(cloud, &tried, where, sum);
  if (!(now < *cost - 1e-9))
    return false;
  *best = tried;
  *cost = now;
  return true;
}

/* The best of polylines from coarse to fine. */
static void begin(const Cloud *cloud, bool mark[], Chain *chain, double *cost, Where where[])
{
  const double finest = fmax(APART * cloud->noise / sqrt(2.0 * MEAN + 1), 0.01);
  size_t last = SIZE_MAX;
  *cost = INFINITY;
  for (double least = COARSE_MM; least > finest; least *= 0.7) {
    Chain tried;
    polyline_chain(cloud, least, mark, &tried);
    if (tried.n > FIRST_CORNERS)
      break;
    if (tried.n != last)
      keep_cheaper(cloud, tried, chain, cost, where);
    last = tried.n;
  }
}

/* Two corners of one sense, one of them too slight to be known: one bend, unless that costs much.
 */
static void unknown_join(const Cloud *cloud, Chain *chain, double cost, Where where[])
{
  for (size_t k = 0; k + 1 < chain->n; k++) {
    chain_settle(cloud, chain, where, ROUNDS);
    chain_doubts(cloud, chain, where);
    const ChainCorner *a = &chain->corner[k], *b = &chain->corner[k + 1];
    if (a->turn * b->turn < 0 || (a->doubt < a->radius && b->doubt < b->radius))
      continue;
    double bound = cost + UNKNOWN;
    Chain one;
    if (keep_cheaper(cloud, chain_joined(chain, k), &one, &bound, where)) {
      *chain = one;
      cost = bound;
      k = (size_t)-1; /* from the start */
    }
  }
}

static void structure_find(const Cloud *cloud, bool mark[], Chain *chain, Where where[])
{
  double cost;
  begin(cloud, mark, chain, &cost, where);
  for (int round = 0; round < 2 * CHAIN_CORNERS; round++) {
    Chain best = *chain, from = *chain;
    bool better = false;
    for (size_t k = 0; k + 1 < from.n; k++)
      better |= keep_cheaper(cloud, chain_joined(&from, k), &best, &cost, where);
    if (from.n > 0) {
      better |= keep_cheaper(cloud, dropped(&from, true), &best, &cost, where);
      better |= keep_cheaper(cloud, dropped(&from, false), &best, &cost, where);
    }
    for (size_t k = 0; !better && k < from.n && from.n < CHAIN_CORNERS; k++)
      better |= keep_cheaper(cloud, chain_parted(&from, k), &best, &cost, where);
    if (!better)
      break;
    *chain = best;
  }
  unknown_join(cloud, chain, cost, where);
}

/* ---- whether it explains the points ---- */

static bool explains(const Cloud *cloud, double sum)
{
  if (sum > SPREAD * SPREAD * cloud->noise * cloud->noise * (double)cloud->n)
    return false;
  for (size_t width = 2; width <= cloud->n / 2; width *= 2) {
    double mean = 0, least = EVIDENCE * cloud->noise * sqrt((double)width);
    for (size_t i = 0; i < cloud->n; i++) {
      mean += cloud->off[i];
      if (i >= width)
        mean -= cloud->off[i - width];
      if (i + 1 >= width && fabs(mean) > least)
        return false;
    }
  }
  return true;
}

static void ends_set(const Cloud *cloud, Chain *chain)
{
  Course course;
  chain_course(chain, &course);
  double back = point_dot(point_sub(cloud->p[0], chain->start), course.along[0]);
  back = fmin(back, chain->n > 0 ? chain->leg : back);
  chain->start = point_add(chain->start, point_scale(course.along[0], back));
  chain->leg -= back;
  double on = point_dot(point_sub(cloud->p[cloud->n - 1], course.from[2 * chain->n]),
                        course.along[2 * chain->n]);
  if (chain->n > 0)
    chain->corner[chain->n - 1].leg = fmax(on, 0);
  else
    chain->leg = on - back;
}

double chain_sharpest(double noise)
{
  return fmax(1.5 * noise, fmin(4 * noise, 0.1));
}

Fault cloud_make(const Point p[], size_t n, double noise, Cloud *cloud)
{
  double *off = malloc((2 * n + 1) * sizeof *off), along = 0;
  Point *mean = malloc(n * sizeof *mean);
  *cloud = (Cloud){p, n, noise, mean, off, off ? off + n : NULL, chain_sharpest(noise), 0};
  if (!off || !mean) {
    cloud_clear(cloud);
    return FAULT_MEMORY;
  }
  for (size_t i = 0; i < n; i++) {
    size_t reach = MEAN;
    reach = i < reach ? i : reach;
    reach = n - 1 - i < reach ? n - 1 - i : reach;
    Point sum = {0, 0};
    for (size_t j = i - reach; j <= i + reach; j++)
      sum = point_add(sum, p[j]);
    mean[i] = point_scale(sum, 1 / (double)(2 * reach + 1));
  }
  for (size_t i = MEAN; i < n; i += MEAN)
    along += point_distance(mean[i], mean[i - MEAN]);
  cloud->reach = (size_t)fmin(fmax(ceil(EVEN_MM * (double)n / fmax(along, TOL_POINT_MM)), 1), 12);
  return FAULT_NONE;
}

void cloud_clear(Cloud *cloud)
{
  free(cloud->off);
  free(cloud->mean);
  *cloud = (Cloud){0};
}

Fault chain_fit(const Point p[], size_t n, double noise, Chain *chain)
{
  if (n < 8 || !(noise > 0))
    return FAULT_NO_CONVERGENCE;
  Cloud cloud;
  Where *where = malloc(n * sizeof *where);
  bool *mark = malloc(n * sizeof *mark);
  Fault fault = cloud_make(p, n, noise, &cloud);
  if (fault == FAULT_NONE && !(where && mark))
    fault = FAULT_MEMORY;
  if (fault == FAULT_NONE) {
    Chain found;
    polyline_chain(&cloud, INFINITY, mark, &found); /* one straight line */
    structure_find(&cloud, mark, &found, where);
    double sum = chain_settle(&cloud, &found, where, ROUNDS);
    if (!explains(&cloud, sum))
      fault = FAULT_NO_CONVERGENCE;
    if (fault == FAULT_NONE) {
      chain_doubts(&cloud, &found, where);
      found.off = 0;
      for (size_t i = 0; i < n; i++)
        found.off = fmax(found.off, fabs(cloud.off[i]));
      ends_set(&cloud, &found);
      *chain = found;
    }
  }
  cloud_clear(&cloud);
  free(where);
  free(mark);
  return fault;
}
