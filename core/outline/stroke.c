/* stroke.c - pen points made into an outline: noise measured, line kept as stiff as the points
 * allow. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  A stroke that straight legs and arcs explain becomes those (chain.h).  Any other is
 * a spline: the fit starts stiff everywhere.  Where the mean of several points lies off the line
 * by more than noise explains (and by more than a small share of the band) it is made softer, there
 * only, and so on. A stretch that turns back within WIGGLE_TURN is a wiggle and may be smoothed
 * away within the band. Cost: O(n) a round, at most ROUNDS rounds.  Method and limits:
 * core/SOURCES.md "stroke". */
#include "outline/stroke.h"
#include "base/tolerance.h"
#include "outline/chain.h"
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
#define WIGGLE_TURN (40 * M_PI / 180)
#define DIRECTION_MM 0.25    /* direction is taken over at least this chord                  */
#define WINDOW_MAX 100       /* points to each side for a direction                          */
#define COURSE 4             /* the course of the hand is taken over this many such chords   */
#define BACK -0.7            /* cosine to the course: the hand goes back                     */
#define NEAR_MM 0.002        /* Bezier pieces to spline                                      */
#define CORNER_NOISE_MM 0.02 /* noisier strokes have no corners                              */
#define CORNER_SIDE_MM 0.3   /* a corner has two straight sides of this length               */
#define CORNER_BOW_MM 0.01   /* this straight                                                */
#define CHAIN_POINTS 3000    /* longer strokes are too slow to explain                       */
#define CHAIN_NOISE_MM 0.003 /* the least that a pen scatters                                */
#define CORNER_BACK (155 * M_PI / 180) /* sharper is a hand that goes back, not a corner     */

typedef struct {
  const Point *p;  /* borrowed */
  double *u;       /* place along the line, about arc length          */
  double *off;     /* distance to the left of the fit                 */
  Point *along;    /* direction                                       */
  Point *course;   /* direction over a longer way                     */
  double *scratch; /* n                                               */
  size_t n;
  double noise; /* standard deviation across the line              */
  double band;
} Trail;

StrokeSettings stroke_settings_default(void)
{
  return (StrokeSettings){.tolerance_mm = 0.12, .kink_deg = 75};
}

static int by_value(const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

static double median(double value[], size_t n)
{
  qsort(value, n, sizeof *value, by_value);
  return n == 0 ? 0 : value[n / 2];
}

/* ---- direction, noise, place along the line ---- */

/* Directions over a chord of at least `reach` mm, or as many points as allowed. */
static void directions(const Trail *trail, double reach, Point along[])
{
  for (size_t i = 0; i < trail->n; i++) {
    size_t lo = i, hi = i;
    Point d = {0, 0};
    for (int k = 0; k < WINDOW_MAX && point_length(d) < reach && (lo > 0 || hi + 1 < trail->n);
         k++) {
      lo -= lo > 0;
      hi += hi + 1 < trail->n;
      d = point_sub(trail->p[hi], trail->p[lo]);
    }
    double length = point_length(d);
    along[i] = length > TOL_POINT_MM ? point_scale(d, 1 / length)
               : i > 0               ? along[i - 1]
                                     : point(1, 0);
  }
}

/* Standard deviation of the points across the line, from second to fourth differences (the smallest
 * of the three: a bend adds to some of them, noise to all).  0.6745: median of |normal|. */
static double noise_of(const Trail *trail)
{
  static const double weight[3][5] = {{1, -2, 1, 0, 0}, {1, -3, 3, -1, 0}, {1, -4, 6, -4, 1}};
  static const double size[3] = {6, 20, 70};
  double least = INFINITY;
  for (size_t order = 0; order < 3; order++) {
    size_t terms = order + 3, n = 0;
    for (size_t i = 0; i + terms <= trail->n; i++) {
      Point d = {0, 0};
      for (size_t k = 0; k < terms; k++)
        d = point_add(d, point_scale(trail->p[i + k], weight[order][k]));
      trail->scratch[n++] = fabs(point_cross(trail->along[i + 1], d));
    }
    if (n >= 5)
      least = fmin(least, median(trail->scratch, n) / 0.6745 / sqrt(size[order]));
  }
  return isfinite(least) ? least : 0;
}

/* First places along the line: zigzags across add nothing, steps back against the course subtract.
 */
static void places_begin(Trail *trail)
{
  double reach = fmax(DIRECTION_MM, 5 * trail->noise); /* noise must not turn the direction */
  directions(trail, reach, trail->along);
  directions(trail, COURSE * reach, trail->course);
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

/* ---- corners ---- */

/* Largest distance of the points between i and j from the chord. */
static double bow(const Trail *trail, size_t i, size_t j)
{
  Point d = point_sub(trail->p[j], trail->p[i]);
  double length = fmax(point_length(d), TOL_POINT_MM), most = 0;
  for (size_t k = i + 1; k < j; k++)
    most = fmax(most, fabs(point_cross(d, point_sub(trail->p[k], trail->p[i]))) / length);
  return most;
}

/* True when point i is a corner: it turns by kink_rad, but not back, between two straight sides
 * with enough points. */
static bool is_corner(const Trail *trail, size_t i, double kink_rad, double *turn)
{
  size_t lo = i, hi = i;
  while (lo > 0 && i - lo < WINDOW_MAX &&
         point_distance(trail->p[lo], trail->p[i]) < CORNER_SIDE_MM)
    lo--;
  while (hi + 1 < trail->n && hi - i < WINDOW_MAX &&
         point_distance(trail->p[hi], trail->p[i]) < CORNER_SIDE_MM)
    hi++;
  if (i - lo < 4 || hi - i < 4)
    return false;
  Point before = point_sub(trail->p[i], trail->p[lo]), after = point_sub(trail->p[hi], trail->p[i]);
  *turn = fabs(atan2(point_cross(before, after), point_dot(before, after)));
  double straight = CORNER_BOW_MM + 2 * trail->noise;
  return *turn >= kink_rad && *turn <= CORNER_BACK &&
         point_length(before) >= 0.8 * CORNER_SIDE_MM &&
         point_length(after) >= 0.8 * CORNER_SIDE_MM && bow(trail, lo, i) <= straight &&
         bow(trail, i, hi) <= straight;
}

/* The next corner behind `from`, or the last point. */
static size_t corner_next(const Trail *trail, size_t from, double kink_rad)
{
  double best = 0, turn;
  size_t corner = trail->n - 1;
  if (trail->noise > CORNER_NOISE_MM)
    return corner;
  for (size_t i = from + 1; i + 1 < trail->n; i++) {
    if (is_corner(trail, i, kink_rad, &turn) && turn > best) {
      best = turn;
      corner = i;
    } else if (best > 0 && point_distance(trail->p[i], trail->p[corner]) > CORNER_SIDE_MM) {
      break;
    }
  }
  return corner;
}

/* ---- a whole stroke ---- */

static Fault part_fit(Trail *trail, Outline *outline, double *worst)
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

/* Slight turns to and fro: whether they are meant is for the band to say. */
static bool wiggles(const Chain *chain)
{
  for (size_t k = 0; k + 1 < chain->n; k++) {
    double a = chain->corner[k].turn, b = chain->corner[k + 1].turn;
    if (a * b < 0 && fmax(fabs(a), fabs(b)) < WIGGLE_TURN)
      return true;
  }
  return false;
}

/* The stroke as straight legs and arcs; FAULT_NO_CONVERGENCE where noise does not explain the rest.
 */
static Fault legs_and_arcs(const Point p[], size_t n, double noise, Outline *outline, double *worst)
{
  Chain chain;
  Fault fault = chain_fit(p, n, fmax(noise, CHAIN_NOISE_MM), &chain);
  if (fault == FAULT_NONE && wiggles(&chain))
    fault = FAULT_NO_CONVERGENCE;
  if (fault == FAULT_NONE)
    fault = chain_outline(&chain, outline);
  if (fault == FAULT_NONE)
    *worst = fmax(*worst, chain.off);
  return fault;
}

/* Measured twice: the direction is taken over a chord that the noise of the first does not turn. */
static void noise_measure(Trail *trail)
{
  for (int round = 0; round < 2; round++) {
    directions(trail, fmax(DIRECTION_MM, 5 * trail->noise), trail->along);
    trail->noise = noise_of(trail);
  }
}

Fault stroke_noise(const Point p[], size_t n, double *noise_mm)
{
  double *scratch = malloc(n * sizeof *scratch);
  Point *along = malloc(n * sizeof *along);
  Fault fault = scratch && along ? FAULT_NONE : FAULT_MEMORY;
  if (fault == FAULT_NONE) {
    Trail trail = {.p = p, .along = along, .scratch = scratch, .n = n};
    noise_measure(&trail);
    *noise_mm = fmax(trail.noise, CHAIN_NOISE_MM);
  }
  free(scratch);
  free(along);
  return fault;
}

static Fault points_fit(const Point p[], size_t n, const StrokeSettings *settings, Outline *outline,
                        double *worst)
{
  double *room = malloc(n * 3 * sizeof *room);
  Point *along = malloc(2 * n * sizeof *along);
  Fault fault = room != NULL && along != NULL ? FAULT_NONE : FAULT_MEMORY;
  if (fault == FAULT_NONE) {
    Trail trail = {p, room, room + n, along, along + n, room + 2 * n, n, 0, settings->tolerance_mm};
    noise_measure(&trail);
    double kink_rad = settings->kink_deg * M_PI / 180;
    bool round = corner_next(&trail, 0, kink_rad) == n - 1;
    Fault unexplained = FAULT_NO_CONVERGENCE;
    if (round && !settings->quick && settings->tolerance_mm > 0 && n <= CHAIN_POINTS)
      unexplained = legs_and_arcs(p, n, trail.noise, outline, worst);
    if (unexplained != FAULT_NO_CONVERGENCE)
      fault = unexplained;
    for (size_t from = unexplained ? 0 : n; from + 1 < n && fault == FAULT_NONE;) {
      size_t to = corner_next(&trail, from, kink_rad);
      Trail part = trail; /* nothing looks around a corner */
      part.p = p + from;
      part.n = to - from + 1;
      fault = part_fit(&part, outline, worst);
      from = to;
    }
  }
  free(room);
  free(along);
  return fault;
}

Fault stroke_points(const PenPoint pen[], size_t n, Point p[], size_t *kept)
{
  double time = 0;
  *kept = 0;
  for (size_t i = 0; i < n; i++) {
    if (!point_finite(pen[i].at) || !isfinite(pen[i].time_s))
      return FAULT_NOT_FINITE;
    if (fabs(pen[i].at.x) > MAX_SIZE_MM || fabs(pen[i].at.y) > MAX_SIZE_MM)
      return FAULT_RANGE;
    if (*kept == 0 ||
        (pen[i].time_s >= time && point_distance(pen[i].at, p[*kept - 1]) > 2 * TOL_POINT_MM)) {
      p[(*kept)++] = pen[i].at;
      time = pen[i].time_s;
    }
  }
  return FAULT_NONE;
}

Fault stroke_fit(const PenPoint pen[], size_t n, const StrokeSettings *settings, Outline *outline,
                 double *worst_mm)
{
  StrokeSettings use = settings != NULL ? *settings : stroke_settings_default();
  if (!(use.tolerance_mm >= 0 && use.tolerance_mm <= 0.5) ||
      !(use.kink_deg > 0 && use.kink_deg <= 180))
    return FAULT_RANGE;
  if (n < 2)
    return FAULT_DEGENERATE;
  Point *p = malloc(n * sizeof *p);
  if (p == NULL)
    return FAULT_MEMORY;
  size_t kept = 0;
  double worst = 0;
  Fault fault = stroke_points(pen, n, p, &kept);
  Outline made = {0};
  if (fault == FAULT_NONE && kept < 2)
    fault = FAULT_DEGENERATE;
  if (fault == FAULT_NONE)
    fault = points_fit(p, kept, &use, &made, &worst);
  if (fault == FAULT_NONE)
    fault = outline_check(&made);
  free(p);
  if (fault != FAULT_NONE) {
    outline_clear(&made);
    return fault;
  }
  outline_clear(outline);
  *outline = made;
  if (worst_mm != NULL)
    *worst_mm = worst;
  return FAULT_NONE;
}
