/* bars_parts.h - the three columns of the Bars workspace.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/bars/bars_desk.h"
#include "ui/session.h"
#include <gtk/gtk.h>

GtkWidget *bars_sets_new(SoffitBarsDesk *desk);     /* test, sizes, two sets to type into   */
void bars_sets_enter(GtkWidget *sets);              /* focus to the first set's lines       */
GtkWidget *bars_pictures_new(SoffitBarsDesk *desk); /* plot or histogram, the notched bar   */
GtkWidget *bars_record_new(SoffitBarsDesk *desk, int picture_px);        /* where a bar broke */
GtkWidget *bars_words_new(SoffitBarsDesk *desk, SoffitSession *session); /* gain, class, card */
GtkWidget *bars_mark_new(int set); /* the set's mark as in the plot        */
