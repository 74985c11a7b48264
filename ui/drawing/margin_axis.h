/* margin_axis.h - an axis of margins with the mark where 5 of 100 break, shared by the bar
 * pictures. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * px. */
#pragma once
#include "ui/drawing/text.h"

typedef struct {
  double low, high; /* margins at x0 and x1 */
  double x0, x1;
  double step; /* between figures */
} MarginAxis;

/* Rounded outward to whole steps; the margin 1 is on it unless it is far off. */
MarginAxis margin_axis(double low, double high, double x0, double x1);
double margin_x(const MarginAxis *axis, double margin); /* held to the axis */
double margin_axis_height(const DrawContext *context);  /* figures and word below the rows */
/* Figures below y1, the line of the margin 1 from y0 to y1 with its word. */
void margin_axis_draw(cairo_t *cr, const DrawContext *context, const MarginAxis *axis, double y0,
                      double y1);
/* The bracket of a band. */
void margin_bracket(cairo_t *cr, const DrawContext *context, const MarginAxis *axis, double y,
                    double low, double high);
