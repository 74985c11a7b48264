/* stroke.c - pen points made into an outline: noise measured, line kept as stiff as the points
 * allow. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  A stroke that straight legs and arcs explain becomes those (chain.h).  Any other is
 * a spline, from corner to corner.  Method and limits: core/SOURCES.md "stroke". */
#include "outline/stroke.h"
#include "outline/chain.h"
#include "outline/stroke_parts.h"
#include <stdlib.h>

#define CHAIN_POINTS 3000 /* longer strokes are too slow to explain                       */

StrokeSettings stroke_settings_default(void)
{
  return (StrokeSettings){.tolerance_mm = 0.12, .kink_deg = 75};
}

/* ---- a whole stroke ---- */

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

/* Splines from corner to corner. */
static Fault splines(const Trail *trail, double kink_rad, Outline *outline, double *worst)
{
  Fault fault = FAULT_NONE;
  for (size_t from = 0; from + 1 < trail->n && fault == FAULT_NONE;) {
    size_t to = trail_corner_next(trail, from, kink_rad);
    Trail part = *trail; /* nothing looks around a corner */
    part.p = trail->p + from;
    part.n = to - from + 1;
    fault = stroke_spline(&part, outline, worst);
    from = to;
  }
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
    trail_noise(&trail);
    double kink_rad = settings->kink_deg * M_PI / 180;
    bool explain = !settings->quick && settings->tolerance_mm > 0 && n <= CHAIN_POINTS,
         round = trail_corner_next(&trail, 0, kink_rad) == n - 1;
    fault =
        explain && round ? legs_and_arcs(p, n, trail.noise, outline, worst) : FAULT_NO_CONVERGENCE;
    if (fault == FAULT_NO_CONVERGENCE) {
      fault = splines(&trail, kink_rad, outline, worst);
      if (fault == FAULT_NONE && explain)
        fault = stroke_tremor(p, n, trail.noise, settings->tolerance_mm, outline, worst);
    }
  }
  free(room);
  free(along);
  return fault;
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
