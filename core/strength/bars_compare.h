/* bars_compare.h - two sets of bars: what the second gains over the first, and how sure that is.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Percent.  Sources: core/SOURCES.md "bars". */
#pragma once
#include "strength/bars_fit.h"

#define BARS_MORE_MOST 10000 /* more than this: no number of bars would settle it */

typedef struct {
  Banded gain_percent;        /* of the stress that breaks 63 of 100, second over first */
  Banded gain_median_percent; /* of the stress that breaks 50 of 100                    */
  Banded modulus_ratio;       /* of the unbiased moduli, second over first              */
  double likelihood_ratio;    /* 2 (ln L apart - ln L of all as one set), two degrees of freedom */
  double same_chance;         /* of a ratio as large were both sets alike: exp(-ratio / 2); of many
                                 bars, with 15 a set some 6 % where it says 5                     */
  bool settled;               /* the band of the gain leaves out nil                              */
  size_t bars_more;           /* in each set, so that a gain as large as this one would be settled 4
                                 times of 5; 0 when settled; BARS_MORE_MOST = so many or more      */
} BarsComparison;

typedef struct {
  const double *strength; /* n good ones */
  const BarsFit *fit;
  const WeibullPair *pivot; /* n_pivot of that many bars; the two sets with different seeds */
} BarsSet;

/* FAULT_DEGENERATE when a set has fewer than BARS_LEAST bars: too few for a band.
 *   work  in  max(first n + second n, n_pivot) doubles */
MUST_CHECK Fault bars_compare(const BarsSet *first, const BarsSet *second, size_t n_pivot,
                              double work[], BarsComparison *comparison);
