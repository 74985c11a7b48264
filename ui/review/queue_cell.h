/* queue_cell.h - one thing about one case in the table of the queue.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/review/queue.h"
#include <gtk/gtk.h>

#define SOFFIT_TYPE_QUEUE_CELL (queue_cell_get_type())
G_DECLARE_FINAL_TYPE(SoffitQueueCell, queue_cell, SOFFIT, QUEUE_CELL, GtkBox)
GtkWidget *queue_cell_new(QueueOrder column);
/* Follows the item until another one, or NULL.  The cell is named "margin 0.23 (0.21–0.25)", the
 * row of the first cell by its sentence. */
void queue_cell_set(SoffitQueueCell *cell, SoffitLabItem *item);
bool queue_column_figures(QueueOrder column); /* stands at the right */
