/* practice_swipe.h - before and after: one drawing, the start left of a line and mine right of it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/practice/practice_desk.h"
#include <gtk/gtk.h>

/* The line is dragged, or moved by the arrow keys, Home and End. */
GtkWidget *practice_swipe_new(SoffitPracticeDesk *desk);
