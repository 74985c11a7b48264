/* trace_page.h - the workspace Trace: span strip above, drawing, views beside it, side column.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Folds by its own size (look.md "Folding"): below 1240 wide or 732 high (780 with the header) the
 * views become a card on the drawing and the side column gets pages; below 1000 wide the side
 * column lies over the drawing. */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

#define SOFFIT_TYPE_TRACE_PAGE (trace_page_get_type())
G_DECLARE_FINAL_TYPE(SoffitTracePage, trace_page, SOFFIT, TRACE_PAGE, GtkWidget)

GtkWidget *trace_page_new(SoffitSession *session);
/* Hands the focus on: strip, drawing, side column, strip (F6). */
void trace_page_next_place(SoffitTracePage *page);
/* The side column was asked for or sent away (F9). */
void trace_page_toggle_side(SoffitTracePage *page);
void trace_page_best_outline(SoffitTracePage *page); /* looks for it, on the drawing */
GtkWidget *trace_page_canvas(SoffitTracePage *page); /* borrowed: first focus */
