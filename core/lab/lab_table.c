/* lab_table.c - see lab_table.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "lab/lab_table.h"
#include "casefile/bars_cells.h"
#include "casefile/json_line.h"
#include <string.h>

typedef enum {
  FILE_NAME,
  NUMBER,
  TITLE,
  UNITS,
  FIRST,
  LAST,
  MATERIAL,
  STATE,
  STANDING,
  VERDICT,
  WEAKEST,
  MARGIN,
  MARGIN_LOW,
  MARGIN_HIGH,
  CHANCE,
  CHANCE_LOW,
  CHANCE_HIGH,
  CARRIES,
  CARRIES_LOW,
  CARRIES_HIGH,
  ORDER,
  PEAK,
  RADIUS,
  AREA,
  FINISH,
  STOPS,
  LOOKS,
  NOTES,
  REASON,
  REASON_WORDS,
  CLOSE_LIMIT,
  HOLDS_LIMIT,
  WAITING_SINCE,
  LAST_HAND,
  LAST_TIME,
  SIGNATURE,
  RECORD,
  BROKEN,
  DIGEST,
  TROUBLE
} Column;

const LabColumn lab_column[] = {[FILE_NAME] = {"file", false},
                                [NUMBER] = {"case", false},
                                [TITLE] = {"title", false},
                                [UNITS] = {"units", true},
                                [FIRST] = {"tooth_first", true},
                                [LAST] = {"tooth_last", true},
                                [MATERIAL] = {"material", false},
                                [STATE] = {"state", false},
                                [STANDING] = {"standing", false},
                                [VERDICT] = {"verdict", false},
                                [WEAKEST] = {"weakest", false},
                                [MARGIN] = {"margin", true},
                                [MARGIN_LOW] = {"margin_low", true},
                                [MARGIN_HIGH] = {"margin_high", true},
                                [CHANCE] = {"chance_percent", true},
                                [CHANCE_LOW] = {"chance_low_percent", true},
                                [CHANCE_HIGH] = {"chance_high_percent", true},
                                [CARRIES] = {"carries_n", true},
                                [CARRIES_LOW] = {"carries_low_n", true},
                                [CARRIES_HIGH] = {"carries_high_n", true},
                                [ORDER] = {"order_n", true},
                                [PEAK] = {"peak_mpa", true},
                                [RADIUS] = {"roof_radius_mm", true},
                                [AREA] = {"neck_area_mm2", true},
                                [FINISH] = {"finish", false},
                                [STOPS] = {"stops", true},
                                [LOOKS] = {"looks", true},
                                [NOTES] = {"notes", true},
                                [REASON] = {"reason", false},
                                [REASON_WORDS] = {"reason_words", false},
                                [CLOSE_LIMIT] = {"close_margin", true},
                                [HOLDS_LIMIT] = {"holds_margin", true},
                                [WAITING_SINCE] = {"waiting_since", false},
                                [LAST_HAND] = {"last_hand", false},
                                [LAST_TIME] = {"last_time", false},
                                [SIGNATURE] = {"signature", false},
                                [RECORD] = {"record", false},
                                [BROKEN] = {"broken", false},
                                [DIGEST] = {"digest", false},
                                [TROUBLE] = {"trouble", false}};
const size_t lab_columns = G_N_ELEMENTS(lab_column);

static double when(bool known, double value)
{
  return known ? value : NAN;
}

double lab_cell_number(const LabRow *row, size_t column)
{
  const bool read = row->n_unit > 0, ready = row->state == ROW_READY;
  switch ((Column)column) {
  case UNITS:
    return when(read, (double)row->n_unit);
  case FIRST:
    return when(read, row->tooth_first);
  case LAST:
    return when(read, row->tooth_last);
  case MARGIN:
    return row->margin.value;
  case MARGIN_LOW:
    return row->margin.low;
  case MARGIN_HIGH:
    return row->margin.high;
  case CHANCE:
    return row->chance_percent.value;
  case CHANCE_LOW:
    return row->chance_percent.low;
  case CHANCE_HIGH:
    return row->chance_percent.high;
  case CARRIES:
    return row->carries_n.value;
  case CARRIES_LOW:
    return row->carries_n.low;
  case CARRIES_HIGH:
    return row->carries_n.high;
  case ORDER:
    return row->order_n;
  case PEAK:
    return row->peak_mpa;
  case RADIUS:
    return row->roof_radius_mm;
  case AREA:
    return row->area_mm2;
  case STOPS:
    return when(ready, row->stops);
  case LOOKS:
    return when(ready, row->looks);
  case NOTES:
    return when(ready, row->notes);
  case CLOSE_LIMIT:
    return when(ready, row->limits.close_margin);
  case HOLDS_LIMIT:
    return when(ready, row->limits.holds_margin);
  default:
    return NAN;
  }
}

static char *time_text(gint64 us)
{
  g_autoptr(GDateTime) time = us ? g_date_time_new_from_unix_utc(us / G_USEC_PER_SEC) : NULL;
  return time ? g_date_time_format(time, "%Y-%m-%dT%H:%M:%SZ") : g_strdup("");
}

static char *number_text(double value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE] = "";
  if (isfinite(value))
    g_ascii_formatd(text, sizeof text, "%.9g", value);
  return g_strdup(text);
}

static char *phrase_text(const Phrase *phrase)
{
  char text[400] = "";
  if (phrase->text)
    phrase_format(phrase, NULL, ".", text, sizeof text);
  return g_strdup(text);
}

static const char *record_id(const LabRow *row)
{
  static const char *const id[] = {"none", "whole", "broken"};
  return id[row->chain];
}

static const char *signature_id(SignedState state)
{
  static const char *const id[] = {"unsigned", "signed", "unknown-key", "wrong"};
  return id[state];
}

char *lab_cell_text(const LabRow *row, size_t column)
{
  const bool read = row->n_unit > 0, ready = row->state == ROW_READY;
  switch ((Column)column) {
  case FILE_NAME:
    return g_filename_display_name(row->file);
  case NUMBER:
    return g_strdup(row->number);
  case TITLE:
    return g_strdup(row->title);
  case MATERIAL:
    return g_strdup(row->material);
  case STATE:
    return g_strdup(row_state_id(row->state));
  case STANDING:
    return g_strdup(read ? standing_id(row->standing) : "");
  case VERDICT:
    return g_strdup(ready ? verdict_id(row->verdict) : "");
  case WEAKEST:
    return g_strdelimit(g_strdup(row->weakest), "/", '-');
  case FINISH:
    return g_strdup(ready ? finish_id(row->finish) : "");
  case REASON:
    return g_strdup(row->reason);
  case REASON_WORDS:
    return phrase_text(&row->headline);
  case WAITING_SINCE:
    return time_text(row->waiting_since_us);
  case LAST_HAND:
    return g_strdup(row->author);
  case LAST_TIME:
    return time_text(row->last_us);
  case SIGNATURE:
    return g_strdup(read ? signature_id(row->signature) : "");
  case RECORD:
    return g_strdup(read ? record_id(row) : "");
  case BROKEN:
    return g_strdup(!read ? "" : row->broken ? "yes" : "no");
  case DIGEST:
    return g_strdup(row->digest);
  case TROUBLE:
    return g_strdup(row->trouble);
  default:
    return number_text(lab_cell_number(row, column));
  }
}

size_t lab_column_find(const char *id)
{
  size_t k = 0;
  while (k < lab_columns && strcmp(lab_column[k].id, id) != 0)
    k++;
  return k;
}

void lab_columns_all(size_t column[])
{
  for (size_t k = 0; k < lab_columns; k++)
    column[k] = k;
}

GString *lab_cells_to_csv(const GPtrArray *rows, const size_t column[], size_t n)
{
  GString *out = g_string_new(NULL);
  for (size_t k = 0; k < n; k++)
    bars_cell_write(out, lab_column[column[k]].id, k ? ',' : 0);
  g_string_append(out, "\r\n");
  for (guint i = 0; i < rows->len; i++) {
    for (size_t k = 0; k < n; k++) {
      g_autofree char *text = lab_cell_text(rows->pdata[i], column[k]);
      bars_cell_write(out, text, k ? ',' : 0);
    }
    g_string_append(out, "\r\n");
  }
  return out;
}

GString *lab_rows_to_csv(const GPtrArray *rows)
{
  size_t all[G_N_ELEMENTS(lab_column)];
  lab_columns_all(all);
  return lab_cells_to_csv(rows, all, lab_columns);
}

void lab_row_to_json(GString *out, const LabRow *row, const size_t column[], size_t n)
{
  g_autoptr(GString) line = json_begin();
  for (size_t k = 0; k < n; k++) {
    g_autofree char *text = lab_cell_text(row, column[k]);
    if (lab_column[column[k]].number)
      json_number(line, lab_column[column[k]].id, lab_cell_number(row, column[k]));
    else
      json_text(line, lab_column[column[k]].id, text);
  }
  json_end(line);
  g_string_append_len(out, line->str, (gssize)line->len);
}
