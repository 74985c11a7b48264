/* queue_list.h - the queue as rows of two lines beside the evidence.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <gtk/gtk.h>

GtkWidget *queue_list_new(void); /* a GtkScrolledWindow around the GtkListView */
/* Rows that find room in less width; see queue_row_fold(). */
void queue_list_fold(GtkWidget *list, bool folded);
/* Of SoffitLabItem; NULL: rests, while the table is shown. */
void queue_list_set_model(GtkWidget *list, GtkSelectionModel *model);
