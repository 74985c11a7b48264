/* cli_proof.c - soffit-cli proof: the table of checks that the tests wrote.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Files: *.tsv of tests/core/proof.h, one a test program, a heading and then one row a check. */
#include "cli.h"
#include "json_print.h"
#include "ui/words.h"
#include <math.h>
#include <stdio.h>
#include <string.h>

#define FILE_MAX_BYTES (16 << 20)

enum { TEST, QUANTITY, SOURCE, KNOWN, EXPECTED, GOT, ERROR, TOLERANCE, OK, COLUMNS };
static const char *const key[COLUMNS + 1] = {
    "test",          "quantity",          "source", "known", "expected", "got",
    "error_percent", "tolerance_percent", "ok",     NULL};

typedef struct {
  char *text[COLUMNS];
  double number[COLUMNS]; /* of EXPECTED to TOLERANCE */
} Row;

static void row_free(void *data)
{
  Row *row = data;
  for (int i = 0; i < COLUMNS; i++)
    g_free(row->text[i]);
  g_free(row);
}

static int row_compare(const void *a, const void *b)
{
  const Row *const *left = a, *const *right = b;
  return strcmp((*left)->text[TEST], (*right)->text[TEST]);
}

/* NULL when the line is no row. */
static Row *row_parse(const char *line)
{
  g_auto(GStrv) part = g_strsplit(line, "\t", COLUMNS + 1);
  if (g_strv_length(part) != COLUMNS || !g_utf8_validate(line, -1, NULL) ||
      (strcmp(part[OK], "yes") != 0 && strcmp(part[OK], "no") != 0))
    return NULL;
  Row *row = g_new0(Row, 1);
  for (int i = 0; i < COLUMNS; i++) {
    char *end = NULL;
    row->text[i] = g_strdup(part[i]);
    if (i < EXPECTED || i > TOLERANCE)
      continue;
    row->number[i] = g_ascii_strtod(part[i], &end);
    if (end == part[i] || *end) {
      row_free(row);
      return NULL;
    }
  }
  return row;
}

/* Adds the rows of a file; false after a message with file and line. */
static gboolean file_read(const char *path, GPtrArray *rows)
{
  g_autofree char *text = NULL, *heading = g_strjoinv("\t", (char **)key);
  g_autoptr(GError) error = NULL;
  gsize length = 0;
  if (!g_file_get_contents(path, &text, &length, &error)) {
    cli_bad("%s", error->message);
    return FALSE;
  }
  g_auto(GStrv) line = length < FILE_MAX_BYTES ? g_strsplit(text, "\n", -1) : NULL;
  guint n = line ? g_strv_length(line) : 0;
  gboolean good = n >= 2 && strcmp(line[0], heading) == 0 && strlen(text) == length;
  guint at = 1;
  while (good && at + 1 < n) { /* after the last newline there is nothing */
    Row *row = row_parse(line[at++]);
    if (row)
      g_ptr_array_add(rows, row);
    else
      good = FALSE;
  }
  if (good && *line[n - 1] != '\0') {
    good = FALSE;
    at = n;
  }
  if (!good)
    cli_bad(_("%s: line %u is damaged. Run the tests again."), path, at);
  return good;
}

/* Owned; NULL when the program does not lie in a build folder. */
static char *folder_beside(void)
{
  g_autofree char *program = g_file_read_link("/proc/self/exe", NULL);
  g_autofree char *app = g_path_get_dirname(program ? program : "");
  g_autofree char *build = g_path_get_dirname(app);
  return program ? g_build_filename(build, "proof", NULL) : NULL;
}

/* False after a message. */
static gboolean folder_read(const char *folder, GPtrArray *rows)
{
  GDir *dir = folder ? g_dir_open(folder, 0, NULL) : NULL;
  gboolean good = TRUE;
  for (const char *name; dir && good && (name = g_dir_read_name(dir));)
    if (g_str_has_suffix(name, ".tsv")) {
      g_autofree char *path = g_build_filename(folder, name, NULL);
      good = file_read(path, rows);
    }
  g_clear_pointer(&dir, g_dir_close);
  if (good && rows->len == 0) {
    cli_bad(_("%s: no checks are written here. Run the tests first (meson test), or name the proof "
              "folder of a build folder."),
            folder ? folder : "proof");
    good = FALSE;
  }
  g_ptr_array_sort(rows, row_compare);
  return good;
}

static void row_print_json(const Row *row)
{
  GString *line = json_begin();
  for (int i = 0; i < COLUMNS; i++)
    if (i >= EXPECTED && i <= TOLERANCE)
      json_number(line, key[i], row->number[i]);
    else
      json_text(line, key[i], row->text[i]);
  json_end_print(line);
}

/* Texts in the order of the page; numbers stand to the right. */
static const struct {
  int column;
  gboolean right;
  const char *heading;
} page[COLUMNS] = {
    {TEST, FALSE, N_("Test")},        {QUANTITY, FALSE, N_("Quantity")},
    {EXPECTED, TRUE, N_("Expected")}, {GOT, TRUE, N_("Got")},
    {ERROR, TRUE, N_("Error %")},     {TOLERANCE, TRUE, N_("Tolerance %")},
    {OK, FALSE, N_("Within")},        {KNOWN, FALSE, N_("Known")},
    {SOURCE, FALSE, N_("Source")},
};

/* Owned. */
static char *cell_text(const Row *row, int i)
{
  int column = page[i].column;
  if (!row)
    return g_strdup(_(page[i].heading));
  if (column == OK)
    return g_strdup(strcmp(row->text[OK], "yes") == 0 ? _("yes") : _("NO"));
  return page[i].right ? g_strdup_printf("%.6g", row->number[column]) : g_strdup(row->text[column]);
}

static void line_print(const Row *row, const glong width[COLUMNS])
{
  for (int i = 0; i < COLUMNS; i++) {
    g_autofree char *cell = cell_text(row, i);
    int pad = (int)(width[i] - g_utf8_strlen(cell, -1));
    if (i == COLUMNS - 1)
      printf("%s\n", cell);
    else if (page[i].right)
      printf("%*s%s  ", pad, "", cell);
    else
      printf("%s%*s  ", cell, pad, "");
  }
}

static void table_print(const GPtrArray *rows)
{
  glong width[COLUMNS] = {0};
  for (int i = 0; i < COLUMNS; i++)
    for (guint k = 0; k <= rows->len; k++) {
      g_autofree char *cell = cell_text(k ? g_ptr_array_index(rows, k - 1) : NULL, i);
      width[i] = MAX(width[i], g_utf8_strlen(cell, -1));
    }
  for (guint k = 0; k <= rows->len; k++)
    line_print(k ? g_ptr_array_index(rows, k - 1) : NULL, width);
}

int cli_proof(int argc, char **argv)
{
  gboolean json = FALSE;
  const GOptionEntry entry[] = {
      {"json", 0, 0, G_OPTION_ARG_NONE, &json, N_("One JSON object a line"), NULL},
      G_OPTION_ENTRY_NULL};
  if (!cli_options("[FOLDER]",
                   _("Every check against a value from outside, as the tests wrote it."), entry,
                   &argc, &argv))
    return EXIT_BAD;
  if (argc > 2)
    return cli_bad("%s", _("proof takes one folder at most."));
  g_autoptr(GPtrArray) rows = g_ptr_array_new_with_free_func(row_free);
  g_autofree char *folder = argc == 2 ? g_strdup(argv[1]) : folder_beside();
  if (!folder_read(folder, rows))
    return EXIT_BAD;
  guint outside = 0;
  for (guint i = 0; i < rows->len; i++) {
    const Row *row = g_ptr_array_index(rows, i);
    outside += strcmp(row->text[OK], "no") == 0;
    if (json)
      row_print_json(row);
  }
  if (!json) {
    table_print(rows);
    printf(_("%u checks, %u outside their tolerance\n"), rows->len, outside);
  }
  return outside ? EXIT_NOT : EXIT_HOLDS;
}
