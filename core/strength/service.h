/* service.h - what years of chewing leave of a strength measured in seconds.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Slow crack growth v = A K^n in water, nothing below a threshold K_I0.  Sources: core/SOURCES.md
 * "service". */
#pragma once
#include "strength/material.h"

/* A figure with the range that 90 of 100 cases fall into (5 and 95 %), and where it is from. */
typedef struct {
  double value, low, high;
  const char *source; /* English msgid, or words of a card that lives as long */
} Range;

/* How a ceramic gives way in water. */
typedef struct {
  Range exponent;  /* n                                                             */
  Range threshold; /* K_I0 / K_Ic, [0, 1); value 0 = none known: cracks always grow */
} Growth;
Growth growth_of(const Material *material);

typedef struct {
  double bites_a_day; /* at the full load; >= 0   */
  double years;       /* 0 .. 100                 */
} Service;
#define SERVICE_BITES_A_DAY 700.0
#define SERVICE_YEARS 10.0
#define SERVICE_BITES_MOST 1e5
#define SERVICE_YEARS_MOST 100.0
Range service_bites(const Service *service);

/* Strength left, (0, 1], as a part of the strength of the bars: the load that n cycles of chewing
 * just do not break over the load that one slow pull just does not; never below the threshold.
 * Without bites 1.  NaN for exponent < 2 or negative bites. */
double service_factor(double exponent, double threshold, double bites);
