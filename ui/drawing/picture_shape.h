/* picture_shape.h - a section to shape: its neck's size, its rim, its points.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "mechanics/section_shape.h"
#include "ui/drawing/context.h"
#include <cairo.h>

/*   points  in  whether the knots are shown, the one at `knot` as chosen (SIZE_MAX: none) */
void section_picture(cairo_t *cr, const DrawContext *context, View view, NeckHalves neck,
                     const Outline *section, bool points, size_t knot);
