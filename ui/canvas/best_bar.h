/* best_bar.h - the slider from the outline to the best one, shown while that is previewed.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

/* `changed` is called when the bar came or went: its parent lays it out anew. */
GtkWidget *best_bar_new(SoffitSession *session, void (*changed)(GtkWidget *parent),
                        GtkWidget *parent);
/* Below the titles, at x, or in the middle of `width` when x < 0: the embrasure stays free. */
void best_bar_place(GtkWidget *bar, int x, int width);
