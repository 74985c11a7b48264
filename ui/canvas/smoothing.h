/* smoothing.h - how much of the hand's tremor is taken out of a stroke: off .. strong.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm on the drawing: half width of the band shown around the ink (StrokeSettings.tolerance_mm).
 * Kept for the next start. */
#pragma once
#include "ui/canvas/canvas.h"

#define SMOOTHING_MOST_MM 0.5
#define SMOOTHING_STEP_MM 0.02

double smoothing_kept(void); /* of the last start; the fit's own default when never chosen */
void smoothing_keep(double mm);
char *smoothing_words(double mm); /* "Smoothing 0.12 mm", "Smoothing off"; owned */
/* A button for the tool row, with the setting in a popover. */
GtkWidget *smoothing_new(SoffitCanvas *canvas);
void smoothing_update(GtkWidget *button); /* the setting changed by key */
