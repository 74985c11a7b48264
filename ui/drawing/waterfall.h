/* waterfall.h - from the best connector of a room to the drawn one, a bar a step.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * px.  The first and the last bar are whole margins; those between hang where the one before ended.
 * A bracket below each is the band of its factor. */
#pragma once
#include "assess_waterfall.h"
#include "ui/drawing/text.h"

#define WATERFALL_ROWS (FALL_N + 2)
#define WATERFALL_ROW_HEIGHT 26.0 /* screen px */
/* Rows and the axis below them. */
double waterfall_height(const DrawContext *context);
/* Wide pictures (from 30 em) say each step as a sentence, narrow ones by its name. */
void picture_waterfall(cairo_t *cr, int width, int height, const DrawContext *context,
                       const Waterfall *waterfall);
