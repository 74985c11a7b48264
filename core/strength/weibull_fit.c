/* weibull_fit.c - maximum likelihood and pivotal bands.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Sources: core/SOURCES.md "Weibull". */
#include "strength/weibull_fit.h"
#include "base/random.h"
#include "strength/weibull.h"
#include <math.h>
#include <stdlib.h>

#define LEAST_SPREAD 1e-6 /* of the logarithms: below it all are alike */
#define EULER 0.57721566490153286
#define MOST_BARS 1000000
#define LIMIT_BARS 2000 /* with more, pivots are drawn from their limiting distribution */

/* Sums of w = exp(m d), w d, w d^2, where d = ln s - ln of the largest <= 0: no overflow. */
typedef struct {
  double weight, first, second;
} Moments;

static Moments moments_at(const double l[], size_t n, double top, double m)
{
  Moments sum = {0, 0, 0};
  for (size_t i = 0; i < n; i++) {
    double d = l[i] - top, w = exp(m * d);
    sum.weight += w;
    sum.first += w * d;
    sum.second += w * d * d;
  }
  return sum;
}

/* The likelihood's slope sum w d / sum w - mean d - 1 / m rises with m: Newton between two ends. */
Fault weibull_fit_logs(const double l[], size_t n, double tolerance, WeibullPair *fit)
{
  if (n < 3)
    return FAULT_DEGENERATE;
  double top = -INFINITY, least = INFINITY, sum = 0, square = 0;
  for (size_t i = 0; i < n; i++) {
    if (!isfinite(l[i]))
      return FAULT_NOT_FINITE;
    top = fmax(top, l[i]);
    least = fmin(least, l[i]);
  }
  if (!(top - least > LEAST_SPREAD))
    return FAULT_DEGENERATE;
  for (size_t i = 0; i < n; i++) {
    sum += l[i] - top;
    square += (l[i] - top) * (l[i] - top);
  }
  double mean = sum / (double)n, spread = sqrt(fmax(square / (double)n - mean * mean, 0));
  /* the standard deviation of ln s is pi / sqrt(6) / m */
  double low = 0, high = INFINITY, m = acos(-1.0) / sqrt(6) / fmax(spread, LEAST_SPREAD / 2);
  for (int round = 0; round < 200; round++) {
    Moments at = moments_at(l, n, top, m);
    double slope = at.first / at.weight, value = slope - mean - 1 / m;
    double rise = at.second / at.weight - slope * slope + 1 / (m * m);
    if (value < 0)
      low = m;
    else
      high = m;
    double next = m - value / rise;
    if (!(next > low && next < high))
      next = isinf(high) ? 2 * m : (low + high) / 2;
    double step = next - m;
    m = next;
    /* Newton squares the step: the error left is about its square, and the series below ends */
    if (step * step < tolerance * m * m) {
      double weight = at.weight + step * (at.first + step / 2 * at.second);
      *fit = (WeibullPair){m, top + log(weight / (double)n) / m};
      return isfinite(fit->log_scale) ? FAULT_NONE : FAULT_NO_CONVERGENCE;
    }
  }
  return FAULT_NO_CONVERGENCE;
}

double weibull_log_likelihood(const double l[], size_t n, WeibullPair at)
{
  double sum = (double)n * log(at.modulus);
  for (size_t i = 0; i < n; i++) {
    double z = at.modulus * (l[i] - at.log_scale);
    sum += z - exp(z);
  }
  return sum; /* - sum of l, which every model shares */
}

Fault weibull_fit(const double strength[], size_t n, double *modulus, double *characteristic)
{
  if (n < 3)
    return FAULT_DEGENERATE;
  for (size_t i = 0; i < n; i++) {
    if (!isfinite(strength[i]))
      return FAULT_NOT_FINITE;
    if (!(strength[i] > 0))
      return FAULT_RANGE;
  }
  double *l = malloc(n * sizeof *l);
  if (!l)
    return FAULT_MEMORY;
  for (size_t i = 0; i < n; i++)
    l[i] = log(strength[i]);
  WeibullPair fit;
  Fault fault = weibull_fit_logs(l, n, 1e-12, &fit);
  free(l);
  if (!fault) {
    *modulus = fit.modulus;
    *characteristic = exp(fit.log_scale);
  }
  return fault;
}

/* Two normal numbers (Box and Muller). */
static void normal_pair(uint64_t *state, double pair[2])
{
  double r = sqrt(-2 * log(random_unit(state))), turn = 2 * acos(-1.0) * random_unit(state);
  pair[0] = r * cos(turn);
  pair[1] = r * sin(turn);
}

/* Of many bars: m-hat / m and m ln(scale-hat / scale) are normal with n times the variances
 * 6 / pi^2 and 1 + 6 (1 - gamma)^2 / pi^2 and the covariance 6 (1 - gamma) / pi^2 (Fisher). */
static WeibullPair pivot_of_many(size_t n, uint64_t *state)
{
  double pi = acos(-1.0), spread = 1 / sqrt((double)n), a = sqrt(6) / pi, z[2];
  normal_pair(state, z);
  return (WeibullPair){exp(spread * a * z[0]), spread * (a * (1 - EULER) * z[0] + z[1])};
}

Fault weibull_pivots(size_t n, uint64_t seed, FitProgress progress, void *data, double work[],
                     WeibullPair pivot[], size_t n_pivot)
{
  if (n < 3 || n > MOST_BARS)
    return FAULT_RANGE;
  uint64_t state = seed;
  size_t between = 1 + 100000 / n;
  for (size_t k = 0; k < n_pivot; k++) {
    if (progress && k % between == 0 && !progress((double)k / (double)n_pivot, data))
      return FAULT_CANCELLED;
    if (n > LIMIT_BARS) {
      pivot[k] = pivot_of_many(n, &state);
      continue;
    }
    Fault fault;
    do { /* three bars may be alike by chance: another sample */
      for (size_t i = 0; i < n; i++)
        work[i] = log(-log(random_unit(&state)));
      fault = weibull_fit_logs(work, n, 1e-6, &pivot[k]);
    } while (fault == FAULT_DEGENERATE);
    if (fault)
      return fault;
  }
  return FAULT_NONE;
}

WeibullPair weibull_plausible(WeibullPair fit, WeibullPair pivot)
{
  return (WeibullPair){fit.modulus / pivot.modulus,
                       fit.log_scale - pivot.modulus * pivot.log_scale / fit.modulus};
}

static int rising(const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

void values_sort(double at[], size_t n)
{
  qsort(at, n, sizeof *at, rising);
}

Banded band_of_values(double value, double at[], size_t n)
{
  if (n < 20)
    return banded(value, NAN, NAN);
  values_sort(at, n);
  double low = at[(size_t)(0.05 * (double)n)], high = at[(size_t)(0.95 * (double)n)];
  return banded(value, fmin(low, value), fmax(high, value));
}

Banded weibull_band(double value, WeibullPair fit, const WeibullPair pivot[], size_t n_pivot,
                    WeibullFigure figure, const void *data, double work[])
{
  for (size_t k = 0; k < n_pivot; k++)
    work[k] = figure(weibull_plausible(fit, pivot[k]), data);
  return band_of_values(value, work, n_pivot);
}
