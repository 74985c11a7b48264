/* queue_export.c - see queue_export.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/review/queue_export.h"
#include "lab/lab_table.h"

#define PARTS 4 /* at most, of one column */

static const char *const part[QUEUE_ORDERS][PARTS] = {
    [ORDER_CASE] = {"case", "title", "file"},
    [ORDER_SPAN] = {"units", "tooth_first", "tooth_last"},
    [ORDER_MATERIAL] = {"material"},
    [ORDER_CONNECTOR] = {"weakest"},
    [ORDER_VERDICT] = {"state", "verdict"},
    [ORDER_MARGIN] = {"margin", "margin_low", "margin_high"},
    [ORDER_CHANCE] = {"chance_percent", "chance_low_percent", "chance_high_percent"},
    [ORDER_FINISH] = {"finish"},
    [ORDER_WAITING] = {"standing", "waiting_since"},
    [ORDER_HAND] = {"last_hand"}};

ExportForm export_form(const char *path)
{
  g_autofree char *low = g_ascii_strdown(path, -1);
  return g_str_has_suffix(low, ".json") ? EXPORT_JSON : EXPORT_CSV;
}

GString *queue_export(SoffitQueue *queue, const QueueOrder column[], size_t n, ExportForm form)
{
  size_t cell[QUEUE_ORDERS * PARTS], cells = 0;
  for (size_t i = 0; i < n; i++)
    for (int k = 0; k < PARTS && part[column[i]][k]; k++)
      cell[cells++] = lab_column_find(part[column[i]][k]);
  g_autoptr(GPtrArray) items = g_ptr_array_new_with_free_func(g_object_unref);
  g_autoptr(GPtrArray) rows = g_ptr_array_new();
  for (guint i = 0; i < g_list_model_get_n_items(G_LIST_MODEL(queue)); i++) {
    SoffitLabItem *item = g_list_model_get_item(G_LIST_MODEL(queue), i);
    g_ptr_array_add(items, item);
    g_ptr_array_add(rows, (LabRow *)lab_item_row(item));
  }
  if (form == EXPORT_CSV)
    return lab_cells_to_csv(rows, cell, cells);
  GString *out = g_string_new(NULL);
  for (guint i = 0; i < rows->len; i++)
    lab_row_to_json(out, rows->pdata[i], cell, cells);
  return out;
}
