/* spoken.h - what a screen reader is told about a widget; it is told again only when it changes.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * GTK 4.8 announces a name each time it is set, the same one too: readers would talk without end
 * while the pen moves. */
#pragma once
#include <gtk/gtk.h>

void spoken_name(GtkWidget *widget, const char *name);
void spoken_description(GtkWidget *widget, const char *description);
void spoken_tooltip(GtkWidget *widget, const char *text); /* NULL: none */
