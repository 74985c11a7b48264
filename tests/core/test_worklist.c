/* test_worklist.c - the finishing list: what would harm is warned of, what a step would change.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess.h"
#include "case_files.h"
#include "sound_bridge.h"
#include "verdict/worklist.h"

static const WorkItem *item_find(const GArray *list, const char *id)
{
  for (guint i = 0; i < list->len; i++)
    if (strcmp(g_array_index(list, WorkItem, i).id, id) == 0)
      return &g_array_index(list, WorkItem, i);
  return NULL;
}

/* NULL: no warning. */
static const char *warning(Bridge *b, const char *step)
{
  g_autoptr(GArray) fired = rules_apply(&b->facts);
  g_autoptr(GArray) list = worklist_make(&b->facts, fired);
  const WorkItem *item = item_find(list, step);
  g_assert_nonnull(item);
  g_assert_true(item->reason && *item->reason && item->source && item->record);
  return item->warning.text;
}

static void polish(Bridge *b)
{
  for (size_t i = 0; i < 2; i++) {
    b->c.connector[i].finish[ZONE_ROOF] = b->c.connector[i].finish[ZONE_LEGS] = FINISH_HIGH_POLISH;
    b->c.connector[i].dye = CHECK_CLEAN;
  }
}

/* Wrong orders of the trade's sheet: 1 glaze over an unpolished gum side, 2 cutting after firing, 8
 * dye check after the glaze only. */
static void test_harm(void)
{
  Bridge b;
  bridge_init(&b);
  b.c.step = STEP_COAT;
  polish(&b);
  g_assert_null(warning(&b, "coat"));
  b.c.connector[1].finish[ZONE_LEGS] = FINISH_RUBBER_SMOOTH;
  g_assert_nonnull(strstr(warning(&b, "coat"), "not polished"));
  polish(&b);
  b.c.connector[1].dye = CHECK_UNKNOWN;
  g_assert_nonnull(strstr(warning(&b, "coat"), "no dye check yet"));
  b.c.connector[1].dye = CHECK_LINE;
  g_assert_nonnull(strstr(warning(&b, "coat"), "would hide it"));
  g_assert_nonnull(strstr(warning(&b, "polish-gum"), "not polished away"));
  g_assert_nonnull(strstr(warning(&b, "hand-over"), "Do not deliver"));
  polish(&b);
  g_assert_null(warning(&b, "polish-gum"));
  g_assert_null(warning(&b, "hand-over"));
  b.c.firings = b.c.firings_limit = 3;
  g_assert_nonnull(strstr(warning(&b, "coat"), "number of firings"));
  b.c.firings = 2;
  g_assert_null(warning(&b, "coat"));
  b.facts.connector[0].form.roof_radius.value = 0.2; /* to be drawn anew */
  g_assert_nonnull(strstr(warning(&b, "redraw"), "do not cut"));
  b.c.step = STEP_DRAWING;
  g_assert_null(warning(&b, "redraw"));
  g_assert_null(warning(&b, "fire"));
  SurfaceEvent cut = SURFACE_EVENT_NONE;
  cut.kind = EVENT_CUT;
  g_array_append_val(b.c.connector[1].event, cut);
  g_assert_nonnull(strstr(warning(&b, "fire"), "becomes a crack"));
  g_autoptr(GArray) fired = rules_apply(&b.facts);
  g_autoptr(GArray) list = worklist_make(&b.facts, fired);
  g_assert_cmpstr(item_find(list, "fire")->warning.place, ==, "46/47");
  b.c.step = STEP_ADJUSTING;
  cut.kind = EVENT_DISC;
  g_array_append_val(b.c.connector[0].event, cut);
  g_assert_null(warning(&b, "disc-mark"));
  b.facts.connector[0].rescue_area = 8;
  b.facts.connector[0].rescue_height = 4;
  g_assert_nonnull(strstr(warning(&b, "disc-mark"), "too little neck"));
  case_clear(&b.c);
}

/* Polishing a milled bridge: the margin that is told is the one that comes when it is recorded. */
static void test_change(void)
{
  Assessor *assessor = NULL;
  g_assert_cmpint((int)assessor_new(&assessor), ==, FAULT_NONE);
  Case c;
  demo_load(&c, "demo/QB-02.xml");
  AssessSettings settings = assess_settings_default();
  settings.grade = ASSESS_LIVE;
  Assessment *before = NULL, *after = NULL;
  g_assert_cmpint((int)assess(assessor, &c, &settings, &before), ==, FAULT_NONE);
  const WorkItem *polish = item_find(before->worklist, "polish-gum");
  g_assert_cmpstr(polish->place, ==, before->connector[before->weakest].name);
  g_assert_cmpfloat(polish->margin_after.value, >, 1.1 * polish->margin_before.value);
  for (size_t i = 0; i + 1 < c.n_unit; i++)
    c.connector[i].finish[ZONE_ROOF] = c.connector[i].finish[ZONE_LEGS] = FINISH_HIGH_POLISH;
  g_assert_cmpint((int)assess(assessor, &c, &settings, &after), ==, FAULT_NONE);
  g_assert_cmpfloat_with_epsilon(after->connector[before->weakest].margin.value,
                                 polish->margin_after.value, 1e-9);
  const WorkItem *done = item_find(after->worklist, "polish-gum");
  g_assert_true(isnan(done->margin_after.value)); /* nothing left to change */
  const WorkItem *coat = item_find(before->worklist, "coat");
  g_assert_cmpfloat(coat->margin_after.value, <, coat->margin_before.value); /* over scratches */
  g_assert_true(isnan(item_find(before->worklist, "fire")->margin_after.value));
  assessment_unref(before);
  assessment_unref(after);
  assessor_free(assessor);
  case_clear(&c);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/worklist/harm", test_harm);
  g_test_add_func("/worklist/change", test_change);
  return folder_run();
}
