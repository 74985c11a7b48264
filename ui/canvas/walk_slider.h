/* walk_slider.h - the walk along the line as a screen reader finds it: a slider that has the focus
 * while one walks, with its place along the line as value and what is there in words.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/canvas/canvas.h"

/* A child of the canvas that nobody sees; keys go on to the canvas. */
GtkWidget *walk_slider_new(SoffitCanvas *canvas);
/* The place where the walk stands; shown as long as the walk is the chosen tool. */
void walk_slider_tell(GtkWidget *slider, const Hand *hand, bool walking);
