/* picture_bar_break.h - a broken test bar: where its stress was largest and where it began.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "strength/bar_break.h"
#include "ui/drawing/picture_notch.h"

/*   picture  in  answer NULL; reference_mpa = the strength of the bar
 *   found    in  place of the origin; NaN = not recorded, y NaN = its height is not */
void picture_bar_break(cairo_t *cr, int width, int height, const DrawContext *context,
                       const NotchPicture *picture, Point found);
