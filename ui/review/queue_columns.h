/* queue_columns.h - which columns of the queue's table are shown, in which order, how wide; as a
 * line of text in the preferences.  SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/review/queue.h"

#define COLUMN_LEAST_PX 40
#define COLUMN_MOST_PX 1000

typedef struct {
  QueueOrder column;
  int width; /* px; 0 = as wide as its words need */
  bool shown;
} ColumnKept;

#define QUEUE_COLUMNS (QUEUE_ORDERS - 1)
/* As delivered: every column once. */
void columns_kept_default(ColumnKept kept[QUEUE_COLUMNS]);
/* "case:120 -span margin": shown but for those with a '-'; owned. */
char *columns_kept_to_text(const ColumnKept kept[QUEUE_COLUMNS]);
/* What is unknown or there twice is left out, what is missing comes at the end, as delivered; at
 * least one is shown.  text NULL: as delivered. */
void columns_kept_from_text(ColumnKept kept[QUEUE_COLUMNS], const char *text);
