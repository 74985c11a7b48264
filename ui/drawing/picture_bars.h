/* picture_bars.h - a gain as a bar with the bracket of its band.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "base/banded.h"
#include "ui/drawing/ink.h"

/* The bar spans the width; the bracket below ends at the low and high of the band.
 *   most  in  value at the right end, > 0, same unit */
void picture_gain(cairo_t *cr, int width, int height, const DrawContext *context, Banded gain,
                  double most);
