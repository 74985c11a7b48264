/* strip_words.h - the notes left and right of the bridge: what the case is, what the order asks.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/canvas/shade_job.h"

/* Left column from x = 20, right column to width - 20; nothing where the bridge leaves no room. */
void strip_words(cairo_t *cr, int width, int height, const DrawContext *context,
                 const Assessment *a, const SpanGeometry *geometry);
/* Why there is no new picture of the whole bridge: a ring at the place, the words on a plate. */
void strip_trouble(cairo_t *cr, int width, const DrawContext *context, const ShadeAnswer *answer,
                   const SpanGeometry *geometry);
/* "35/36: The line crosses itself here. ..." and what is shown instead, in the context's language;
 * NULL without a fault.  To be freed. */
char *strip_trouble_text(const DrawContext *context, const ShadeAnswer *answer);
