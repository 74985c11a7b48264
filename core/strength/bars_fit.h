/* bars_fit.h - what a set of broken bars says: spread, scale, class, and how surely.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * MPa, mm^2, percent.  Each figure has the 90 % band of its plausible values (weibull_fit.h); below
 * BARS_LEAST bars the bands are unknown (NaN).  Sources: core/SOURCES.md "bars". */
#pragma once
#include "strength/bars.h"
#include "strength/weibull_fit.h"

#define BARS_LEAST 10    /* for a band; ISO 6872 asks for as many (from memory) */
#define BARS_WEIBULL 30  /* ISO 6872 for Weibull statistics (from memory)       */
#define BARS_DRAWS 10000 /* of a band                                           */

typedef struct {
  size_t n;
  WeibullPair fit;     /* maximum likelihood, as it comes out                  */
  Banded modulus;      /* unbiased; of 3 or 4 bars as it comes out             */
  Banded scale;        /* 63 of 100 broken                                     */
  Banded median, five; /* 50 and 5 of 100 broken, with the unbiased modulus    */
  Banded mean;         /* of the bars; its band is that of the distribution's  */
  double least, most;  /* weakest, strongest bar                               */
} BarsFit;

/* Pivots are those of n bars (weibull_pivots); n_pivot 0: no bands.
 *   strength  in   n >= 3 good ones                 else FAULT_DEGENERATE; all alike too
 *   work      in   max(n, n_pivot) doubles */
MUST_CHECK Fault bars_fit(const double strength[], size_t n, const WeibullPair pivot[],
                          size_t n_pivot, double work[], BarsFit *fit);

/* Stress at which `chance` (0..1) of the bars are broken: the line of the Weibull plot, its band.
 *   work  in  n_pivot doubles */
Banded bars_quantile(const BarsFit *fit, double chance, const WeibullPair pivot[], size_t n_pivot,
                     double work[]);

/* Classes of ISO 6872 by mean bending strength. */
#define BARS_CLASSES 5
double bars_class_mpa(int iso_class); /* 1 .. 5: 50, 100, 300, 500, 800 MPa; else NaN */
typedef struct {
  int reached;               /* highest class that the mean reaches; 0 = none                 */
  double sure[BARS_CLASSES]; /* percent of the plausible means that reach class 1 .. 5; or NaN */
} BarsClass;
BarsClass bars_class(const BarsFit *fit, const WeibullPair pivot[], size_t n_pivot, double work[]);

/* A card with these bars' strength, spread and sizes, on the base of another; effective surface and
 * chance then follow from the card.  id, name, finish and source are the caller's to set.
 *   width, thickness  in  of the usual bar of the set, mm */
Material bars_card(const Material *base, const BarSetup *setup, double width, double thickness,
                   const BarsFit *fit);
/* Effective surface at the unbiased modulus, mm^2. */
double bars_surface(const BarSetup *setup, double width, double thickness, const BarsFit *fit);
/* Middle width and thickness of the good bars.  work in n doubles. */
void bars_usual(const Bar bar[], const BarFault fault[], size_t n, double work[], double *width,
                double *thickness);
