/* spline.h - an even cubic B-spline through noisy points, stiff where nothing speaks against it.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm; the parameter u is about the arc length, mm.  Internal to core/outline (stroke.c).
 * Method: core/SOURCES.md "stroke". */
#pragma once
#include "outline/outline.h"

typedef struct {
  Point *c;     /* owned: spans + 3 coefficients              */
  size_t spans; /* at least 1                                 */
  double start; /* u of the first span                        */
  double step;  /* u length of a span                         */
  double *band; /* owned: workspace of the solver             */
} Spline;

/* Even spans of about `step` from start to end; FAULT_RANGE unless end > start, step > 0. */
MUST_CHECK Fault spline_init(Spline *spline, double start, double end, double step);
void spline_clear(Spline *spline); /* accepts NULL and cleared splines */

/* Place, and derivatives by u if not NULL; u is held inside the spans. */
Point spline_at(const Spline *spline, double u, Point *first, Point *second);
size_t spline_span(const Spline *spline, double u);

/* Minimises sum |c(u_i) - p_i|^2 + sum w_j |third difference|^2 with w_j set so that waves shorter
 * than about 2 pi stiff_mm[j] die out. stiff_mm  in  one length a span, > 0 FAULT_SINGULAR when the
 * points do not hold the spline. */
MUST_CHECK Fault spline_smooth(Spline *spline, const Point p[], const double u[], size_t n,
                               const double stiff_mm[]);

/* The curve between two places as few Bezier pieces: within near_mm, direction continuous,
 * curvature within 8 %. Appends to `outline`: moves to the first point when it is empty, otherwise
 * the last knot is taken as the first point. */
MUST_CHECK Fault spline_outline(const Spline *spline, double from, double to, double near_mm,
                                Outline *outline);
