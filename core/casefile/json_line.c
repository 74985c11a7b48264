/* json_line.c - one JSON object on one line.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/json_line.h"
#include <math.h>

GString *json_begin(void)
{
  return g_string_new("{");
}

static void comma(GString *line)
{
  char last = line->str[line->len - 1];
  if (last != '{' && last != '[')
    g_string_append(line, ", ");
}

static void quoted(GString *line, const char *text)
{
  g_string_append_c(line, '"');
  for (const char *p = text; *p; p++) {
    unsigned char ch = (unsigned char)*p;
    if (ch == '"' || ch == '\\')
      g_string_append_c(line, '\\');
    if (ch < 0x20)
      g_string_append_printf(line, "\\u%04x", ch);
    else
      g_string_append_c(line, *p);
  }
  g_string_append_c(line, '"');
}

static void key_put(GString *line, const char *key)
{
  comma(line);
  if (key == NULL)
    return; /* an item of a list has none */
  quoted(line, key);
  g_string_append(line, ": ");
}

static void number_put(GString *line, double value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  g_string_append(line,
                  isfinite(value) ? g_ascii_formatd(text, sizeof text, "%.9g", value) : "null");
}

void json_number(GString *line, const char *key, double value)
{
  key_put(line, key);
  number_put(line, value);
}

void json_value(GString *line, double value)
{
  comma(line);
  number_put(line, value);
}

void json_text(GString *line, const char *key, const char *value)
{
  key_put(line, key);
  quoted(line, value);
}

void json_open(GString *line, const char *key, char bracket)
{
  key_put(line, key);
  g_string_append_c(line, bracket);
}

void json_item(GString *line, const char *value)
{
  comma(line);
  quoted(line, value);
}

void json_close(GString *line, char bracket)
{
  g_string_append_c(line, bracket);
}

void json_end(GString *line)
{
  g_string_append(line, "}\n");
}
