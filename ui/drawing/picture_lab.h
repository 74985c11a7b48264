/* picture_lab.h - four small pictures of a lab's figures, for screen and paper.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A verdict is told by its sign and its hatch first, by its colour third.  The same in words:
 * ui/figures_words.h. */
#pragma once
#include "lab/lab_stats.h"
#include "ui/drawing/ink.h"

void picture_lab_months(cairo_t *cr, int width, int height, const DrawContext *context,
                        const LabStats *stats);
void picture_lab_causes(cairo_t *cr, int width, int height, const DrawContext *context,
                        const LabStats *stats);
void picture_lab_sizes(cairo_t *cr, int width, int height, const DrawContext *context,
                       const LabStats *stats);
void picture_lab_calibration(cairo_t *cr, int width, int height, const DrawContext *context,
                             const LabStats *stats);
