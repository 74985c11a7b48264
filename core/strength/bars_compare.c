/* bars_compare.c - gain of one set over another.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Sources: core/SOURCES.md "bars". */
#include "strength/bars_compare.h"
#include <math.h>

#define EULER 0.57721566490153286
#define NORMAL_95 1.6448536269514722
#define NORMAL_80 0.8416212335729143

static double percent_of_log(double log_ratio)
{
  return 100 * expm1(log_ratio);
}

/* Second over first of the stress at ln(-ln(1 - chance)) = stretch; NaN: of the moduli. */
static double log_ratio(WeibullPair first, WeibullPair second, double stretch)
{
  if (isnan(stretch))
    return log(second.modulus / first.modulus);
  return second.log_scale + stretch / second.modulus - first.log_scale - stretch / first.modulus;
}

static Banded band_of_ratio(const BarsSet *first, const BarsSet *second, size_t n_pivot,
                            double stretch, double value, double work[])
{
  for (size_t k = 0; k < n_pivot; k++)
    work[k] = log_ratio(weibull_plausible(first->fit->fit, first->pivot[k]),
                        weibull_plausible(second->fit->fit, second->pivot[k]), stretch);
  return band_of_values(value, work, n_pivot);
}

static Banded in_percent(Banded logs)
{
  return banded(percent_of_log(logs.value), percent_of_log(logs.low), percent_of_log(logs.high));
}

/* Variance of ln scale is (1 + 6 (1 - gamma)^2 / pi^2) / (n m^2) for many bars (Fisher). */
static size_t bars_needed(double m1, double m2, double log_gain)
{
  double pi = acos(-1.0), one = 1 + 6 * (1 - EULER) * (1 - EULER) / (pi * pi);
  if (!(fabs(log_gain) > 1e-9))
    return BARS_MORE_MOST;
  double z = NORMAL_95 + NORMAL_80,
         n = z * z * one * (1 / (m1 * m1) + 1 / (m2 * m2)) / (log_gain * log_gain);
  return n < BARS_MORE_MOST ? (size_t)ceil(n) : BARS_MORE_MOST;
}

Fault bars_compare(const BarsSet *first, const BarsSet *second, size_t n_pivot, double work[],
                   BarsComparison *result)
{
  const BarsFit *a = first->fit, *b = second->fit;
  if (a->n < BARS_LEAST || b->n < BARS_LEAST)
    return FAULT_DEGENERATE;
  WeibullPair shown_a = {a->modulus.value, a->fit.log_scale},
              shown_b = {b->modulus.value, b->fit.log_scale};
  BarsComparison c = {0};
  /* all as one set against each by itself */
  for (size_t i = 0; i < a->n + b->n; i++)
    work[i] = log(i < a->n ? first->strength[i] : second->strength[i - a->n]);
  WeibullPair both;
  Fault fault = weibull_fit_logs(work, a->n + b->n, 1e-12, &both);
  if (fault)
    return fault;
  c.likelihood_ratio = 2 * (weibull_log_likelihood(work, a->n, a->fit) +
                            weibull_log_likelihood(work + a->n, b->n, b->fit) -
                            weibull_log_likelihood(work, a->n + b->n, both));
  c.likelihood_ratio = fmax(c.likelihood_ratio, 0);
  c.same_chance = exp(-c.likelihood_ratio / 2);

  double middle = log(log(2));
  c.gain_percent =
      in_percent(band_of_ratio(first, second, n_pivot, 0, log_ratio(shown_a, shown_b, 0), work));
  c.gain_median_percent = in_percent(
      band_of_ratio(first, second, n_pivot, middle, log_ratio(shown_a, shown_b, middle), work));
  Banded moduli =
      band_of_ratio(first, second, n_pivot, NAN, log_ratio(shown_a, shown_b, NAN), work);
  c.modulus_ratio = banded(exp(moduli.value), exp(moduli.low), exp(moduli.high));
  c.settled = c.gain_percent.low > 0 || c.gain_percent.high < 0;
  if (!c.settled) {
    size_t needed = bars_needed(shown_a.modulus, shown_b.modulus, log_ratio(shown_a, shown_b, 0));
    size_t have = a->n < b->n ? a->n : b->n;
    c.bars_more = needed > have ? needed - have : 1;
    if (needed >= BARS_MORE_MOST)
      c.bars_more = BARS_MORE_MOST;
  }
  *result = c;
  return FAULT_NONE;
}
