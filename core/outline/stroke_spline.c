/* stroke_spline.c - pen points as a spline, as stiff as they allow.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  The fit starts stiff everywhere.  Where the mean of several points lies off the line
 * by more than noise explains (and by more than a small share of the band) it is made softer, there
 * only, and so on. A stretch that turns back within WIGGLE_TURN is a wiggle and may be smoothed
 * away within the band. Cost: O(n) a round, at most ROUNDS rounds.  Method and limits:
 * core/SOURCES.md "stroke". */
#include "base/tolerance.h"
#include "outline/spline.h"
#include "outline/stroke_parts.h"
#include <stdlib.h>

#define STEP_MM 0.08   /* spans of the spline                                          */
#define STIFF_MM 2.0   /* smoothing length to begin with                               */
#define SOFT_MM 0.04   /* softest                                                      */
#define SOFT_NOISE 2.0 /* softest in terms of the noise                                */
#define SOFTEN 0.8     /* factor of one round                                          */
#define SPREAD 0.2     /* smoothing length may change along the line by this much a mm */
#define ROUNDS 24      /* at most                                                      */
#define ROUNDS_LEAST 4 /* places along the line settle in these                        */
#define EVIDENCE 4.5   /* standard errors that count as shape, not noise               */
#define FOLLOW 0.004   /* share of the band that shape may be missed by                */
#define WIGGLE 0.7     /* share of the band that a wiggle may be smoothed by           */
#define COURSE 4       /* the course of the hand is taken over this many such chords   */
#define BACK -0.7      /* cosine to the course: the hand goes back                     */
#define NEAR_MM 0.002  /* Bezier pieces to spline                                      */

/* First places along the line: zigzags across add nothing, steps back against the course subtract.
 */
static void places_begin(Trail *trail)
{
  double reach = fmax(DIRECTION_MM, 5 * trail->noise); /* noise must not turn the direction */
  trail_directions(trail, reach, trail->along);
  trail_directions(trail, COURSE * reach, trail->course);
  for (size_t i = 0; i < trail->n; i++)
    if (point_dot(trail->along[i], trail->course[i]) < BACK)
      trail->along[i] = point_scale(trail->along[i], -1);
  trail->u[0] = 0;
  for (size_t i = 1; i < trail->n; i++) {
    Point mean = point_scale(point_add(trail->along[i], trail->along[i - 1]), 0.5);
    trail->u[i] = trail->u[i - 1] + point_dot(point_sub(trail->p[i], trail->p[i - 1]), mean);
  }
}

/* ---- one spline ---- */

/* Moves each point's place to its nearest one (one Newton step) and notes how far it lies to the
 * left. */
static void project(Trail *trail, const Spline *spline)
{
  double end = spline->start + spline->step * (double)spline->spans;
  for (size_t i = 0; i < trail->n; i++) {
    Point first, second;
    Point off = point_sub(trail->p[i], spline_at(spline, trail->u[i], &first, &second));
    double speed2 = fmax(point_dot(first, first), 1e-12);
    double slope = fmax(speed2 - point_dot(off, second), 0.3 * speed2);
    double step = point_dot(off, first) / slope;
    trail->off[i] = point_cross(first, off) / sqrt(speed2);
    double u = trail->u[i] + fmin(fmax(step, -2 * STEP_MM), 2 * STEP_MM);
    trail->u[i] = fmin(fmax(u, spline->start), end);
  }
}

/* How far the mean of many points may be off, span by span: less where the line really turns. */
static void allowances(const Trail *trail, const Spline *spline, double allow[])
{
  size_t start = 0;
  double turn = 0;
  for (size_t b = 0; b <= spline->spans; b++) {
    double more = 0;
    if (b < spline->spans) {
      Point d0, d1;
      spline_at(spline, spline->start + spline->step * (double)b, &d0, NULL);
      spline_at(spline, spline->start + spline->step * (double)(b + 1), &d1, NULL);
      more = atan2(point_cross(d0, d1), point_dot(d0, d1));
    }
    if (b == spline->spans || more * turn < 0) { /* the lobe start..b-1 is complete */
      double share = fabs(turn) < WIGGLE_TURN ? WIGGLE : FOLLOW;
      for (; start < b; start++)
        allow[start] = share * trail->band;
      turn = 0;
    }
    turn += more;
  }
}

/* Softens the spans where the points lie off by more than noise explains; false when there are
 * none. */
static bool soften(const Trail *trail, const Spline *spline, double stiff[], double work[])
{
  size_t n = spline->spans;
  double *sum = work, *count = work + n + 1, *allow = work + 2 * (n + 1);
  double soft = fmax(fmin(SOFT_MM, spline->step / 2), SOFT_NOISE * trail->noise);
  bool changed = false;
  for (size_t b = 0; b <= n; b++)
    sum[b] = count[b] = 0;
  for (size_t i = 0; i < trail->n; i++) {
    size_t b = spline_span(spline, trail->u[i]) + 1;
    sum[b] += trail->off[i];
    count[b] += 1;
  }
  for (size_t b = 0; b < n; b++) { /* running sums: the mean over any window in one step */
    sum[b + 1] += sum[b];
    count[b + 1] += count[b];
  }
  allowances(trail, spline, allow);
  double *mark = work + 3 * (n + 1);
  for (size_t b = 0; b < n; b++)
    mark[b] = 0;
  for (size_t width = 1; width <= 16; width *= 2)
    for (size_t b = 0; b + width <= n; b++) {
      double m = count[b + width] - count[b];
      if (m < 1)
        continue;
      double off = fabs(sum[b + width] - sum[b]) / m;
      double least = fmax(allow[b + width / 2], EVIDENCE * trail->noise / sqrt(m));
      for (size_t k = b; off > least && k < b + width; k++)
        mark[k] = 1;
    }
  for (size_t b = 0; b < n; b++)
    if (mark[b] > 0 && stiff[b] > soft) {
      stiff[b] = fmax(stiff[b] * SOFTEN, soft);
      changed = true;
    }
  for (size_t b = 1; b < n; b++)
    stiff[b] = fmin(stiff[b], stiff[b - 1] + SPREAD * spline->step);
  for (size_t b = n - 1; b-- > 0;)
    stiff[b] = fmin(stiff[b], stiff[b + 1] + SPREAD * spline->step);
  return changed;
}

/* Replaces places by arc lengths of the fitted spline, and lays the spans over them anew. */
static void places_measure(Trail *trail, Spline *spline, double length[])
{
  length[0] = 0;
  for (size_t b = 0; b < spline->spans; b++) {
    double u = spline->start + spline->step * (double)b, speed[3];
    for (int k = 0; k < 3; k++) {
      Point first;
      spline_at(spline, u + 0.5 * k * spline->step, &first, NULL);
      speed[k] = point_length(first);
    }
    length[b + 1] =
        length[b] + spline->step * (speed[0] + 4 * speed[1] + speed[2]) / 6; /* Simpson */
  }
  double low = INFINITY, high = -INFINITY;
  for (size_t i = 0; i < trail->n; i++) {
    size_t b = spline_span(spline, trail->u[i]);
    double v = (trail->u[i] - spline->start) / spline->step - (double)b;
    trail->u[i] = length[b] + fmin(fmax(v, 0), 1) * (length[b + 1] - length[b]);
    low = fmin(low, trail->u[i]);
    high = fmax(high, trail->u[i]);
  }
  spline->start = low;
  spline->step = fmax(high - low, TOL_POINT_MM) / (double)spline->spans;
}

static Fault spline_fit(Trail *trail, double low, double high, Spline *spline)
{
  Fault fault = spline_init(spline, low, high, STEP_MM);
  if (fault != FAULT_NONE)
    return fault;
  double *work = malloc((spline->spans + 1) * 5 * sizeof *work);
  if (work == NULL)
    return FAULT_MEMORY;
  double *stiff = work + 4 * (spline->spans + 1);
  for (size_t b = 0; b < spline->spans; b++)
    stiff[b] = fmin(STIFF_MM, fmax(high - low, spline->step));
  for (int round = 0; round < ROUNDS; round++) {
    fault = spline_smooth(spline, trail->p, trail->u, trail->n, stiff);
    if (fault == FAULT_SINGULAR &&
        round + 1 < ROUNDS) { /* few points, far apart, bend nothing stiff */
      for (size_t b = 0; b < spline->spans; b++)
        stiff[b] /= 2;
      continue;
    }
    if (fault != FAULT_NONE)
      break;
    project(trail, spline);
    if ((!soften(trail, spline, stiff, work) && round >= ROUNDS_LEAST) || round + 1 == ROUNDS)
      break;
    places_measure(trail, spline, work);
  }
  free(work);
  return fault;
}

/* ---- to an outline ---- */

Fault stroke_spline(Trail *trail, Outline *outline, double *worst)
{
  Spline spline = {0};
  places_begin(trail);
  double low = 0, high = 0, far = 0;
  for (size_t i = 0; i < trail->n; i++) {
    low = fmin(low, trail->u[i]);
    high = fmax(high, trail->u[i]);
  }
  if (trail->n < 3 || high - low < 10 * TOL_POINT_MM) { /* nothing but a straight line */
    Point last = trail->p[trail->n - 1];
    Fault fault = outline->n == 0 ? outline_move_to(outline, trail->p[0]) : FAULT_NONE;
    for (size_t i = 0; i < trail->n; i++)
      *worst = fmax(*worst, trail->n < 3 ? 0 : point_distance(trail->p[i], last));
    return fault != FAULT_NONE ? fault : outline_line_to(outline, last);
  }
  Fault fault = spline_fit(trail, low, high, &spline);
  if (fault == FAULT_NONE) {
    low = high = trail->u[0];
    for (size_t i = 0; i < trail->n; i++) {
      low = fmin(low, trail->u[i]);
      high = fmax(high, trail->u[i]);
    }
    fault = spline_outline(&spline, low, high, NEAR_MM, outline);
  }
  for (size_t i = 0; i < trail->n && fault == FAULT_NONE; i++)
    far = fmax(far, point_distance(trail->p[i], spline_at(&spline, trail->u[i], NULL, NULL)));
  *worst = fmax(*worst, far + NEAR_MM);
  spline_clear(&spline);
  return fault;
}
