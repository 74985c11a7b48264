/* synthetic_pen.h - a pen that follows a known line with seeded noise.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  Noise: uniform in a disc of radius `jitter`, or Gaussian with a standard deviation
 * of half of it; across the line both scatter by half of it. */
#pragma once
#include <glib.h>
#include "outline/stroke.h"
#include <math.h>

#define PEN_MAX 20000
#define SPEED 8.0 /* mm/s on the drawing */

static const double rates[] = {60, 120, 200}; /* Hz */

static PenPoint pen[PEN_MAX];

static inline void pen_add(size_t *n, Point at, double time_s)
{
  pen[*n] = (PenPoint){at, time_s, 1};
  *n += 1;
}

static inline Point noise(GRand *rand, double jitter, bool gauss)
{
  if (gauss) {
    double r = jitter / 2 * sqrt(-2 * log(1 - g_rand_double(rand)));
    double angle = 2 * M_PI * g_rand_double(rand);
    return point(r * cos(angle), r * sin(angle));
  }
  Point p;
  do { /* one after the other: compilers differ in which argument of a call they draw first */
    p.x = g_rand_double_range(rand, -1, 1);
    p.y = g_rand_double_range(rand, -1, 1);
  } while (point_length(p) > 1);
  return point_scale(p, jitter);
}

/* A pen that follows the outline at even speed. */
static inline size_t follow(const Outline *outline, double step, double rate, double jitter,
                            bool gauss, guint32 seed)
{
  Polyline line = {0};
  GRand *rand = g_rand_new_with_seed(seed);
  g_assert_cmpint(outline_flatten(outline, 1e-4, &line), ==, FAULT_NONE);
  size_t n = 0, k = 0;
  for (double s = 0; s <= line.s[line.n - 1] && n < PEN_MAX; s += step, n++) {
    while (k + 2 < line.n && line.s[k + 1] < s)
      k++;
    Point on = point_mix(line.at[k], line.at[k + 1], (s - line.s[k]) / (line.s[k + 1] - line.s[k]));
    pen[n] = (PenPoint){point_add(on, noise(rand, jitter, gauss)), (double)n / rate, 1};
  }
  polyline_clear(&line);
  g_rand_free(rand);
  return n;
}

/* The hand of n points in the pen trembled slowly: two waves of 0.9 and 1.3 mm, `swing` to each
 * side. */
static inline void tremble(size_t n, double step, double swing, guint32 phase)
{
  for (size_t i = 0; i < n; i++) {
    double s = step * (double)i, begin = 0.381966 * phase; /* of a wave: golden */
    pen[i].at.x += swing * sin(2 * M_PI * (s / 0.9 + begin));
    pen[i].at.y += swing * cos(2 * M_PI * (s / 1.3 + begin));
  }
}
