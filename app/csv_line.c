/* csv_line.c - see csv_line.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "csv_line.h"
#include <math.h>
#include <string.h>

static void comma(GString *row)
{
  if (row->len > 0 && row->str[row->len - 1] != '\n')
    g_string_append_c(row, ',');
}

/* Always quoted: an empty or a many-lined text cannot be taken for the border of a row. */
void csv_text(GString *row, const char *text)
{
  comma(row);
  g_string_append_c(row, '"');
  for (const char *p = text; *p; p++) {
    if (*p == '"')
      g_string_append_c(row, '"');
    g_string_append_c(row, *p);
  }
  g_string_append_c(row, '"');
}

void csv_number(GString *row, double value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE] = "";
  comma(row);
  if (isfinite(value))
    g_ascii_formatd(text, sizeof text, "%.9g", value);
  g_string_append(row, text);
}

void csv_end(GString *row)
{
  g_string_append(row, "\r\n");
}
