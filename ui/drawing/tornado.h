/* tornado.h - what drives the band of the chance: one bar an uncertain input, the widest on top.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * px.  A bar runs from the margin with the input at its low end to that with it at its high end,
 * all others at their middle; margins after the years of service at the order's load. */
#pragma once
#include "assess.h"
#include "ui/drawing/text.h"

#define TORNADO_ROWS 8
#define TORNADO_ROW_HEIGHT 22.0 /* screen px */
double tornado_height(const DrawContext *context, const ConnectorAssessment *connector);
void picture_tornado(cairo_t *cr, int width, int height, const DrawContext *context,
                     const ConnectorAssessment *connector);
/* "finish: milled only" */
Phrase driver_phrase(const ChanceDriver *driver);
