/* bars_text.c - see bars_text.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/bars_text.h"
#include "casefile/bars_cells.h"
#include "casefile/document_xml.h"
#include <string.h>

static bool line_blank(const GPtrArray *cells)
{
  for (guint i = 0; i < cells->len; i++)
    if (*(const char *)g_ptr_array_index(cells, i))
      return false;
  return true;
}

static bool line_open(const char *at, size_t n)
{
  size_t quotes = 0;
  for (size_t i = 0; i < n; i++)
    quotes += at[i] == '"';
  return quotes % 2 != 0;
}

/* Where the column stands; it is added when it is not there and wanted. */
static guint column_find(GPtrArray *names, const char *name, bool wanted)
{
  for (guint i = 0; i < names->len; i++) {
    g_autofree char *plain = g_strstrip(g_strdup(g_ptr_array_index(names, i)));
    if (g_ascii_strcasecmp(plain, name) == 0)
      return i;
  }
  if (!wanted)
    return G_MAXUINT;
  g_ptr_array_add(names, g_strdup(name));
  return names->len - 1;
}

char *bars_text_set(const char *text, guint *line, BarTest test, double width, double thickness,
                    const BarsCell cell[], size_t n, GError **error)
{
  Reader r = {"", error, false};
  g_autofree char *table = bars_typed_table(text, test, width, thickness);
  guint wanted = table ? *line + 1 : *line, number = 0;
  const char *at = table ? table : text, *end = at + strlen(at);
  char separator = bars_separator(at, end);
  g_autoptr(GPtrArray) names = NULL;
  g_autoptr(GString) out = g_string_new(NULL);
  bool found = false;
  while (at < end) {
    const char *next = bars_line_end(at, end), *stop = next;
    while (stop > at && (stop[-1] == '\n' || stop[-1] == '\r'))
      stop--;
    size_t length = (size_t)(stop - at);
    g_autoptr(GPtrArray) cells = bars_cells(at, length, separator);
    number++;
    if (line_open(at, length) && (number == wanted || !names)) {
      reader_fail(&r, CASE_ERROR_VALUE, *line,
                  "a quoted cell goes over several lines. Write it in one line first.");
      return NULL;
    }
    if (!names && !line_blank(cells)) {
      guint had = cells->len;
      g_string_append_len(out, at, (gssize)length);
      names = g_steal_pointer(&cells);
      for (size_t k = 0; k < n; k++)
        column_find(names, cell[k].name, *cell[k].value);
      for (guint i = had; i < names->len; i++)
        bars_cell_write(out, g_ptr_array_index(names, i), separator);
    } else if (names && number == wanted) {
      found = true;
      for (size_t k = 0; k < n; k++) {
        guint column = column_find(names, cell[k].name, false);
        if (column == G_MAXUINT)
          continue;
        while (cells->len <= column)
          g_ptr_array_add(cells, g_strdup(""));
        g_free(cells->pdata[column]);
        cells->pdata[column] = g_strdup(cell[k].value);
      }
      for (guint i = 0; i < cells->len; i++)
        bars_cell_write(out, g_ptr_array_index(cells, i), i ? separator : 0);
    } else
      g_string_append_len(out, at, (gssize)length);
    g_string_append_len(out, stop, (gssize)(next - stop));
    at = next;
  }
  if (!found) {
    reader_fail(&r, CASE_ERROR_VALUE, *line, "there is no such bar any more. Choose it again.");
    return NULL;
  }
  *line = wanted;
  return g_string_free(g_steal_pointer(&out), FALSE);
}
