/* bars_scatter.h - how far m and scale of a number of bars lie from the truth, without their
 * strengths: for cards that state how many bars they are from.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Ratios of the true value over the stated one, the middle and the ends of 90 of 100 sets (the
 * pivots of weibull_fit.h, tabled).  bars < 3 counts as 3.  Sources: core/SOURCES.md "Weibull". */
#pragma once
#include "base/banded.h"

#define BARS_NOT_STATED 30 /* a card that does not say how many counts as so many */

Banded bars_modulus_ratio(int bars);               /* of the unbiased modulus */
Banded bars_scale_ratio(int bars, double modulus); /* of the stress that breaks 63 of 100 */
