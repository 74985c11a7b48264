/* cli_lab.c - soffit-cli lab: the cases of a folder, worst first.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli.h"
#include "lab/lab_cache.h"
#include "lab/lab_list.h"
#include "lab/lab_pool.h"
#include "lab/lab_table.h"
#include "ui/words.h"
#include <stdio.h>

#define TEXT_ROOM 400

typedef struct {
  GMutex mutex;
  GPtrArray *row; /* LabRow, owned */
} Rows;

static void row_done(LabRow *row, guint64 number, void *data)
{
  Rows *rows = data;
  (void)number;
  g_mutex_lock(&rows->mutex);
  g_ptr_array_add(rows->row, row);
  g_mutex_unlock(&rows->mutex);
}

static int row_order(const void *a, const void *b)
{
  return lab_row_compare(*(LabRow *const *)a, *(LabRow *const *)b);
}

/* Rows of all files, from the cache where they are still good; what was assessed is kept there. */
static void rows_make(const Lab *lab, const LabList *list, bool fresh, Rows *rows)
{
  g_autofree char *cache = lab_cache_path(NULL, lab->folder);
  g_autoptr(GHashTable) kept = fresh ? NULL : lab_cache_load(cache, lab);
  LabPool *pool = lab_pool_new(lab, 0, NULL, row_done, rows);
  guint asked = 0;
  for (guint i = 0; i < list->file->len; i++) {
    const LabFile *file = &g_array_index(list->file, LabFile, i);
    LabRow *row = kept ? lab_cache_take(kept, file) : NULL;
    if (row)
      row_done(row, 0, rows);
    else {
      lab_pool_ask(pool, file->name, LAB_ASSESS, URGENCY_DRAWN);
      asked++;
    }
  }
  lab_pool_wait(pool);
  lab_pool_free(pool);
  g_ptr_array_sort(rows->row, row_order);
  lab_rows_mark_duplicates(rows->row, NULL, NULL);
  if (!asked)
    return;
  g_autoptr(GBytes) packed = lab_cache_pack(rows->row, lab);
  lab_cache_save(cache, packed, NULL); /* without it the next time takes as long */
}

static void row_print(const LabRow *row)
{
  char span[TEXT_ROOM], reason[TEXT_ROOM] = "";
  g_autofree char *file = g_filename_display_name(row->file);
  if (row->state == ROW_UNREADABLE) {
    printf(_("%s: unreadable. %s\n"), file, row->trouble);
    return;
  }
  Phrase units = lab_row_span(row);
  phrase_format(&units, words_translate, ".", span, sizeof span);
  if (row->headline.text)
    phrase_format(&row->headline, words_translate, ".", reason, sizeof reason);
  printf(_("%s: %s; margin %.2f (%.2f-%.2f) at %s; %s; %s"), file, _(verdict_name(row->verdict)),
         row->margin.value, row->margin.low, row->margin.high, row->weakest, span,
         _(standing_name(row->standing)));
  printf("%s%s\n", *reason ? ". " : "", reason);
  if (*row->trouble)
    printf("  ! %s\n", row->trouble);
}

static int rows_status(const GPtrArray *rows)
{
  int status = EXIT_HOLDS;
  for (guint i = 0; i < rows->len; i++) {
    const LabRow *row = rows->pdata[i];
    if (row->state != ROW_READY)
      return EXIT_BAD;
    if (row->verdict != VERDICT_HOLDS)
      status = EXIT_NOT;
  }
  return status;
}

static void rows_csv(const GPtrArray *rows)
{
  g_autoptr(GString) table = lab_rows_to_csv(rows);
  fwrite(table->str, 1, table->len, stdout);
}

static void rows_json(const GPtrArray *rows)
{
  g_autofree size_t *all = g_new(size_t, lab_columns);
  g_autoptr(GString) line = g_string_new(NULL);
  lab_columns_all(all);
  for (guint i = 0; i < rows->len; i++) {
    g_string_truncate(line, 0);
    lab_row_to_json(line, rows->pdata[i], all, lab_columns);
    fwrite(line->str, 1, line->len, stdout);
  }
}

static void rows_print(const GPtrArray *rows)
{
  for (guint i = 0; i < rows->len; i++)
    row_print(rows->pdata[i]);
}

int cli_lab(int argc, char **argv)
{
  gboolean json = FALSE, csv = FALSE, fresh = FALSE;
  const GOptionEntry entry[] = {
      {"json", 0, 0, G_OPTION_ARG_NONE, &json, N_("One JSON object a line"), NULL},
      {"csv", 0, 0, G_OPTION_ARG_NONE, &csv, N_("A table with commas (RFC 4180)"), NULL},
      {"fresh", 0, 0, G_OPTION_ARG_NONE, &fresh, N_("Assess every case anew"), NULL},
      G_OPTION_ENTRY_NULL};
  if (!cli_options(
          "FOLDER",
          _("The cases of a lab folder, worst first: by the thresholds of its lab.ini, and "
            "a decided case by those it was decided by."),
          entry, &argc, &argv))
    return EXIT_BAD;
  if (argc != 2)
    return cli_bad("%s", _("lab needs one folder."));
  g_autoptr(GError) error = NULL;
  g_autofree char *trouble = NULL;
  g_autoptr(LabList) list = lab_list_new(argv[1], &error);
  if (!list)
    return cli_bad("%s", error->message);
  g_autoptr(Lab) lab = lab_new(argv[1], &trouble);
  Rows rows = {.row = g_ptr_array_new_with_free_func((GDestroyNotify)lab_row_free)};
  g_mutex_init(&rows.mutex);
  if (trouble)
    cli_bad("%s", trouble);
  if (list->more)
    cli_bad(_("there are more than %d cases: the others are left out."), LAB_FILES_MOST);
  rows_make(lab, list, fresh, &rows);
  (csv ? rows_csv : json ? rows_json : rows_print)(rows.row);
  int status = trouble || list->more ? EXIT_BAD : rows_status(rows.row);
  g_ptr_array_unref(rows.row);
  g_mutex_clear(&rows.mutex);
  return status;
}
