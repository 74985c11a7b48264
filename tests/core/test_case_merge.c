/* test_case_merge.c - every part from either side, both sides, choices that do not go together.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "case_files.h"
#include "casefile/case_fields.h"
#include "casefile/load_case.h"
#include "casefile/photo.h"
#include "casefile/material_xml.h"
#include "casefile/variant.h"
#include "lab/case_merge.h"
#include "lab/merge_part.h"
#include <math.h>
#include <stdint.h>
#include <string.h>

static const Person anna = {(char *)"Anna Ast", (char *)"technician", (char *)"AA"};

/* One case three times. */
typedef struct {
  Case base, mine, theirs, merged;
  GArray *rows;
  char place[32];
  const char *reason;
} Three;

static void three_make(Three *t, const char *name)
{
  *t = (Three){0};
  demo_load(&t->base, name);
  demo_load(&t->mine, name);
  demo_load(&t->theirs, name);
  case_init(&t->merged);
}

static void three_clear(Three *t)
{
  case_clear(&t->base);
  case_clear(&t->mine);
  case_clear(&t->theirs);
  case_clear(&t->merged);
  g_clear_pointer(&t->rows, g_array_unref);
}

static void rows_make(Three *t, bool base_known)
{
  g_clear_pointer(&t->rows, g_array_unref);
  g_assert_cmpint(case_merge_rows(base_known ? &t->base : NULL, &t->mine, &t->theirs, &t->rows), ==,
                  FAULT_NONE);
}

static MergeRow *row_at(Three *t, guint i)
{
  g_assert_cmpuint(i, <, t->rows->len);
  return &g_array_index(t->rows, MergeRow, i);
}

static bool merge(Three *t)
{
  return case_merge(&t->base, &t->mine, &t->theirs, t->rows, &t->merged, t->place, &t->reason);
}

/* ---- every attribute of a case file belongs to one part ---- */

static void *member(void *object, const Attribute *row)
{
  return (char *)object + row->at;
}

static void attribute_change(void *object, const Attribute *row)
{
  if (row->kind == ATTRIBUTE_NUMBER) {
    double *value = member(object, row);
    *value = *value == (row->low + row->high) / 2 ? row->high : (row->low + row->high) / 2;
  } else if (row->kind == ATTRIBUTE_WORD) {
    int *value = member(object, row), next = *value;
    do
      next = (next + 1) % 64;
    while (!word_of(row->list, next));
    *value = next;
  } else if (row->kind == ATTRIBUTE_SET) {
    *(unsigned *)member(object, row) ^= 1;
  } else {
    char **text = member(object, row);
    g_free(*text);
    *text = g_strdup("another");
  }
}

/* Changed by me alone: one row, of this part; taken, it is my case again. */
static void change_check(Three *t, CasePart part, const char *what)
{
  rows_make(t, true);
  if (t->rows->len != 1)
    g_test_message("%s: %u rows", what, t->rows->len);
  g_assert_cmpuint(t->rows->len, ==, 1);
  const MergeRow *row = row_at(t, 0);
  g_assert_cmpint(row->part, ==, part);
  g_assert_true(row->mine && !row->theirs && row->choice == MERGE_MINE);
  g_assert_false(case_merge_asks(t->rows));
  g_assert_false(case_adds_only(&t->base, &t->mine));
  Case taken;
  case_init(&taken);
  g_assert_cmpint(case_copy(&taken, &t->theirs), ==, FAULT_NONE);
  g_assert_cmpint(part_take(&taken, &t->mine, part, row->connector), ==, FAULT_NONE);
  g_assert_true(case_equal(&taken, &t->mine));
  case_clear(&taken);
  /* the other way round it is theirs */
  GArray *rows;
  g_assert_cmpint(case_merge_rows(&t->base, &t->base, &t->mine, &rows), ==, FAULT_NONE);
  g_assert_cmpuint(rows->len, ==, 1);
  g_assert_cmpint(g_array_index(rows, MergeRow, 0).choice, ==, MERGE_THEIRS);
  g_assert_false(case_merge_asks(rows));
  g_array_unref(rows);
}

typedef enum { OF_CASE, OF_CONNECTOR, OF_ORIGIN, OF_UNIT } Owner;

static void element_check(const Element *element, Owner owner, CasePart part, CasePart step_part)
{
  for (size_t i = 0; i < element->n; i++) {
    const Attribute *row = &element->attribute[i];
    Three t;
    three_make(&t, "demo/QB-04.xml");
    void *object = owner == OF_CASE        ? (void *)&t.mine
                   : owner == OF_CONNECTOR ? (void *)&t.mine.connector[1]
                   : owner == OF_UNIT      ? (void *)&t.mine.unit[1]
                                           : (void *)&t.mine.origin;
    attribute_change(object, row);
    change_check(&t, strcmp(row->name, "step") == 0 ? step_part : part, row->name);
    three_clear(&t);
  }
}

static void test_every_attribute(void)
{
  element_check(&root_element, OF_CASE, PART_ORDER, PART_BRIDGE);
  element_check(&intake_element[0], OF_CASE, PART_ORDER, PART_ORDER);
  element_check(&intake_element[1], OF_CASE, PART_MATERIAL, PART_MATERIAL);
  for (int i = 0; i < BENCH_ELEMENTS; i++)
    element_check(&bench_element[i], OF_CASE, PART_BRIDGE, PART_BRIDGE);
  static const CasePart of[CONNECTOR_ELEMENTS] = {PART_CONNECTOR, PART_CONNECTOR, PART_CONNECTOR,
                                                  PART_FINISH, PART_FINISH};
  for (int i = 0; i < CONNECTOR_ELEMENTS; i++)
    element_check(&connector_element[i], OF_CONNECTOR, of[i], of[i]);
  element_check(&origin_element, OF_ORIGIN, PART_BREAK, PART_BREAK);
  element_check(&unit_element, OF_UNIT, PART_UNITS, PART_UNITS);
}

/* ---- and what is no attribute ---- */

static void outline_move(Outline *outline, double by)
{
  for (size_t i = 0; i < outline->n; i++)
    outline->knot[i].at.y += by;
}

static void change_number(Case *c)
{
  g_free(c->number);
  c->number = g_strdup("QB-99");
}
static void change_bite(Case *c)
{
  load_case_init(&c->load_case[c->n_load_case++]);
}
static void change_card(Case *c)
{
  c->material = *material_find("5y");
}
static void change_teeth(Case *c)
{
  c->n_unit--;
}
static void change_line(Case *c)
{
  c->connector[1].drawn[SIDE_GINGIVAL] = true;
  outline_move(&c->connector[1].side[SIDE_GINGIVAL], 0.02);
}
static void change_back_to_proposal(Case *c)
{
  c->connector[0].drawn[SIDE_GINGIVAL] = !c->connector[0].drawn[SIDE_GINGIVAL];
}
static void change_section(Case *c)
{
  g_assert_cmpint(outline_copy(&c->connector[1].section, &c->connector[1].side[0]), ==, FAULT_NONE);
}
static void change_room(Case *c)
{
  g_assert_cmpint(outline_copy(&c->connector[1].room, &c->connector[1].side[0]), ==, FAULT_NONE);
}
static void change_event(Case *c)
{
  SurfaceEvent event = SURFACE_EVENT_NONE;
  g_array_append_val(c->connector[0].event, event);
}
static void change_photo(Case *c)
{
  g_free(c->connector[0].photo.file);
  c->connector[0].photo.file = g_strdup("photos/a.jpg");
  c->connector[0].photo.plane.width = c->connector[0].photo.plane.height = 100;
}
static void change_place_of_break(Case *c)
{
  c->origin.connector = c->origin.connector == 0 ? 1 : 0;
}

static const struct {
  void (*change)(Case *);
  CasePart part;
  const char *name;
} other_change[] = {{change_number, PART_ORDER, "number"},
                    {change_bite, PART_ORDER, "bite"},
                    {change_card, PART_MATERIAL, "card"},
                    {change_teeth, PART_UNITS, "teeth"},
                    {change_line, PART_CONNECTOR, "line"},
                    {change_back_to_proposal, PART_CONNECTOR, "proposal"},
                    {change_section, PART_CONNECTOR, "section"},
                    {change_room, PART_CONNECTOR, "room"},
                    {change_event, PART_FINISH, "event"},
                    {change_photo, PART_PHOTO, "photo"},
                    {change_place_of_break, PART_BREAK, "place of the break"}};

static void test_every_part(void)
{
  for (size_t i = 0; i < G_N_ELEMENTS(other_change); i++) {
    Three t;
    three_make(&t, "demo/QB-04.xml");
    other_change[i].change(&t.mine);
    change_check(&t, other_change[i].part, other_change[i].name);
    three_clear(&t);
  }
}

/* Mine alone and theirs alone, all at once: each its own, nobody is asked. */
static void test_both_sides(void)
{
  Three t;
  three_make(&t, "demo/QB-04.xml");
  change_card(&t.mine);
  change_line(&t.mine);
  change_number(&t.theirs);
  change_event(&t.theirs);
  change_photo(&t.theirs);
  rows_make(&t, true);
  g_assert_cmpuint(t.rows->len, ==, 5);
  g_assert_false(case_merge_asks(t.rows));
  g_assert_true(merge(&t));
  Case both;
  demo_load(&both, "demo/QB-04.xml");
  change_card(&both);
  change_line(&both);
  change_number(&both);
  change_event(&both);
  change_photo(&both);
  g_assert_true(case_equal(&t.merged, &both));
  case_clear(&both);
  three_clear(&t);
}

/* The same part on both sides: theirs until somebody chooses; equal changes are none. */
static void test_conflict(void)
{
  Three t;
  three_make(&t, "demo/QB-04.xml");
  t.mine.order_load_n = 500;
  t.theirs.order_load_n = 700;
  change_line(&t.mine);
  change_line(&t.theirs);
  change_event(&t.mine);
  rows_make(&t, true);
  g_assert_cmpuint(t.rows->len, ==, 2);
  MergeRow *row = row_at(&t, 0);
  g_assert_true(row->part == PART_ORDER && row->mine && row->theirs);
  g_assert_true(case_merge_asks(t.rows));
  g_assert_true(merge(&t));
  g_assert_cmpfloat(t.merged.order_load_n, ==, 700);
  g_assert_cmpuint(t.merged.connector[0].event->len, ==, t.base.connector[0].event->len + 1);
  row->choice = MERGE_MINE;
  g_assert_true(merge(&t));
  g_assert_cmpfloat(t.merged.order_load_n, ==, 500);
  /* where the beginning is not known, every difference is a question */
  rows_make(&t, false);
  g_assert_cmpuint(t.rows->len, ==, 2);
  g_assert_true(row_at(&t, 0)->mine && row_at(&t, 1)->theirs);
  three_clear(&t);
}

/* Units of one side, outlines of the other. */
static void test_impossible(void)
{
  Three t;
  three_make(&t, "demo/QB-04.xml");
  t.mine.unit[0].height = t.mine.unit[1].height = 2.5;
  change_line(&t.theirs);
  rows_make(&t, true);
  g_assert_cmpuint(t.rows->len, ==, 2);
  g_assert_true(case_merge(&t.base, &t.mine, &t.theirs, t.rows, &t.merged, t.place, &t.reason) ==
                false);
  g_test_message("%s: %s", t.place, t.reason);
  g_assert_true(*t.place && t.reason && *t.reason);
  g_assert_cmpuint(t.merged.n_unit, ==, 0); /* untouched */
  row_at(&t, 0)->choice = MERGE_THEIRS;
  g_assert_true(merge(&t));
  three_clear(&t);
}

/* Another number of units goes with its connectors; a remark finds its teeth again. */
static void test_other_teeth(void)
{
  Three t;
  three_make(&t, "demo/QB-04.xml");
  size_t last = t.base.n_unit - 2;
  Remark *remark = remark_new();
  remark->connector = last;
  remark->at = point(0.5, 1);
  g_free(remark->text);
  remark->text = g_strdup("too thin");
  g_ptr_array_add(t.theirs.remark, remark);
  change_line(&t.theirs);
  t.mine.n_unit--;
  t.mine.unit[t.mine.n_unit - 1].role = ROLE_ABUTMENT;
  rows_make(&t, true);
  g_assert_cmpuint(t.rows->len, ==, 1);
  MergeRow *row = row_at(&t, 0);
  g_assert_true(row->part == PART_UNITS && row->with_connectors && row->mine && row->theirs);
  g_assert_true(merge(&t));
  g_assert_true(case_equal(&t.merged, &t.theirs));
  row->choice = MERGE_MINE;
  g_assert_true(merge(&t));
  g_assert_cmpuint(t.merged.n_unit, ==, t.mine.n_unit);
  const Remark *kept = t.merged.remark->pdata[t.merged.remark->len - 1];
  g_assert_cmpstr(kept->text, ==, "too thin");
  g_assert_true(kept->connector == SIZE_MAX && isnan(kept->at.x));
  three_clear(&t);
}

/* ---- united ---- */

static void tick_put(Case *c, const char *step, const char *initials)
{
  Tick *tick = g_new(Tick, 1);
  *tick = (Tick){g_strdup(step), g_strdup(initials), g_strdup("2026-03-02T10:20:00Z")};
  g_ptr_array_add(c->tick, tick);
}

static void remark_put(Case *c, const char *text, YesNo settled)
{
  Remark *remark = remark_new();
  g_free(remark->text);
  remark->text = g_strdup(text);
  remark->settled = settled;
  g_ptr_array_add(c->remark, remark);
}

static void entry_put(Case *c, EntryKind kind, const char *text)
{
  HistoryEntry *entry = history_entry_new();
  entry->kind = kind;
  g_free(entry->text);
  g_free(entry->time);
  g_free(entry->chain);
  entry->text = g_strdup(text);
  entry->time = g_strdup("2026-03-02T10:20:00Z");
  entry->chain = g_strdup("abc");
  g_ptr_array_add(c->history, entry);
}

static void test_united(void)
{
  Three t;
  three_make(&t, "demo/QB-04.xml");
  Case *all[] = {&t.base, &t.mine, &t.theirs};
  for (int i = 0; i < 3; i++) {
    g_ptr_array_set_size(all[i]->tick, 0);
    g_ptr_array_set_size(all[i]->history, 0);
    tick_put(all[i], "both", "AA");
    if (i != 1)
      tick_put(all[i], "opened by me", "AA");
    if (i != 2)
      tick_put(all[i], "opened by them", "AA");
    remark_put(all[i], "old", i == 1 ? ANSWER_YES : ANSWER_UNKNOWN);
    entry_put(all[i], ENTRY_NOTE, "begun");
  }
  tick_put(&t.mine, "mine", "AA");
  tick_put(&t.theirs, "theirs", "BB");
  remark_put(&t.mine, "mine", ANSWER_UNKNOWN);
  remark_put(&t.theirs, "theirs", ANSWER_UNKNOWN);
  entry_put(&t.mine, ENTRY_CHANGE, "drawn by me");
  entry_put(&t.mine, ENTRY_PASS, "passed by me");
  entry_put(&t.theirs, ENTRY_CHANGE, "drawn by them");
  rows_make(&t, true);
  g_assert_cmpuint(t.rows->len, ==, 0);
  g_assert_true(merge(&t));
  g_autoptr(GString) ticks = g_string_new(NULL);
  for (guint i = 0; i < t.merged.tick->len; i++)
    g_string_append_printf(ticks, "%s;", ((Tick *)t.merged.tick->pdata[i])->step);
  g_assert_cmpstr(ticks->str, ==, "both;theirs;mine;");
  g_assert_cmpuint(t.merged.remark->len, ==, 3);
  const Remark *old = t.merged.remark->pdata[0];
  g_assert_cmpint(old->settled, ==, ANSWER_YES);
  g_assert_cmpstr(((Remark *)t.merged.remark->pdata[1])->text, ==, "theirs");
  g_assert_cmpstr(((Remark *)t.merged.remark->pdata[2])->text, ==, "mine");
  /* theirs untouched, mine behind it in new places of the chain; my decision is told, not taken */
  g_assert_cmpuint(t.merged.history->len, ==, 4);
  const HistoryEntry *theirs = t.merged.history->pdata[1], *mine = t.merged.history->pdata[2],
                     *decision = t.merged.history->pdata[3];
  g_assert_cmpstr(theirs->text, ==, "drawn by them");
  g_assert_cmpstr(theirs->chain, ==, "abc");
  g_assert_cmpint(mine->kind, ==, ENTRY_CHANGE);
  g_assert_nonnull(strstr(mine->text, "drawn by me"));
  g_assert_nonnull(strstr(mine->text, "2026-03-02T10:20:00Z"));
  g_assert_cmpstr(mine->chain, !=, "abc");
  g_assert_cmpint(decision->kind, ==, ENTRY_MERGE);
  g_assert_cmpint(case_merge_note(&t.merged, &anna, "m1", "t1"), ==, FAULT_NONE);
  const HistoryEntry *note = t.merged.history->pdata[4];
  g_assert_true(note->kind == ENTRY_MERGE && strstr(note->before, "t1") &&
                strstr(note->after, "m1"));
  g_assert_cmpstr(note->initials, ==, "AA");
  g_assert_cmpint(chain_check(&t.merged).state, ==,
                  CHAIN_BROKEN); /* "abc" is no digest: as it was */
  g_assert_true(chain_fits(&t.merged, 2) && chain_fits(&t.merged, 4));
  /* merged once more, nothing comes twice */
  g_assert_cmpint(case_copy(&t.theirs, &t.merged), ==, FAULT_NONE);
  g_assert_cmpint(case_copy(&t.mine, &t.merged), ==, FAULT_NONE);
  rows_make(&t, true);
  g_assert_true(merge(&t));
  g_assert_true(case_equal(&t.merged, &t.theirs));
  three_clear(&t);
}

/* What others added goes into a case that is worked on, and into its steps of undo. */
static void test_additions(void)
{
  Three t;
  three_make(&t, "demo/QB-04.xml");
  g_assert_true(case_adds_only(&t.base, &t.theirs));
  remark_put(&t.theirs, "look here", ANSWER_UNKNOWN);
  ((Remark *)t.theirs.remark->pdata[t.theirs.remark->len - 1])->connector = 1;
  entry_put(&t.theirs, ENTRY_NOTE, "told");
  tick_put(&t.theirs, "a step", "BB");
  t.theirs.trial.x = 3;
  g_assert_true(case_adds_only(&t.base, &t.theirs));
  change_line(&t.mine);
  entry_put(&t.mine, ENTRY_NOTE, "mine");
  guint entries = t.base.history->len;
  g_assert_cmpint(case_merge_additions(&t.mine, &t.base, &t.theirs), ==, FAULT_NONE);
  g_assert_cmpuint(t.mine.history->len, ==, entries + 2);
  const Remark *remark = t.mine.remark->pdata[t.mine.remark->len - 1];
  g_assert_cmpstr(remark->text, ==, "look here");
  g_assert_cmpuint(remark->connector, ==, 1);
  rows_make(&t, true);
  g_assert_cmpuint(t.rows->len, ==, 1);
  g_assert_cmpint(row_at(&t, 0)->part, ==, PART_CONNECTOR);
  change_event(&t.theirs);
  g_assert_false(case_adds_only(&t.base, &t.theirs));
  three_clear(&t);
}

/* Two whole chains from one beginning make one whole chain. */
static void test_chain(void)
{
  Three t;
  three_make(&t, "demo/QB-04.xml");
  const Person bert = {(char *)"Bert Bo", (char *)"supervisor", (char *)"BB"};
  Case *all[] = {&t.base, &t.mine, &t.theirs};
  g_assert_cmpint(chain_append(&t.base, ENTRY_NOTE, &anna, "begun", NULL, NULL, NULL, NULL), ==,
                  FAULT_NONE);
  for (int i = 1; i < 3; i++)
    g_assert_cmpint(case_copy(all[i], &t.base), ==, FAULT_NONE);
  change_line(&t.mine);
  g_assert_cmpint(chain_append(&t.mine, ENTRY_CHANGE, &anna, "line", NULL, NULL, NULL, NULL), ==,
                  FAULT_NONE);
  g_assert_cmpint(chain_append(&t.theirs, ENTRY_PASS, &bert, "good", NULL, NULL, "1.00 1.25", NULL),
                  ==, FAULT_NONE);
  rows_make(&t, true);
  g_assert_true(merge(&t));
  g_assert_cmpint(case_merge_note(&t.merged, &anna, "m", "t"), ==, FAULT_NONE);
  guint n = t.base.history->len;
  g_assert_cmpuint(t.merged.history->len, ==, n + 3);
  g_assert_cmpint(((HistoryEntry *)t.merged.history->pdata[n])->kind, ==, ENTRY_PASS);
  g_assert_cmpint(chain_check(&t.merged).state, ==, CHAIN_WHOLE);
  three_clear(&t);
}

static void test_variants(void)
{
  Three t;
  three_make(&t, "demo/QB-04.xml");
  static const char *const mine[] = {"a", "b", "c"}, *const theirs[] = {"b", "d"};
  for (size_t i = 0; i < G_N_ELEMENTS(mine); i++)
    g_assert_cmpint(variant_pin(&t.mine.connector[0], mine[i]), ==, FAULT_NONE);
  for (size_t i = 0; i < G_N_ELEMENTS(theirs); i++)
    g_assert_cmpint(variant_pin(&t.theirs.connector[0], theirs[i]), ==, FAULT_NONE);
  rows_make(&t, true);
  g_assert_cmpuint(t.rows->len, ==, 0);
  g_assert_true(merge(&t));
  g_assert_cmpuint(t.merged.connector[0].variant->len, ==, 4);
  three_clear(&t);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/case_merge/every attribute", test_every_attribute);
  g_test_add_func("/case_merge/every part", test_every_part);
  g_test_add_func("/case_merge/both sides", test_both_sides);
  g_test_add_func("/case_merge/conflict", test_conflict);
  g_test_add_func("/case_merge/impossible", test_impossible);
  g_test_add_func("/case_merge/other teeth", test_other_teeth);
  g_test_add_func("/case_merge/united", test_united);
  g_test_add_func("/case_merge/additions", test_additions);
  g_test_add_func("/case_merge/chain", test_chain);
  g_test_add_func("/case_merge/variants", test_variants);
  return folder_run();
}
