/* stroke_parts.h - what the files of the fit of a stroke and its doubt share.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  Internal to core/outline. */
#pragma once
#include "outline/stroke.h"

/* The points that count, p of room n: repeats and time steps back are dropped. */
MUST_CHECK Fault stroke_points(const PenPoint pen[], size_t n, Point p[], size_t *kept);
/* Standard deviation of the points across their line, never less than a pen's best. n > 0. */
MUST_CHECK Fault stroke_noise(const Point p[], size_t n, double *noise_mm);

#define DIRECTION_MM 0.25             /* direction is taken over at least this chord */
#define CHAIN_NOISE_MM 0.003          /* the least that a pen scatters */
#define WIGGLE_TURN (40 * M_PI / 180) /* less is slight: a wiggle, where it turns back */

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

/* Directions over a chord of at least `reach` mm, or as many points as allowed. */
void trail_directions(const Trail *trail, double reach, Point along[]);
/* Measures the noise; needs p, n, along, scratch. */
void trail_noise(Trail *trail);
/* The next corner behind `from` that turns by kink_rad, or the last point. */
size_t trail_corner_next(const Trail *trail, size_t from, double kink_rad);
/* Where the line that followed the points follows a tremor, it is replaced by legs and arcs inside
 * the band, *worst by their largest distance from a point. */
MUST_CHECK Fault stroke_tremor(const Point p[], size_t n, double noise, double band,
                               Outline *followed, double *worst);
/* Appends the points as a spline; *worst grows to the largest distance of a point from it. */
MUST_CHECK Fault stroke_spline(Trail *trail, Outline *outline, double *worst);
