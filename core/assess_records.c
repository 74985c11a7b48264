/* assess_records.c - see assess_records.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_records.h"
#include "casefile/case_xml.h"

/* Why a record has no comparison, FAULT_NONE where it has one. */
static Fault answer_fault(const Assessment *a, const BreakCheck *check)
{
  if (check->recorded)
    return FAULT_NONE;
  for (size_t i = 0; i < a->n_connector; i++)
    if (a->connector[i].fault)
      return a->connector[i].fault;
  return a->fault ? a->fault : FAULT_DEGENERATE;
}

static Fault row_solve(Assessor *assessor, const Case *c, const AssessSettings *settings,
                       BreakRow *row)
{
  Assessment *a = NULL;
  Fault fault = assess(assessor, c, settings, &a);
  if (fault)
    return fault;
  row->check = break_check(a);
  row->fault = answer_fault(a, &row->check);
  if (row->check.recorded) {
    connector_name(c, row->check.expected, '/', row->expected);
    connector_name(c, row->check.broke, '/', row->broke);
  }
  assessment_unref(a);
  return FAULT_NONE;
}

Fault break_row_read(Assessor *assessor, const char *path, bool (*cancelled)(void *data),
                     void *data, BreakRow *row, BreakSum *sum)
{
  AssessSettings settings = assess_settings_default();
  settings.grade = ASSESS_LIVE; /* no advice is asked for */
  settings.figures_only = true;
  settings.cancelled = cancelled;
  settings.cancel_data = data;
  *row = (BreakRow){.path = g_strdup(path), .load_n = NAN, .years = NAN};
  Case c;
  case_init(&c);
  Fault fault = FAULT_NONE;
  if (case_load(&c, path, &row->error)) {
    row->number = g_strdup(c.number);
    row->kind = c.origin.kind;
    row->load_n = c.origin.load_n;
    row->years = c.origin.years;
    if (break_recorded(&c))
      fault = row_solve(assessor, &c, &settings, row);
  } else
    row->number = g_strdup("");
  case_clear(&c);
  if (fault == FAULT_MEMORY || fault == FAULT_CANCELLED)
    return fault;
  row->fault = fault ? fault : row->fault;
  sum->files++;
  sum->unread += row->error || row->fault;
  if (!row->error && !row->fault)
    break_tally(&sum->tally, &row->check, row->kind);
  return FAULT_NONE;
}

void break_row_clear(BreakRow *row)
{
  g_clear_pointer(&row->path, g_free);
  g_clear_pointer(&row->number, g_free);
  g_clear_error(&row->error);
}
