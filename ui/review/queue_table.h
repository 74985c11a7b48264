/* queue_table.h - the queue as a table: a column for each thing that people sort by.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The same rows as the list of the queue, by the same model: a head that is clicked asks the queue
 * for another order.  Which columns are shown, in which order and how wide is a preference. */
#pragma once
#include "ui/review/queue.h"
#include <gtk/gtk.h>

#define SOFFIT_TYPE_QUEUE_TABLE (queue_table_get_type())
G_DECLARE_FINAL_TYPE(SoffitQueueTable, queue_table, SOFFIT, QUEUE_TABLE, GtkWidget)
GtkWidget *queue_table_new(SoffitQueue *queue);
GtkWidget *queue_table_rows(SoffitQueueTable *table); /* takes the keys; borrowed */
/* NULL: rests, while the list is shown. */
void queue_table_set_model(SoffitQueueTable *table, GtkSelectionModel *model);
/* Order by the n-th column that is shown; the other way round when it is the order already. */
void queue_table_sort(SoffitQueueTable *table, guint n);
/* Once it is to be shown, and when the room changed.  folded: smaller words, for little room. */
void queue_table_fold(SoffitQueueTable *table, bool folded);
/* Room that all columns take as they are, px. */
int queue_table_width(SoffitQueueTable *table);

/* Those that are shown, in their order, into column[QUEUE_ORDERS]; returns how many. */
size_t queue_table_shown(SoffitQueueTable *table, QueueOrder column[]);

/* ---- columns, as the menu of columns changes them ---- */
GListModel *queue_table_columns(SoffitQueueTable *table); /* GtkColumnViewColumn, in order */
QueueOrder queue_table_column(GtkColumnViewColumn *column);
void queue_table_move(SoffitQueueTable *table, GtkColumnViewColumn *column, int by);
void queue_table_widen(SoffitQueueTable *table, GtkColumnViewColumn *column, int px);
void queue_table_reset(SoffitQueueTable *table); /* as delivered */
