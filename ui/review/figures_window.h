/* figures_window.h - the figures of a lab: four pictures, and the same in words.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <gtk/gtk.h>

/* Reads and assesses the cases of the folder on threads, with progress, and shows what they say
 * together.  Closing stops it. */
void figures_window_show(GtkWindow *parent, const char *folder);
