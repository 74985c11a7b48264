/* review_parts.h - the parts of the Review page.  Private to ui/review.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/review/review_desk.h"
#include <gtk/gtk.h>

/* Chips, search, order, the list, and the lab below it. */
GtkWidget *queue_pane_new(SoffitReviewDesk *desk);
GtkWidget *queue_pane_list(GtkWidget *pane);          /* takes the keys */
void queue_pane_search(GtkWidget *pane);              /* the focus goes to the words */
GtkWidget *queue_filters_new(SoffitReviewDesk *desk); /* menu of saved filters */

/* The case, the whole bridge, the necks at a glance. */
GtkWidget *evidence_strip_new(SoffitReviewDesk *desk);
/* What fired, one after the other. */
GtkWidget *evidence_fired_new(SoffitReviewDesk *desk);
/* Standing, necks, waterfall, what changed, history. */
GtkWidget *evidence_column_new(SoffitReviewDesk *desk);
/* Remarks, closing words, the decisions. */
GtkWidget *decision_bar_new(SoffitReviewDesk *desk);
/* As if its button was pressed: asks for the words that it lacks. */
void decision_bar_decide(GtkWidget *bar, EntryKind kind);
void decision_bar_set_list(GtkWidget *bar, GtkWidget *list); /* where the focus goes back to */

/* "Limits of this lab" */
void limits_dialog_new(GtkWindow *parent, SoffitReviewDesk *desk);
