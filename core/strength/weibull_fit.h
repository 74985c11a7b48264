/* weibull_fit.h - what few broken bars can say about modulus and scale: fit and how sure it is.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * MPa.  A pivot is the fit of a seeded sample whose true modulus and scale are 1: m / true m and
 * m ln(scale / true scale) have the same distribution whatever is true (Thoman, Bain and Antle
 * 1969).  So one set of pivots of n bars serves every set of n bars.  Bands: 90 % of the plausible
 * values.  Buffers are the caller's.  Sources: core/SOURCES.md "Weibull". */
#pragma once
#include "base/banded.h"
#include "base/fault.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct {
  double modulus;
  double log_scale; /* natural logarithm of the scale in MPa */
} WeibullPair;

/* Maximum likelihood from natural logarithms of strengths, n >= 3, not all alike (spread above
 * 1e-6) tolerance  in  relative, of the modulus: 1e-12 for an answer FAULT_DEGENERATE,
 * FAULT_NOT_FINITE, FAULT_NO_CONVERGENCE. */
MUST_CHECK Fault weibull_fit_logs(const double log_strength[], size_t n, double tolerance,
                                  WeibullPair *fit);
/* Of the strengths themselves, without their constant unit (differences are what counts). */
double weibull_log_likelihood(const double log_strength[], size_t n, WeibullPair at);

/* Called every few ms with the part done, 0..1; false stops with FAULT_CANCELLED. */
typedef bool (*FitProgress)(double part, void *data);

/* Pivots of samples of n bars; the same seed gives the same pivots.
 *   n       in  3 .. 1 000 000
 *   work    in  n doubles; above 2000 bars not used: the limiting normal distribution is
 *   pivot   out n_pivot, unspecified after a fault */
MUST_CHECK Fault weibull_pivots(size_t n, uint64_t seed, FitProgress progress, void *data,
                                double work[], WeibullPair pivot[], size_t n_pivot);

/* A pair that might be the true one, given the fit and a pivot of as many bars. */
WeibullPair weibull_plausible(WeibullPair fit, WeibullPair pivot);

/* A figure of a distribution, for weibull_band; `data` is handed through. */
typedef double (*WeibullFigure)(WeibullPair pair, const void *data);
/* 5 % and 95 % of the figure over the plausible pairs; `value` lies between, or at the nearer end.
 *   work  in  n_pivot doubles, n_pivot >= 20 */
Banded weibull_band(double value, WeibullPair fit, const WeibullPair pivot[], size_t n_pivot,
                    WeibullFigure figure, const void *data, double work[]);
/* The same of values that are there already; sorts them. */
Banded band_of_values(double value, double at[], size_t n);
void values_sort(double at[], size_t n); /* rising; none is NaN */
