/* report_json.c - see report_json.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report_json.h"
#include "csv_line.h"
#include "json_print.h"
#include "record/decision.h"
#include "record/digest.h"
#include <math.h>
#include <stdint.h>
#include <string.h>

#define PHRASE_ROOM 1024
#define CELLS 8

/* A step of the list under the same names in JSON and table. */
typedef struct {
  char act[PHRASE_ROOM], why[PHRASE_ROOM];
  const char *text[CELLS];
} ItemCells;

static const char *const item_name[CELLS] = {"id",       "state",   "act",      "why",
                                             "severity", "caution", "initials", "time"};

static void phrase_take(const Phrase *phrase, char text[PHRASE_ROOM])
{
  text[0] = '\0';
  if (phrase->text)
    phrase_format(phrase, NULL, ".", text, PHRASE_ROOM);
}

static void item_cells(const WorkItem *item, ItemCells *cells)
{
  static const char *const state[] = {
      [WORK_DONE] = "done", [WORK_NOW] = "now", [WORK_WAITS] = "waits"};
  phrase_take(&item->act, cells->act);
  phrase_take(&item->why, cells->why);
  const char *const text[CELLS] = {item->id,
                                   state[item->state],
                                   cells->act,
                                   cells->why,
                                   severity_name(item->severity),
                                   item->caution ? item->caution : "",
                                   item->tick ? item->tick->initials : "",
                                   item->tick ? item->tick->time : ""};
  memcpy(cells->text, text, sizeof text);
}

static void item_json(GString *line, const WorkItem *item)
{
  ItemCells cells;
  item_cells(item, &cells);
  json_open(line, NULL, '{');
  for (int k = 0; k < CELLS; k++)
    json_text(line, item_name[k], cells.text[k]);
  json_close(line, '}');
}

GString *report_list_csv(const Assessment *a)
{
  GString *rows = g_string_new(NULL);
  for (int k = 0; k < CELLS; k++)
    csv_text(rows, item_name[k]);
  csv_end(rows);
  for (guint i = 0; a->worklist && i < a->worklist->len; i++) {
    ItemCells cells;
    item_cells(&g_array_index(a->worklist, WorkItem, i), &cells);
    for (int k = 0; k < CELLS; k++)
      csv_text(rows, cells.text[k]);
    csv_end(rows);
  }
  return rows;
}

static void remark_json(GString *line, const Case *c, const Remark *remark)
{
  char name[12] = "";
  if (remark->connector != SIZE_MAX)
    connector_name(c, remark->connector, '-', name);
  json_open(line, NULL, '{');
  json_text(line, "connector", name);
  json_number(line, "x_mm", remark->at.x);
  json_number(line, "y_mm", remark->at.y);
  json_text(line, "text", remark->text);
  json_text(line, "settled", remark->settled == ANSWER_YES ? "yes" : "no");
  json_text(line, "role", remark->role);
  json_text(line, "initials", remark->initials);
  json_text(line, "time", remark->time);
  json_close(line, '}');
}

/* Empty while nothing was decided and it was not sent. */
static void decision_json(GString *line, const Case *c, const Standing *standing)
{
  json_open(line, "decision", '{');
  if (standing->entry < c->history->len) {
    const HistoryEntry *entry = c->history->pdata[standing->entry];
    json_text(line, "kind", entry_kind_id(entry->kind));
    json_text(line, "time", entry->time);
    json_text(line, "name", entry->name);
    json_text(line, "role", entry->role);
    json_text(line, "initials", entry->initials);
    json_text(line, "text", entry->text);
    json_text(line, "content", entry->content);
    json_text(line, "signed", signed_id(standing->signature));
  }
  json_close(line, '}');
}

Fault report_json(const Assessment *a, const PublicKeys *keys, GString **line)
{
  const Case *c = &a->c;
  char digest[65];
  Standing standing;
  *line = NULL;
  Fault fault = case_digest(c, digest);
  if (!fault)
    fault = case_standing(c, keys, &standing);
  if (fault)
    return fault;
  *line = json_begin();
  json_text(*line, "case", c->number);
  json_text(*line, "content", digest);
  json_text(*line, "standing", standing_id(standing.state));
  decision_json(*line, c, &standing);
  json_open(*line, "list", '[');
  for (guint i = 0; a->worklist && i < a->worklist->len; i++)
    item_json(*line, &g_array_index(a->worklist, WorkItem, i));
  json_close(*line, ']');
  json_open(*line, "remarks", '[');
  for (guint i = 0; i < c->remark->len; i++)
    remark_json(*line, c, c->remark->pdata[i]);
  json_close(*line, ']');
  standing_clear(&standing);
  return FAULT_NONE;
}
