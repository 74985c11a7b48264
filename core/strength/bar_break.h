/* bar_break.h - where a test bar broke against where its stress was largest.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa.  x along the bar from the middle of the span, y up from the stretched edge.  Bars,
 * not discs. */
#pragma once
#include "mechanics/notched_bar.h"
#include "strength/bars.h"

/* Share of the middle's bending at a place, 0 beyond the outer rollers. */
double bar_bending_share(const BarSetup *setup, double x);

/* Share of the largest stress above which nine of ten breaks are to begin, flaws being spread
 * evenly over the volume: core/SOURCES.md "record of a broken bar". modulus  in  Weibull's m, > 0
 */
double bar_break_least_share(const BarSetup *setup, double modulus);

#define BAR_BREAK_MODULUS 10.0 /* where no set gives one */
#define BAR_PLACE_MM 0.1       /* a place under a loupe is known to this */

typedef struct {
  double x_low, x_high, y; /* the largest stress: from x_low to x_high at height y              */
  bool at_notch;           /* it is the root of the notch                                       */
  double largest_mpa;      /* there when the bar broke                                          */
  double distance;         /* of the found place from it                                        */
  double share;            /* of the largest stress at the found place; NaN beside a notch      */
  double least_share;      /* nine of ten begin above                                           */
  bool hit;
} BarBreak;

/* FAULT_RANGE: a disc, or a bar with a fault; FAULT_NOT_FINITE: no place.
 *   found    in   place of the origin
 *   notch    in   NULL: none; else its place notch_x and the peak over a plain bar, times >= 1
 *   modulus  in   NaN: BAR_BREAK_MODULUS */
MUST_CHECK Fault bar_break_check(const BarSetup *setup, const Bar *bar, Point found, double modulus,
                                 const NotchedBar *notch, double notch_x, double times,
                                 BarBreak *result);
