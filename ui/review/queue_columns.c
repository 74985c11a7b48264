/* queue_columns.c - see queue_columns.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/review/queue_columns.h"
#include <string.h>

void columns_kept_default(ColumnKept kept[QUEUE_COLUMNS])
{
  for (int i = 0; i < QUEUE_COLUMNS; i++)
    kept[i] = (ColumnKept){.column = (QueueOrder)(ORDER_CASE + i), .shown = true};
}

char *columns_kept_to_text(const ColumnKept kept[QUEUE_COLUMNS])
{
  g_autoptr(GString) text = g_string_new(NULL);
  for (int i = 0; i < QUEUE_COLUMNS; i++) {
    g_string_append_printf(text, "%s%s%s", i ? " " : "", kept[i].shown ? "" : "-",
                           queue_column_id(kept[i].column));
    if (kept[i].width)
      g_string_append_printf(text, ":%d", kept[i].width);
  }
  return g_string_free(g_steal_pointer(&text), FALSE);
}

static bool word_take(const char *word, ColumnKept *kept)
{
  g_auto(GStrv) part = g_strsplit(word, ":", 2);
  bool hidden = part[0] && *part[0] == '-';
  *kept = (ColumnKept){.column = queue_column_from_id(part[0] ? part[0] + hidden : NULL),
                       .shown = !hidden};
  if (part[0] && part[1]) {
    gint64 width = g_ascii_strtoll(part[1], NULL, 10);
    kept->width = width >= COLUMN_LEAST_PX && width <= COLUMN_MOST_PX ? (int)width : 0;
  }
  return kept->column < QUEUE_ORDERS;
}

void columns_kept_from_text(ColumnKept kept[QUEUE_COLUMNS], const char *text)
{
  g_auto(GStrv) word = g_strsplit(text ? text : "", " ", -1);
  ColumnKept usual[QUEUE_COLUMNS];
  bool there[QUEUE_ORDERS] = {false}, shown = false;
  int n = 0;
  columns_kept_default(usual);
  for (char **one = word; *one; one++) {
    ColumnKept read;
    if (!word_take(*one, &read) || there[read.column])
      continue;
    there[read.column] = true;
    shown = shown || read.shown;
    kept[n++] = read;
  }
  for (int i = 0; i < QUEUE_COLUMNS; i++)
    if (!there[usual[i].column]) {
      kept[n++] = usual[i];
      shown = true;
    }
  kept[0].shown = kept[0].shown || !shown;
}
