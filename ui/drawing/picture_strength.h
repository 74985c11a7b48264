/* picture_strength.h - strengths of one or two sets of bars: Weibull plot with bands, histogram.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * MPa across.  The first set is open rings and a dashed line, the second filled squares and a whole
 * line in the accent: told apart without colour. */
#pragma once
#include "strength/bars_use.h"
#include "ui/drawing/text.h"

/* The mark of a set, its middle at `at`. */
void draw_bar_mark(cairo_t *cr, const DrawContext *context, int set, Point at);

/* Bars broken in 100 over the stress, on Weibull's axes.
 *   name  in  of each set, shown as it is; NULL = none
 *   book  in  a card in this test: a diamond with its band on a dotted line; NULL = none */
void picture_weibull(cairo_t *cr, int width, int height, const DrawContext *context,
                     const BarsAnswer *answer, const char *const name[BARS_SETS],
                     const BarsBook *book);
/* How many bars broke in each class of stress. */
void picture_histogram(cairo_t *cr, int width, int height, const DrawContext *context,
                       const BarsAnswer *answer, const char *const name[BARS_SETS]);
