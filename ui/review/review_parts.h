/* review_parts.h - the parts of the Review page.  Private to ui/review.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/review/queue_export.h"
#include "ui/review/queue_table.h"
#include "ui/review/review_desk.h"
#include <gtk/gtk.h>

/* Chips, search, order, the list, and the lab below it. */
GtkWidget *queue_pane_new(SoffitReviewDesk *desk);
GtkWidget *queue_pane_list(GtkWidget *pane);        /* rows that are shown: take the keys */
void queue_pane_fold(GtkWidget *pane, bool folded); /* narrower rows */
/* As a table instead of rows of two lines; a preference. */
bool queue_pane_as_table(GtkWidget *pane);
void queue_pane_set_as_table(GtkWidget *pane, bool as_table);
/* px that all its columns take, in smaller words when it is folded. */
int queue_pane_table_width(GtkWidget *pane, bool folded);
void queue_pane_sort(GtkWidget *pane, guint column); /* queue_table_sort() while it is shown */
/* What the table shows, as a file; owned. */
GString *queue_pane_export(GtkWidget *pane, ExportForm form);
GtkWidget *columns_menu_new(SoffitQueueTable *table);
void queue_pane_search(GtkWidget *pane);              /* the focus goes to the words */
GtkWidget *queue_filters_new(SoffitReviewDesk *desk); /* menu of saved filters */
GtkWidget *queue_facets_new(SoffitReviewDesk *desk);  /* what stands in a column, to choose from */

/* The case, the whole bridge, the necks at a glance. */
GtkWidget *evidence_strip_new(SoffitReviewDesk *desk);
void evidence_strip_set_folded(GtkWidget *strip, bool folded); /* the queue is put away */
/* What fired, one after the other. */
GtkWidget *evidence_fired_new(SoffitReviewDesk *desk);
/* What changed, since when. */
GtkWidget *evidence_since_new(SoffitReviewDesk *desk);
/* Small pictures of its photos; nothing where there are none. */
GtkWidget *evidence_photos_new(SoffitReviewDesk *desk);
/* Its remarks in words; nothing where there are none. */
GtkWidget *evidence_remarks_new(SoffitReviewDesk *desk);
/* Standing, what changed, remarks, necks, waterfall, photos, history. */
GtkWidget *evidence_column_new(SoffitReviewDesk *desk);
/* The necks in narrower columns: what is needed below what is there. */
void evidence_column_fold(GtkWidget *column, bool folded);
/* Remarks, closing words, the decisions. */
GtkWidget *decision_bar_new(SoffitReviewDesk *desk);
/* As if its button was pressed: asks for the words that it lacks. */
void decision_bar_decide(GtkWidget *bar, EntryKind kind);
void decision_bar_set_list(GtkWidget *bar, GtkWidget *list); /* where the focus goes back to */

/* "Limits of this lab" */
void limits_dialog_new(GtkWindow *parent, SoffitReviewDesk *desk);
