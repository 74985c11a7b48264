/* tool_row.h - the row of tools and layers that floats over the drawing.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/canvas/canvas.h"

GtkWidget *tool_row_new(SoffitCanvas *canvas);
/* Buttons of 44 px grow with the text as far as there is room beside them, in px, and a drawing of
 * this height keeps its own; narrow: 38 will do. */
void tool_row_fit(GtkWidget *row, int room, int height, bool narrow);
void tool_row_update(GtkWidget *row); /* after tool, layers or smoothing changed */

void tool_row_leave_out(GtkWidget *row, const Tool *tool); /* NULL: all are there */

/* The tools, in order; the keys of the canvas read them too. */
const Tool *const *tool_row_tools(size_t *n);
