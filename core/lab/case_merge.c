/* case_merge.c - see case_merge.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "lab/case_merge.h"
#include "casefile/case_words.h"
#include "casefile/variant.h"
#include "lab/merge_part.h"
#include <stdint.h>
#include <stdio.h>
#include <string.h>

/* ---- rows ---- */

static Fault row_add(GArray *rows, const Case *base, const Case *mine, const Case *theirs,
                     CasePart part, size_t connector)
{
  bool differs = false;
  MergeRow row = {.part = part, .connector = connector, .mine = true, .theirs = true};
  Fault fault = part_differs(mine, theirs, part, connector, &differs);
  if (fault || !differs)
    return fault;
  if (base && (!part_of_connector(part) || cases_same_teeth(base, mine))) {
    fault = part_differs(base, mine, part, connector, &row.mine);
    if (!fault)
      fault = part_differs(base, theirs, part, connector, &row.theirs);
  }
  row.choice = row.theirs ? MERGE_THEIRS : MERGE_MINE;
  if (!fault)
    g_array_append_val(rows, row);
  return fault;
}

/* Whether any of its connectors is another than in base. */
static bool connectors_changed(const Case *base, const Case *c)
{
  bool changed = false;
  for (size_t i = 0; i + 1 < c->n_unit && !changed; i++)
    changed = !case_alike(base, c, i);
  return changed;
}

/* Other teeth: units and connectors are one row, which both have changed as soon as one has
 * touched a connector that the other's units may not have. */
static Fault row_of_units(GArray *rows, const Case *base, const Case *mine, const Case *theirs)
{
  guint at = rows->len;
  Fault fault = row_add(rows, base, mine, theirs, PART_UNITS, SIZE_MAX);
  if (fault || rows->len == at)
    return fault;
  MergeRow *row = &g_array_index(rows, MergeRow, at);
  row->with_connectors = !cases_same_teeth(mine, theirs);
  if (base && row->with_connectors) {
    row->mine = row->mine || connectors_changed(base, mine);
    row->theirs = row->theirs || connectors_changed(base, theirs);
    row->choice = row->theirs ? MERGE_THEIRS : MERGE_MINE;
  }
  return FAULT_NONE;
}

Fault case_merge_rows(const Case *base, const Case *mine, const Case *theirs, GArray **rows)
{
  GArray *found = g_array_new(FALSE, FALSE, sizeof(MergeRow));
  size_t n = cases_same_teeth(mine, theirs) && mine->n_unit > 0 ? mine->n_unit - 1 : 0;
  Fault fault = FAULT_NONE;
  for (CasePart part = 0; part < PART_N && !fault; part++) {
    if (part == PART_UNITS)
      fault = row_of_units(found, base, mine, theirs);
    else if (part_of_connector(part))
      for (size_t i = 0; i < n && !fault; i++)
        fault = row_add(found, base, mine, theirs, part, i);
    else if (part != PART_LIST && part != PART_REMARKS)
      fault = row_add(found, base, mine, theirs, part, SIZE_MAX);
  }
  if (fault)
    g_array_unref(found);
  else
    *rows = found;
  return fault;
}

bool case_merge_asks(const GArray *rows)
{
  for (guint i = 0; i < rows->len; i++) {
    const MergeRow *row = &g_array_index(rows, MergeRow, i);
    if (row->mine && row->theirs)
      return true;
  }
  return false;
}

/* ---- what is united ---- */

static const Tick *tick_of(const GPtrArray *ticks, const char *step)
{
  for (guint i = 0; i < ticks->len; i++) {
    const Tick *tick = ticks->pdata[i];
    if (strcmp(tick->step, step) == 0)
      return tick;
  }
  return NULL;
}

static void tick_add(Case *c, const Tick *tick)
{
  Tick *copy = g_new(Tick, 1);
  *copy = (Tick){g_strdup(tick->step), g_strdup(tick->initials), g_strdup(tick->time)};
  g_ptr_array_add(c->tick, copy);
}

/* merged has theirs.  Opened again by either: open, so that nobody relies on work undone. */
static void ticks_unite(Case *merged, const Case *base, const Case *mine)
{
  for (guint i = merged->tick->len; base && i-- > 0;) {
    const Tick *tick = merged->tick->pdata[i];
    if (tick_of(base->tick, tick->step) && !tick_of(mine->tick, tick->step))
      g_ptr_array_remove_index(merged->tick, i);
  }
  for (guint i = 0; i < mine->tick->len; i++) {
    const Tick *tick = mine->tick->pdata[i];
    bool opened = base && tick_of(base->tick, tick->step);
    if (!opened && !tick_of(merged->tick, tick->step))
      tick_add(merged, tick);
  }
}

/* The same words by the same person at the same time. */
static Remark *remark_of(const GPtrArray *remarks, const Remark *like)
{
  for (guint i = 0; i < remarks->len; i++) {
    Remark *remark = remarks->pdata[i];
    if (strcmp(remark->text, like->text) == 0 && strcmp(remark->time, like->time) == 0 &&
        strcmp(remark->initials, like->initials) == 0 && strcmp(remark->role, like->role) == 0)
      return remark;
  }
  return NULL;
}

static void remark_add(Case *to, const Case *from, const Remark *remark)
{
  Remark *copy = remark_new();
  char **text[] = {&copy->time, &copy->role, &copy->initials, &copy->text};
  const char *const words[] = {remark->time, remark->role, remark->initials, remark->text};
  for (size_t i = 0; i < G_N_ELEMENTS(text); i++) {
    g_free(*text[i]);
    *text[i] = g_strdup(words[i]);
  }
  copy->settled = remark->settled;
  copy->connector = connector_in(to, from, remark->connector);
  if (copy->connector != SIZE_MAX || remark->connector == SIZE_MAX)
    copy->at = remark->at;
  g_ptr_array_add(to->remark, copy);
}

static void remarks_unite(Case *merged, const Case *base, const Case *mine, const Case *theirs)
{
  g_ptr_array_set_size(merged->remark, 0);
  for (guint i = 0; i < theirs->remark->len; i++)
    remark_add(merged, theirs, theirs->remark->pdata[i]);
  for (guint i = 0; i < mine->remark->len; i++) {
    const Remark *remark = mine->remark->pdata[i];
    Remark *there = remark_of(merged->remark, remark);
    const Remark *before = base ? remark_of(base->remark, remark) : NULL;
    if (!there)
      remark_add(merged, mine, remark);
    else if (!before || before->settled != remark->settled)
      there->settled = remark->settled ? remark->settled : there->settled;
  }
}

static bool entry_equal(const HistoryEntry *a, const HistoryEntry *b)
{
  return a->kind == b->kind && strcmp(a->time, b->time) == 0 && strcmp(a->role, b->role) == 0 &&
         strcmp(a->initials, b->initials) == 0 && strcmp(a->text, b->text) == 0 &&
         strcmp(a->before, b->before) == 0 && strcmp(a->after, b->after) == 0;
}

static bool entry_there(const GPtrArray *history, const HistoryEntry *entry)
{
  for (guint i = 0; i < history->len; i++)
    if (entry_equal(history->pdata[i], entry))
      return true;
  return false;
}

/* My entry behind theirs.  It gets a new place in the chain, so a decision does not hold any more:
 * it is told of, and to be taken anew. */
static Fault entry_behind(Case *merged, const HistoryEntry *entry)
{
  bool plain = entry->kind == ENTRY_NOTE || entry->kind == ENTRY_CHANGE;
  const Person by = {entry->name, entry->role, entry->initials};
  g_autofree char *text = g_strdup_printf("%s (%s)", entry->text, entry->time);
  return chain_append(merged, plain ? entry->kind : ENTRY_MERGE, &by, text, entry->before,
                      entry->after, NULL, NULL);
}

static Fault history_unite(Case *merged, const Case *mine)
{
  Fault fault = FAULT_NONE;
  for (guint i = 0; i < mine->history->len && !fault; i++)
    if (!entry_there(merged->history, mine->history->pdata[i]))
      fault = entry_behind(merged, mine->history->pdata[i]);
  return fault;
}

static bool variant_there(const GPtrArray *variants, const char *name)
{
  for (guint i = 0; i < variants->len; i++)
    if (strcmp(((const Variant *)variants->pdata[i])->name, name) == 0)
      return true;
  return false;
}

/* Mine behind theirs, as far as there is room. */
static Fault variants_unite(Case *merged, const Case *mine)
{
  Fault fault = FAULT_NONE;
  for (size_t i = 0; i + 1 < mine->n_unit; i++) {
    size_t at = connector_in(merged, mine, i);
    GPtrArray *there = at == SIZE_MAX ? NULL : merged->connector[at].variant;
    const GPtrArray *pinned = mine->connector[i].variant;
    for (guint k = 0; there && k < pinned->len && there->len < VARIANTS_MOST && !fault; k++) {
      const Variant *variant = pinned->pdata[k];
      if (variant_there(there, variant->name))
        continue;
      Variant *copy = variant_new(variant->name);
      fault = connector_copy(&copy->as, &variant->as);
      g_ptr_array_add(there, copy);
    }
  }
  return fault;
}

/* ---- put together ---- */

static Fault put_together(Case *merged, const Case *base, const Case *mine, const Case *theirs,
                          const GArray *rows)
{
  Fault fault = case_copy(merged, theirs);
  for (guint i = 0; i < rows->len && !fault; i++) {
    const MergeRow *row = &g_array_index(rows, MergeRow, i);
    if (row->choice == MERGE_MINE)
      fault = part_take(merged, mine, row->part, row->connector);
  }
  if (fault)
    return fault;
  if (cases_same_teeth(merged, mine))
    merged->trial = mine->trial; /* where I look */
  ticks_unite(merged, base, mine);
  remarks_unite(merged, base, mine, theirs);
  fault = variants_unite(merged, mine);
  return fault ? fault : history_unite(merged, mine);
}

/* Proposed outlines follow the sizes that were taken. */
static bool complete(Case *merged, char place[32], const char **reason)
{
  for (size_t i = 0; i + 1 < merged->n_unit; i++) {
    Side side = SIDE_GINGIVAL;
    Fault fault = connector_complete(merged, i, &side);
    if (!fault)
      continue;
    char between[12];
    connector_name(merged, i, '/', between);
    snprintf(place, 32, "%s %s", between, word_of(WORDS_SIDE, (int)side));
    *reason = fault_text(fault);
    return false;
  }
  return case_check(merged, place, reason);
}

bool case_merge(const Case *base, const Case *mine, const Case *theirs, const GArray *rows,
                Case *merged, char place[32], const char **reason)
{
  Case made;
  case_init(&made);
  *place = '\0';
  Fault fault = put_together(&made, base, mine, theirs, rows);
  *reason = fault_text(fault);
  if (!fault && complete(&made, place, reason)) {
    case_clear(merged);
    *merged = made;
    return true;
  }
  case_clear(&made);
  return false;
}

static void arrays_swap(GPtrArray **a, GPtrArray **b)
{
  GPtrArray *kept = *a;
  *a = *b;
  *b = kept;
}

Fault case_merge_additions(Case *c, const Case *base, const Case *theirs)
{
  Case united;
  case_init(&united);
  Fault fault = case_copy(&united, theirs);
  if (!fault) {
    ticks_unite(&united, base, c);
    remarks_unite(&united, base, c, theirs);
    fault = history_unite(&united, c);
  }
  for (guint i = 0; !fault && i < united.remark->len; i++) { /* c may have other teeth by now */
    Remark *remark = united.remark->pdata[i];
    const Remark *mine = remark_of(c->remark, remark);
    remark->connector = mine ? mine->connector : connector_in(c, theirs, remark->connector);
  }
  if (!fault) {
    arrays_swap(&c->tick, &united.tick);
    arrays_swap(&c->remark, &united.remark);
    arrays_swap(&c->history, &united.history);
  }
  case_clear(&united);
  return fault;
}

bool case_adds_only(const Case *base, const Case *theirs)
{
  Case grown;
  case_init(&grown);
  bool only = case_copy(&grown, base) == FAULT_NONE &&
              case_merge_additions(&grown, base, theirs) == FAULT_NONE;
  grown.trial = theirs->trial;
  only = only && case_equal(&grown, theirs);
  case_clear(&grown);
  return only;
}

Fault case_merge_note(Case *merged, const Person *by, const char *mine_sha256,
                      const char *theirs_sha256)
{
  g_autofree char *before = g_strdup_printf("SHA-256 %s", theirs_sha256),
                  *after = g_strdup_printf("SHA-256 %s", mine_sha256);
  return chain_append(merged, ENTRY_MERGE, by, "Merged with what was saved meanwhile", before,
                      after, NULL, NULL);
}
