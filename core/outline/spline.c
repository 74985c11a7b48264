/* spline.c - even cubic B-spline: evaluation and penalised least squares in band form.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  Third differences are penalised: lines and parabolas cost nothing, so a straight leg
 * stays straight and a round roof is hardly flattened.  The normal matrix has half band width 3:
 * O(n). */
#include "outline/spline.h"
#include "base/tolerance.h"
#include <stdlib.h>
#include <string.h>

#define BAND 4         /* diagonal and three below it                                           */
#define SPANS_MAX 4096 /* longer strokes get longer spans                                       */
#define RIDGE 1e-3     /* weight of second differences: holds the spline where points are few   */

Fault spline_init(Spline *spline, double start, double end, double step)
{
  double length = end - start;
  if (!(length > 0) || !(step > 0) || !isfinite(length))
    return FAULT_RANGE;
  double spans = ceil(length / step - 1e-9);
  size_t n = spans < 1 ? 1 : spans > SPANS_MAX ? SPANS_MAX : (size_t)spans;
  Spline fresh = {.spans = n, .start = start, .step = length / (double)n};
  fresh.c = calloc(n + 3, sizeof *fresh.c);
  fresh.band = calloc((n + 3) * BAND, sizeof *fresh.band);
  if (fresh.c == NULL || fresh.band == NULL) {
    spline_clear(&fresh);
    return FAULT_MEMORY;
  }
  *spline = fresh;
  return FAULT_NONE;
}

void spline_clear(Spline *spline)
{
  if (spline == NULL)
    return;
  free(spline->c);
  free(spline->band);
  *spline = (Spline){0};
}

size_t spline_span(const Spline *spline, double u)
{
  double place = (u - spline->start) / spline->step;
  if (!(place > 0))
    return 0;
  return place >= (double)spline->spans ? spline->spans - 1 : (size_t)place;
}

/* Position inside span `i`, held to [0, 1]. */
static double span_place(const Spline *spline, size_t i, double u)
{
  double v = (u - spline->start) / spline->step - (double)i;
  return v < 0 ? 0 : v > 1 ? 1 : v;
}

static void basis(double v, double b[4])
{
  double w = 1 - v;
  b[0] = w * w * w / 6;
  b[1] = (3 * v * v * v - 6 * v * v + 4) / 6;
  b[2] = (3 * w * w * w - 6 * w * w + 4) / 6;
  b[3] = v * v * v / 6;
}

static Point combine(const Point c[4], double b0, double b1, double b2, double b3)
{
  return point(b0 * c[0].x + b1 * c[1].x + b2 * c[2].x + b3 * c[3].x,
               b0 * c[0].y + b1 * c[1].y + b2 * c[2].y + b3 * c[3].y);
}

Point spline_at(const Spline *spline, double u, Point *first, Point *second)
{
  size_t i = spline_span(spline, u);
  double v = span_place(spline, i, u), w = 1 - v, h = spline->step, b[4];
  const Point *c = spline->c + i;
  if (first != NULL)
    *first = point_scale(
        combine(c, -w * w / 2, (3 * v * v - 4 * v) / 2, (-3 * w * w + 4 * w) / 2, v * v / 2),
        1 / h);
  if (second != NULL)
    *second = point_scale(combine(c, w, 3 * v - 2, 3 * w - 2, v), 1 / (h * h));
  basis(v, b);
  return combine(c, b[0], b[1], b[2], b[3]);
}

/* Adds weight * d d' to the band, d having `n` entries from row `at`. */
static void band_add(double *band, size_t at, const double d[], size_t n, double weight)
{
  for (size_t r = 0; r < n; r++)
    for (size_t k = 0; k <= r; k++)
      band[(at + r) * BAND + (r - k)] += weight * d[r] * d[k];
}

/* Cholesky in the band, then both solves. band[i][k] is row i, column i - k. */
static Fault band_solve(double *band, Point *x, size_t n)
{
  for (size_t i = 0; i < n; i++) {
    double *row = band + i * BAND;
    for (size_t k = i < BAND - 1 ? i : BAND - 1; k > 0; k--) {
      const double *other = band + (i - k) * BAND;
      double sum = row[k];
      for (size_t m = k + 1; m < BAND && m <= i; m++)
        sum -= row[m] * other[m - k];
      row[k] = sum / other[0];
    }
    double diagonal = row[0], whole = row[0];
    for (size_t k = 1; k < BAND && k <= i; k++)
      diagonal -= row[k] * row[k];
    if (!(diagonal > whole * 1e-15))
      return FAULT_SINGULAR;
    row[0] = sqrt(diagonal);
  }
  for (size_t i = 0; i < n; i++) {
    const double *row = band + i * BAND;
    for (size_t k = 1; k < BAND && k <= i; k++)
      x[i] = point_sub(x[i], point_scale(x[i - k], row[k]));
    x[i] = point_scale(x[i], 1 / row[0]);
  }
  for (size_t i = n; i-- > 0;) {
    for (size_t k = 1; k < BAND && i + k < n; k++)
      x[i] = point_sub(x[i], point_scale(x[i + k], band[(i + k) * BAND + k]));
    x[i] = point_scale(x[i], 1 / band[i * BAND]);
  }
  return FAULT_NONE;
}

Fault spline_smooth(Spline *spline, const Point p[], const double u[], size_t n,
                    const double stiff_mm[])
{
  static const double third[4] = {-1, 3, -3, 1}, second[3] = {1, -2, 1};
  size_t size = spline->spans + 3;
  double h = spline->step, share = (double)n / (double)spline->spans; /* points a span */
  Point centre = p[n / 2]; /* small numbers keep the digits */
  memset(spline->band, 0, size * BAND * sizeof *spline->band);
  memset(spline->c, 0, size * sizeof *spline->c);
  for (size_t i = 0; i < n; i++) {
    size_t at = spline_span(spline, u[i]);
    double b[4];
    basis(span_place(spline, at, u[i]), b);
    band_add(spline->band, at, b, 4, 1);
    Point q = point_sub(p[i], centre);
    for (size_t k = 0; k < 4; k++)
      spline->c[at + k] = point_add(spline->c[at + k], point_scale(q, b[k]));
  }
  for (size_t j = 0; j < spline->spans; j++) {
    double ratio = stiff_mm[j] / h, cube = ratio * ratio * ratio;
    band_add(spline->band, j, third, 4, share * cube * cube);
  }
  for (size_t j = 0; j + 2 < size; j++)
    band_add(spline->band, j, second, 3, share * RIDGE);
  Fault fault = band_solve(spline->band, spline->c, size);
  for (size_t j = 0; j < size; j++)
    spline->c[j] = point_add(spline->c[j], centre);
  return fault;
}
