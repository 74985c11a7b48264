/* tab_stop.h - a box around a list that the Tab key enters and leaves once; arrows move inside: up
 * and down between rows, left and right inside of one.  Tab comes back to the row it left.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A GtkListBox alone makes every row a stop of Tab, and choosing a row shows another page. */
#pragma once
#include <gtk/gtk.h>

#define SOFFIT_TYPE_TAB_STOP (tab_stop_get_type())
G_DECLARE_FINAL_TYPE(SoffitTabStop, tab_stop, SOFFIT, TAB_STOP, GtkBox)

void tab_stop_begin_at(SoffitTabStop *stop, GtkWidget *row); /* until a row was left */
GtkWidget *tab_stop_new(GtkWidget *list);                    /* takes the floating list */
