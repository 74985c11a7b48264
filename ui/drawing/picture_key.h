/* picture_key.h - the key to the shade: squeezed, stretched, over the limit.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/drawing/text.h"

/* Height that the key needs, px. */
#define PICTURE_KEY_HEIGHT 60
/*   limit_mpa  in  NaN: no strength known, no figures */
void picture_key(cairo_t *cr, int width, int height, const DrawContext *context, double limit_mpa);
