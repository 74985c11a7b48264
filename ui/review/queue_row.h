/* queue_row.h - one case in the queue: sign and word, case, reason, counts, last hand.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/review/lab_desk.h"
#include <gtk/gtk.h>

#define SOFFIT_TYPE_QUEUE_ROW (queue_row_get_type())
G_DECLARE_FINAL_TYPE(SoffitQueueRow, queue_row, SOFFIT, QUEUE_ROW, GtkBox)
GtkWidget *queue_row_new(void);
/* In less width: the word of the verdict stands in the last line, with the least of counts and the
 * last hand. */
void queue_row_fold(SoffitQueueRow *row, bool folded);
/* Follows the item until another one, or NULL.  The row of the list above is named by its sentence.
 */
SoffitLabItem *queue_row_item(SoffitQueueRow *row); /* borrowed; NULL */
void queue_row_set(SoffitQueueRow *row, SoffitLabItem *item);
