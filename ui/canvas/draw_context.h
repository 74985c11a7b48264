/* draw_context.h - the desktop's theme, words and sizes for the pictures of ui/drawing.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/drawing/context.h"
#include <gtk/gtk.h>

/* font: storage of the caller's that the context borrows. */
DrawContext draw_context_for(GtkWidget *widget, char font[64]);
/* How much larger than the look's the desktop's text is: 1 to 2.5. */
double text_scale(GtkWidget *widget);
