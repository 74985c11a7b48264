/* bars_answer.h - one or two sets of bars in, everything that is said about them out.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * N, mm, MPa.  Window and command line use this one call.  Bars with a fault stay in the answer and
 * are not used; outliers are marked and used.  Seeded: the same bars give the same answer. */
#pragma once
#include "strength/bars_compare.h"

#define BARS_SETS 2
#define BARS_CURVE 33 /* places of the plot's line */

typedef struct {
  size_t n, n_good;
  Bar *bar; /* n each, owned */
  BarFault *fault;
  double *strength; /* NaN for a bar with a fault        */
  bool *outlier;
  double *good;    /* n_good strengths, weakest first, owned         */
  Fault fit_fault; /* FAULT_DEGENERATE: fewer than 3 good ones, or all alike */
  BarsFit fit;     /* from here on only without fit_fault            */
  BarsClass iso;
  double width, thickness; /* of the usual bar                        */
  double surface;          /* effective, mm^2                         */
  struct {
    double chance; /* 0..1          */
    Banded stress; /* MPa           */
  } curve[BARS_CURVE];
} BarsSetAnswer;

typedef struct {
  BarSetup setup;
  BarsSetAnswer set[BARS_SETS]; /* the second may be empty */
  Fault compare_fault;          /* FAULT_DEGENERATE: a set has too few bars for a band */
  BarsComparison comparison;
} BarsAnswer;

/* FAULT_RANGE, FAULT_NOT_FINITE of the setup, FAULT_MEMORY, FAULT_CANCELLED.
 *   bar, n  in  two sets; n 0 = no set */
MUST_CHECK Fault bars_answer(const BarSetup *setup, const Bar *const bar[BARS_SETS],
                             const size_t n[BARS_SETS], FitProgress progress, void *data,
                             BarsAnswer **answer);
void bars_answer_free(BarsAnswer *answer); /* accepts NULL */
