/* bars_csv.c - strength tests from tables, by libcsv.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The text is handed to the parser line by line, so that every row knows its line. */
#include "casefile/bars_csv.h"
#include "casefile/bars_cells.h"
#include "casefile/document_xml.h"
#include <csv.h>
#include <string.h>

#define BOM "\xEF\xBB\xBF"
#define MOST_COLUMNS 200

/* The columns that are understood. */
typedef enum { FORCE, WIDTH, THICKNESS, LENGTH, KNOWN } Known;

typedef struct {
  BarsTable *table;
  BarTest test;
  Reader reader;
  guint line;
  GPtrArray *cell;   /* of the row at hand, owned texts          */
  int column[KNOWN]; /* where it is, or -1                       */
  bool headed;
} Parse;

static const char *known_name(Known known, BarTest test)
{
  static const char *const name[KNOWN] = {"force_n", "width_mm", "thickness_mm", "length_mm"};
  return known == WIDTH && test == BAR_DISC ? "diameter_mm" : name[known];
}

static bool known_needed(Known known)
{
  return known != LENGTH;
}

const char *bar_test_word(BarTest test)
{
  return word_of(WORDS_BAR, (int)test);
}

bool bar_test_from_word(const char *word, BarTest *test)
{
  int value;
  if (!word_find(WORDS_BAR, word, &value))
    return false;
  *test = (BarTest)value;
  return true;
}

bool bars_number(const char *cell, double *value)
{
  g_autofree char *plain = g_strstrip(g_strdup(cell));
  char *comma = strchr(plain, ',');
  if (comma && (strchr(plain, '.') || strchr(comma + 1, ',')))
    return false;
  if (comma)
    *comma = '.';
  const char *at = plain;
  double read;
  if (!number_from_text(&at, &read) || *at)
    return false;
  *value = read;
  return true;
}

/* A message of a row that is left out. */
static void row_out(Parse *p, GError *why)
{
  g_ptr_array_add(p->table->message, g_strdup(why->message));
  g_error_free(why);
}

/* --- the first line --- */

static bool same_name(const char *cell, const char *name)
{
  g_autofree char *plain = g_strstrip(g_strdup(cell));
  return g_ascii_strcasecmp(plain, name) == 0;
}

static void header_take(Parse *p)
{
  p->headed = true;
  for (Known known = 0; known < KNOWN; known++)
    p->column[known] = -1;
  for (guint i = 0; i < p->cell->len; i++) {
    const char *cell = g_ptr_array_index(p->cell, i);
    Known known = 0;
    while (known < KNOWN && !same_name(cell, known_name(known, p->test)))
      known++;
    if (known == KNOWN)
      g_ptr_array_add(p->table->further, g_strdup(cell));
    else if (p->column[known] >= 0)
      reader_fail(&p->reader, CASE_ERROR_VALUE, p->line, "the column %s is there twice. Leave one.",
                  known_name(known, p->test));
    else
      p->column[known] = (int)i;
  }
  for (Known known = 0; known < KNOWN; known++)
    if (known_needed(known) && p->column[known] < 0)
      reader_fail(&p->reader, CASE_ERROR_VALUE, p->line,
                  "there is no column %s. The first line names the columns, parted by comma, "
                  "semicolon or tab: %s.",
                  known_name(known, p->test),
                  p->test == BAR_DISC ? "force_n, thickness_mm, diameter_mm"
                                      : "force_n, width_mm, thickness_mm");
}

/* --- rows --- */

static bool cell_number(Parse *p, Known known, double *value)
{
  guint at = (guint)p->column[known];
  const char *cell = at < p->cell->len ? g_ptr_array_index(p->cell, at) : "",
             *name = known_name(known, p->test);
  if (bars_number(cell, value))
    return true;
  g_autofree char *lower = g_ascii_strdown(cell, -1);
  GError *why = NULL;
  Reader row = {p->table->name, &why, false};
  if (!*cell)
    reader_fail(&row, CASE_ERROR_VALUE, p->line, "%s is empty. Put it in or delete the line.",
                name);
  else if (known == FORCE && strstr(lower, "mpa"))
    reader_fail(&row, CASE_ERROR_VALUE, p->line,
                "\"%.40s\" is a strength. The column force_n wants the force in N.", cell);
  else
    reader_fail(&row, CASE_ERROR_VALUE, p->line,
                "%s \"%.40s\" is no plain number. Write it like 812.5 or 812,5, without unit.",
                name, cell);
  row_out(p, why);
  return false;
}

static bool row_empty(const Parse *p)
{
  for (guint i = 0; i < p->cell->len; i++) {
    const char *c = g_ptr_array_index(p->cell, i);
    if (*c)
      return false;
  }
  return true;
}

static void row_take(Parse *p)
{
  guint columns = p->table->further->len;
  for (Known known = 0; known < KNOWN; known++)
    columns += p->column[known] >= 0;
  BarsRow row = {.line = p->line};
  if (p->cell->len > columns) {
    GError *why = NULL;
    Reader bad = {p->table->name, &why, false};
    reader_fail(&bad, CASE_ERROR_VALUE, p->line,
                "there are %u cells for %u columns. A decimal comma between commas needs quotes.",
                p->cell->len, columns);
    row_out(p, why);
    return;
  }
  if (!cell_number(p, FORCE, &row.bar.force_n) || !cell_number(p, WIDTH, &row.bar.width) ||
      !cell_number(p, THICKNESS, &row.bar.thickness))
    return;
  guint length = p->column[LENGTH] < 0 ? G_MAXUINT : (guint)p->column[LENGTH];
  if (length < p->cell->len && *(const char *)g_ptr_array_index(p->cell, length) &&
      !cell_number(p, LENGTH, &row.bar.length))
    return;
  row.further = g_new0(char *, p->table->further->len + 1);
  guint k = 0;
  for (guint i = 0; i < columns; i++) {
    bool known = false;
    for (Known which = 0; which < KNOWN; which++)
      known = known || p->column[which] == (int)i;
    if (!known)
      row.further[k++] = g_strdup(i < p->cell->len ? g_ptr_array_index(p->cell, i) : "");
  }
  g_array_append_val(p->table->row, row);
}

static void cell_end(void *text, size_t length, void *data)
{
  Parse *p = data;
  if (p->cell->len <= MOST_COLUMNS)
    g_ptr_array_add(p->cell, g_strndup(text ? text : "", length));
}

static void row_end(int c, void *data)
{
  (void)c;
  Parse *p = data;
  if (!p->reader.failed && p->cell->len > 0 && !row_empty(p)) {
    if (p->cell->len > MOST_COLUMNS)
      reader_fail(&p->reader, CASE_ERROR_VALUE, p->line,
                  "there are more than %d columns. Delete what is not needed.", MOST_COLUMNS);
    else if (!p->headed)
      header_take(p);
    else if (p->table->row->len >= BARS_CSV_ROWS)
      reader_fail(&p->reader, CASE_ERROR_VALUE, p->line,
                  "there are more than %d rows. Divide the file.", BARS_CSV_ROWS);
    else
      row_take(p);
  }
  g_ptr_array_set_size(p->cell, 0);
}

/* --- the whole --- */

/* What parts the names of the first line: the one that is there most often. */
char bars_separator(const char *text, const char *end)
{
  static const char each[] = {';', '\t', ','};
  char best = ',';
  size_t most = 0;
  for (size_t i = 0; i < G_N_ELEMENTS(each); i++) {
    size_t n = 0;
    for (const char *c = text; c < end && *c != '\n' && *c != '\r'; c++)
      n += *c == each[i];
    if (n > most)
      most = n, best = each[i];
  }
  return best;
}

/* Behind the end of the line that begins here. */
const char *bars_line_end(const char *at, const char *end)
{
  while (at < end && *at != '\n' && *at != '\r')
    at++;
  if (at < end && *at == '\r' && at + 1 < end && at[1] == '\n')
    at++;
  return at < end ? at + 1 : at;
}

static void row_clear(void *data)
{
  g_strfreev(((BarsRow *)data)->further);
}

void bars_table_free(BarsTable *table)
{
  if (!table)
    return;
  g_free(table->name);
  g_array_unref(table->row);
  g_ptr_array_unref(table->further);
  g_ptr_array_unref(table->message);
  g_free(table);
}

static BarsTable *table_new(const char *name)
{
  BarsTable *table = g_new0(BarsTable, 1);
  table->name = g_strdup(name);
  table->row = g_array_new(FALSE, FALSE, sizeof(BarsRow));
  g_array_set_clear_func(table->row, row_clear);
  table->further = g_ptr_array_new_with_free_func(g_free);
  table->message = g_ptr_array_new_with_free_func(g_free);
  return table;
}

/* header: names of the columns when the text has none, as line 0; else NULL. */
static BarsTable *table_read(const char *header, const char *text, gsize length, const char *name,
                             BarTest test, GError **error)
{
  const char *end = text + length;
  Parse p = {.test = test, .reader = {name, error, false}, .table = table_new(name)};
  struct csv_parser parser;
  if (length >= 3 && memcmp(text, BOM, 3) == 0)
    text += 3;
  if (memchr(text, 0, (size_t)(end - text)) || !g_utf8_validate(text, end - text, NULL))
    reader_fail(&p.reader, CASE_ERROR_VALUE, 1,
                "this is no text in UTF-8. Save the table as CSV in UTF-8.");
  else if (csv_init(&parser, CSV_APPEND_NULL) != 0)
    reader_fail(&p.reader, CASE_ERROR_OPEN, 0, "there is no memory left. Close something.");
  if (p.reader.failed) {
    bars_table_free(p.table);
    return NULL;
  }
  p.cell = g_ptr_array_new_with_free_func(g_free);
  p.table->separator = header ? ';' : bars_separator(text, end);
  csv_set_delim(&parser, (unsigned char)p.table->separator);
  if (header)
    csv_parse(&parser, header, strlen(header), cell_end, row_end, &p);
  while (text < end && !p.reader.failed) {
    const char *next = bars_line_end(text, end);
    size_t n = (size_t)(next - text);
    p.line++;
    if (csv_parse(&parser, text, n, cell_end, row_end, &p) != n)
      reader_fail(&p.reader, CASE_ERROR_VALUE, p.line,
                  "the table cannot be read from here on. Save it anew as CSV.");
    text = next;
  }
  csv_fini(&parser, cell_end, row_end, &p);
  csv_free(&parser);
  g_ptr_array_unref(p.cell);
  if (!p.headed && !p.reader.failed)
    reader_fail(&p.reader, CASE_ERROR_VALUE, 1,
                "the table is empty. Its first line names the columns, such as force_n, width_mm, "
                "thickness_mm.");
  if (p.reader.failed)
    g_clear_pointer(&p.table, bars_table_free);
  return p.table;
}

BarsTable *bars_csv_read(const char *text, gsize length, const char *name, BarTest test,
                         GError **error)
{
  return table_read(NULL, text, length, name, test, error);
}

/* A typed line with its cells parted by semicolons. */
static void line_plain(GString *out, char *line, double width, double thickness)
{
  g_strstrip(line);
  int commas = 0;
  for (const char *c = line; *c; c++)
    commas += *c == ',';
  const char *parted = strpbrk(line, ";\t") ? ";\t"
                       : strpbrk(line, " ") ? " "
                       : commas > 1         ? ","
                                            : "";
  bool one = *line && !*parted, open = false;
  for (const char *c = line; *c; c++) {
    bool part = strchr(parted, *c) != NULL;
    if (!part)
      g_string_append_c(out, *c);
    else if (*c != ' ' || !open)
      g_string_append_c(out, ';');
    open = part;
  }
  char buf[32];
  if (one) {
    g_string_append_printf(out, ";%s", number_to_text(width, buf));
    g_string_append_printf(out, ";%s", number_to_text(thickness, buf));
  }
  g_string_append_c(out, '\n');
}

static bool names_columns(const char *text)
{
  const char *first = text + strspn(text, BOM " \t\r\n");
  return g_ascii_isalpha(*first) || *first == '"';
}

static const char *typed_names(BarTest test)
{
  return test == BAR_DISC ? "force_n;diameter_mm;thickness_mm\n"
                          : "force_n;width_mm;thickness_mm;length_mm\n";
}

/* Lines with their cells parted by semicolons, without names. */
static GString *typed_plain(const char *text, double width, double thickness)
{
  g_auto(GStrv) line = g_strsplit(text, "\n", -1);
  GString *plain = g_string_new(NULL);
  for (guint i = 0; line[i]; i++)
    line_plain(plain, line[i], width, thickness);
  return plain;
}

char *bars_typed_table(const char *text, BarTest test, double width, double thickness)
{
  if (names_columns(text))
    return NULL;
  GString *table = typed_plain(text, width, thickness);
  g_string_prepend(table, typed_names(test));
  return g_string_free(table, FALSE);
}

BarsTable *bars_typed_read(const char *text, const char *name, BarTest test, double width,
                           double thickness, GError **error)
{
  if (names_columns(text))
    return table_read(NULL, text, strlen(text), name, test, error);
  g_autoptr(GString) plain = typed_plain(text, width, thickness);
  return table_read(typed_names(test), plain->str, plain->len, name, test, error);
}

BarsTable *bars_csv_load(const char *path, BarTest test, GError **error)
{
  char *text;
  size_t length;
  if (!document_read_file(path, &text, &length, error))
    return NULL;
  BarsTable *table = bars_csv_read(text, length, path, test, error);
  g_free(text);
  return table;
}

void bars_cell_write(GString *out, const char *cell, char separator)
{
  if (separator)
    g_string_append_c(out, separator);
  size_t size = csv_write(NULL, 0, cell, strlen(cell));
  bool quote = strpbrk(cell, ",;\t\"\r\n") != NULL;
  if (!quote) {
    g_string_append(out, cell);
    return;
  }
  g_autofree char *quoted = g_malloc0(size + 1);
  csv_write(quoted, size, cell, strlen(cell));
  g_string_append(out, quoted);
}

static void cell_keep(void *text, size_t length, void *cells)
{
  g_ptr_array_add(cells, g_strndup(text ? text : "", length));
}

GPtrArray *bars_cells(const char *line, size_t length, char separator)
{
  GPtrArray *cells = g_ptr_array_new_with_free_func(g_free);
  struct csv_parser parser;
  if (csv_init(&parser, CSV_APPEND_NULL) != 0)
    return cells;
  csv_set_delim(&parser, (unsigned char)separator);
  csv_parse(&parser, line, length, cell_keep, NULL, cells);
  csv_fini(&parser, cell_keep, NULL, cells);
  csv_free(&parser);
  return cells;
}

char *bars_csv_write(const BarsTable *table, BarTest test)
{
  GString *out = g_string_new(NULL);
  for (Known known = 0; known < KNOWN; known++)
    bars_cell_write(out, known_name(known, test), known ? ',' : 0);
  for (guint i = 0; i < table->further->len; i++)
    bars_cell_write(out, g_ptr_array_index(table->further, i), ',');
  g_string_append_c(out, '\n');
  for (guint k = 0; k < table->row->len; k++) {
    const BarsRow *row = &g_array_index(table->row, BarsRow, k);
    const double value[KNOWN] = {row->bar.force_n, row->bar.width, row->bar.thickness,
                                 row->bar.length};
    char buf[32];
    for (Known known = 0; known < KNOWN; known++)
      bars_cell_write(out,
                      known == LENGTH && value[known] == 0 ? "" : number_to_text(value[known], buf),
                      known ? ',' : 0);
    for (guint i = 0; i < table->further->len; i++)
      bars_cell_write(out, row->further[i], ',');
    g_string_append_c(out, '\n');
  }
  return g_string_free(out, FALSE);
}
