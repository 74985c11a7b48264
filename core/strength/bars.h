/* bars.h - strength tests: from forces and sizes to strengths, every bad value named.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * N, mm, MPa.  Tests of ISO 6872.  Nothing is dropped silently: a bar that cannot be used has a
 * fault of its own, an outlier is marked and stays.  Sources: core/SOURCES.md "bars". */
#pragma once
#include "base/fault.h"
#include "base/phrase.h"
#include "strength/material.h"
#include <stdbool.h>

/* What all bars of a set share. */
typedef struct {
  BarTest test;
  double span;    /* of the outer rollers; disc: diameter of the support circle                  */
  double inner;   /* of the inner rollers: 0, span / 2 or span / 3; disc: diameter of the piston */
  double poisson; /* disc only; 0.25 if unknown                                                  */
} BarSetup;

/* One test piece. */
typedef struct {
  double force_n;   /* that broke it                                    */
  double width;     /* disc: its diameter                               */
  double thickness; /* along the force                                  */
  double length;    /* 0 = not measured; disc: not used                 */
} Bar;

typedef enum {
  BAR_GOOD,
  BAR_FORCE,     /* not a number above 0                                                 */
  BAR_WIDTH,     /* outside 0.5 .. 50 mm                                                 */
  BAR_THICKNESS, /* outside 0.2 .. 20 mm                                                 */
  BAR_SHORT,     /* shorter than the span; disc: smaller than its support circle         */
  BAR_STOUT,     /* thicker than half the span: no bar                                   */
  BAR_LOOKS_MPA, /* the force reads like a strength in MPa                               */
  BAR_ABSURD,    /* strength outside 5 .. 5000 MPa                                       */
  BAR_FAULT_N
} BarFault;

/* Span of the usual bars (20 mm; disc: circle of 11, piston of 1.4 mm) with its inner rollers. */
BarSetup bar_setup_default(BarTest test);
/* Rollers where the test has them, within 10 %; span 1 .. 200 mm.  FAULT_RANGE, FAULT_NOT_FINITE.
 */
MUST_CHECK Fault bar_setup_check(const BarSetup *setup);

/* The formula alone, MPa. */
double bar_strength(const BarSetup *setup, const Bar *bar);

/* Strength and fault of each bar; the strength of a bad one is NaN.
 *   work      in   n doubles
 *   strength  out  n, MPa
 *   fault     out  n
 * Returns the number of good ones. */
size_t bars_strengths(const BarSetup *setup, const Bar bar[], size_t n, double work[],
                      double strength[], BarFault fault[]);
const char *bar_fault_name(BarFault fault); /* "force", "looks-like-mpa": files and JSON */
/* What is wrong with the bar and what to do: a sentence; its text is NULL for a good one. */
Phrase bar_fault_phrase(BarFault fault, const BarSetup *setup, const Bar *bar);

/* Marks strengths that the others make unlikely: of 100 sound sets about one has any.  At most a
 * fifth of the bars and ten at each end.  n below 8 marks none.
 *   strength  in   n good ones, any order, > 0
 *   work      in   n doubles
 *   outlier   out  n */
MUST_CHECK Fault bars_outliers(const double strength[], size_t n, double work[], bool outlier[]);
