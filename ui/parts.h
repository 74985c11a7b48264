/* parts.h - the small parts that every panel is made of.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <gtk/gtk.h>
#include <stdbool.h>

/* Begins at the left and wraps; class_name NULL: none. */
GtkWidget *part_label(const char *text, const char *class_name);
/* clicked(data, button). */
GtkWidget *part_button(const char *text, const char *class_name, GCallback clicked, gpointer data);
/* From size_allocate: at px of the parent, never smaller than it needs. */
void part_place(GtkWidget *widget, int x, int y, int width, int height);
/* Whether this person wants things to move: not where the desktop says that motion is reduced. */
bool part_motion(GtkWidget *widget);
