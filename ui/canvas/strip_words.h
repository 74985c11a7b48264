/* strip_words.h - the notes left and right of the bridge: what the case is, what the order asks.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/drawing/picture_span.h"

/* Left column from x = 20, right column to width - 20; nothing where the bridge leaves no room. */
void strip_words(cairo_t *cr, int width, int height, const DrawContext *context,
                 const Assessment *a, const SpanGeometry *geometry);
