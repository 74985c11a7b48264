/* bars_parts.h - the three columns of the Bars workspace, and the panels of the right one.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "base/phrase.h"
#include "ui/bars/bars_desk.h"
#include "ui/session.h"
#include <gtk/gtk.h>

GtkWidget *bars_sets_new(SoffitBarsDesk *desk);     /* test, sizes, two sets to type into   */
void bars_sets_enter(GtkWidget *sets);              /* focus to the first set's lines       */
GtkWidget *bars_pictures_new(SoffitBarsDesk *desk); /* plot or histogram, the notched bar   */
GtkWidget *bars_record_new(SoffitBarsDesk *desk, int picture_px);        /* where a bar broke */
GtkWidget *bars_words_new(SoffitBarsDesk *desk, SoffitSession *session); /* the right column */
GtkWidget *bars_mark_new(int set); /* the set's mark as in the plot        */

GtkWidget *bars_gain_new(SoffitBarsDesk *desk, SoffitSession *session); /* gain, how sure, use it */
GtkWidget *bars_beside_new(SoffitBarsDesk *desk, SoffitSession *session); /* beside the book */
GtkWidget *bars_card_new(SoffitBarsDesk *desk, SoffitSession *session); /* a card from a set      */
GtkWidget *bars_panel_new(const char *title, bool first);               /* title NULL: none */
GtkWidget *bars_label_new(const char *class_name); /* wraps; class_name NULL: none */
void bars_say(GtkWidget *label, const char *text); /* hidden when there is nothing to say */
void bars_phrase_say(GtkWidget *label, Phrase phrase);
