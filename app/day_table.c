/* day_table.c - see day_table.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "day_table.h"
#include "csv_line.h"
#include "json_print.h"
#include <math.h>

/* Where the cells go. */
typedef struct {
  GString *out, *line; /* line: of JSON; NULL = a table */
  bool heads;          /* the names instead of what stands there */
} Rows;

static void text_put(Rows *rows, const char *name, const char *text)
{
  if (rows->line)
    json_text(rows->line, name, text);
  else
    csv_text(rows->out, rows->heads ? name : text);
}

static void number_put(Rows *rows, const char *name, double value)
{
  if (rows->line)
    json_number(rows->line, name, value);
  else if (rows->heads)
    csv_text(rows->out, name);
  else
    csv_number(rows->out, value);
}

static void decision_put(Rows *rows, const LabDay *day, const DayDecision *d)
{
  g_autofree char *weakest = g_strdelimit(g_strdup(d->weakest), "/", '-');
  text_put(rows, "day", day->date);
  text_put(rows, "time", d->time);
  text_put(rows, "case", d->number);
  text_put(rows, "title", d->title);
  number_put(rows, "units", (double)d->n_unit);
  number_put(rows, "tooth_first", d->tooth_first);
  number_put(rows, "tooth_last", d->tooth_last);
  text_put(rows, "decision", entry_kind_id(d->kind));
  text_put(rows, "name", d->name);
  text_put(rows, "initials", d->initials);
  text_put(rows, "role", d->role);
  text_put(rows, "reason", d->reason);
  text_put(rows, "signed", signed_id(d->signature));
  text_put(rows, "changed_since", d->since ? "yes" : "no");
  text_put(rows, "weakest", weakest);
  text_put(rows, "verdict", verdict_id(d->verdict));
  number_put(rows, "margin", d->margin.value);
  number_put(rows, "margin_low", d->margin.low);
  number_put(rows, "margin_high", d->margin.high);
}

static void day_put(Rows *rows, const LabDay *day)
{
  for (guint i = 0; i < day->decision->len; i++) {
    rows->line = rows->line ? g_string_assign(rows->line, "{") : NULL;
    decision_put(rows, day, day->decision->pdata[i]);
    if (!rows->line) {
      csv_end(rows->out);
      continue;
    }
    json_end(rows->line);
    g_string_append_len(rows->out, rows->line->str, (gssize)rows->line->len);
  }
}

GString *day_json(const LabDay *day)
{
  g_autoptr(GString) line = json_begin();
  Rows rows = {.out = g_string_new(NULL), .line = line};
  day_put(&rows, day);
  return rows.out;
}

GString *day_csv(const LabDay *day)
{
  static const DayDecision none = {.number = (char *)"",
                                   .title = (char *)"",
                                   .time = (char *)"",
                                   .name = (char *)"",
                                   .initials = (char *)"",
                                   .role = (char *)"",
                                   .reason = (char *)""};
  Rows rows = {.out = g_string_new(NULL), .heads = true};
  decision_put(&rows, day, &none);
  csv_end(rows.out);
  rows.heads = false;
  day_put(&rows, day);
  return rows.out;
}
