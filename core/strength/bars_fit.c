/* bars_fit.c - figures of one set of bars.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Sources: core/SOURCES.md "bars". */
#include "strength/bars_fit.h"
#include "strength/iso_class.h"
#include "strength/weibull.h"
#include <math.h>

static double modulus_of(WeibullPair pair, const void *data)
{
  (void)data;
  return pair.modulus;
}

/* Natural logarithm of -ln(1 - chance) is the data. */
static double quantile_of(WeibullPair pair, const void *data)
{
  return exp(pair.log_scale + *(const double *)data / pair.modulus);
}

static double mean_of(WeibullPair pair, const void *data)
{
  (void)data;
  return exp(pair.log_scale + lgamma(1 + 1 / pair.modulus));
}

/* As shown: the scale as fitted, the modulus unbiased. */
static WeibullPair shown(const BarsFit *fit)
{
  return (WeibullPair){fit->modulus.value, fit->fit.log_scale};
}

Banded bars_quantile(const BarsFit *fit, double chance, const WeibullPair pivot[], size_t n_pivot,
                     double work[])
{
  double stretch = log(-log1p(-chance)), value = quantile_of(shown(fit), &stretch);
  if (fit->n < BARS_LEAST)
    return banded(value, NAN, NAN);
  return weibull_band(value, fit->fit, pivot, n_pivot, quantile_of, &stretch, work);
}

Fault bars_fit(const double strength[], size_t n, const WeibullPair pivot[], size_t n_pivot,
               double work[], BarsFit *result)
{
  BarsFit fit = {.n = n, .least = INFINITY, .most = 0};
  double sum = 0;
  for (size_t i = 0; i < n; i++) {
    if (!isfinite(strength[i]))
      return FAULT_NOT_FINITE;
    if (!(strength[i] > 0))
      return FAULT_RANGE;
    fit.least = fmin(fit.least, strength[i]);
    fit.most = fmax(fit.most, strength[i]);
    sum += strength[i];
    work[i] = log(strength[i]);
  }
  Fault fault = weibull_fit_logs(work, n, 1e-12, &fit.fit);
  if (fault)
    return fault;
  double factor = weibull_unbias(n);
  if (n < BARS_LEAST)
    n_pivot = 0;
  fit.modulus = weibull_band(fit.fit.modulus * (isfinite(factor) ? factor : 1), fit.fit, pivot,
                             n_pivot, modulus_of, NULL, work);
  fit.scale = bars_quantile(&fit, -expm1(-1), pivot, n_pivot, work);
  fit.median = bars_quantile(&fit, 0.5, pivot, n_pivot, work);
  fit.five = bars_quantile(&fit, 0.05, pivot, n_pivot, work);
  fit.mean = weibull_band(sum / (double)n, fit.fit, pivot, n_pivot, mean_of, NULL, work);
  *result = fit;
  return FAULT_NONE;
}

double bars_class_mpa(int number)
{
  const IsoClass *class = iso_class(number);
  return class ? class->strength_mpa : NAN;
}

BarsClass bars_class(const BarsFit *fit, const WeibullPair pivot[], size_t n_pivot, double work[])
{
  BarsClass answer = {0};
  bool known = n_pivot > 0 && fit->n >= BARS_LEAST;
  for (size_t k = 0; known && k < n_pivot; k++)
    work[k] = mean_of(weibull_plausible(fit->fit, pivot[k]), NULL);
  for (int i = 0; i < BARS_CLASSES; i++) {
    double least = bars_class_mpa(i + 1);
    size_t reach = 0;
    for (size_t k = 0; known && k < n_pivot; k++)
      reach += work[k] >= least;
    answer.sure[i] = known ? 100.0 * (double)reach / (double)n_pivot : NAN;
    if (fit->mean.value >= least)
      answer.reached = i + 1;
  }
  return answer;
}

/* The wider half of a band, in percent of its value. */
static double half_percent(Banded b)
{
  return 100 * fmax(b.high - b.value, b.value - b.low) / b.value;
}

Material bars_card(const Material *base, const BarSetup *setup, double width, double thickness,
                   const BarsFit *fit)
{
  Material card = *base;
  bool disc = setup->test == BAR_DISC;
  card.strength_mpa = fit->scale.value;
  card.strength_percent = isfinite(fit->scale.low) ? half_percent(fit->scale) : 30;
  card.weibull = fit->modulus.value;
  card.bar = setup->test;
  card.bar_span = setup->span;
  card.bar_width = disc ? setup->inner : width;
  card.bar_thickness = thickness;
  for (int i = 1; i <= BARS_CLASSES; i++)
    if (fit->mean.value >= bars_class_mpa(i))
      card.iso_class = i;
  return card;
}

double bars_surface(const BarSetup *setup, double width, double thickness, const BarsFit *fit)
{
  Material base = {.poisson = setup->poisson},
           card = bars_card(&base, setup, width, thickness, fit);
  return material_bar_surface(&card);
}

void bars_usual(const Bar bar[], const BarFault fault[], size_t n, double work[], double *width,
                double *thickness)
{
  for (int which = 0; which < 2; which++) {
    size_t good = 0;
    for (size_t i = 0; i < n; i++)
      if (fault[i] == BAR_GOOD)
        work[good++] = which ? bar[i].thickness : bar[i].width;
    if (good)
      values_sort(work, good);
    *(which ? thickness : width) = good ? work[good / 2] : NAN;
  }
}
