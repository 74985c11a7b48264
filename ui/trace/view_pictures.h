/* view_pictures.h - draw functions of the three plates: ui/drawing's pictures fed from the session.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * `data` is the SoffitSession. */
#pragma once
#include <gtk/gtk.h>

void view_gum_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data);
void view_section_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data);
void view_key_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data);
