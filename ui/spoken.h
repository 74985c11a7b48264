/* spoken.h - what a screen reader is told about a widget; it is told again only when it changes.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * GTK 4.8 announces a name each time it is set, the same one too: readers would talk without end
 * while the pen moves. */
#pragma once
#include <gtk/gtk.h>

void spoken_name(GtkWidget *widget, const char *name);
void spoken_description(GtkWidget *widget, const char *description);
/* What is shown under a pointer that rests; NULL or empty: none.  GTK's own asks the display server
 * where the pointer is at each new text and waits for the answer, behind all that is being painted:
 * a list of rows took 10 ms by it.  Here nothing is asked before the pointer rests. */
void spoken_tooltip(GtkWidget *widget, const char *text);
