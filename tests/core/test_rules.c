/* test_rules.c - the rule table, its order, the verdict and the finishing list, on the invented
 * demo cases. SPDX-License-Identifier: GPL-3.0-or-later */
#include "mechanics/section_shape.h"
#include "sound_bridge.h"
#include "verdict/verdict.h"
#include "verdict/worklist.h"
#include <math.h>
#include <string.h>

static void test_sound(void)
{
  Bridge b;
  bridge_init(&b);
  g_autoptr(GArray) fired = rules_apply(&b.facts);
  for (guint i = 0; i < fired->len; i++)
    g_test_message("%s", g_array_index(fired, FiredRule, i).rule->id);
  g_assert_cmpuint(fired->len, ==, 0);
  case_clear(&b.c);
}

/* Limits as the trade's sheet has them (review values, from memory). */
static void test_thresholds(void)
{
  Bridge b;
  bridge_init(&b);
  Form *form = &b.facts.connector[1].form;
  const struct {
    double *value;
    double bad, edge;
    const char *id;
  } row[] = {
      {&form->roof_radius.value, 0.29, 0.30, "roof-too-sharp"},
      {&form->roof_radius.value, 0.44, 0.45, "roof-small"},
      {&b.facts.connector[1].neck_area, 8.9, 9.0, "neck-area-short"},
      {&form->neck_height, 2.9, 3.0, "neck-height-short"},
      {&form->gap_circle, 1.29, 1.30, "gap-too-small"},
      {&form->gap_circle, 0.69, 0.70, "gap-no-brush"},
      {&form->groove_radius, 0.29, 0.30, "groove-sharp"},
      {&form->leg_lean_left_deg, 22, 21, "side-difference"},
      {&form->roof_radius.value, 0.38, 0.40, "cutter-cannot-reach"},
      {&b.facts.connector[1].carries_n, 599, 600, "load-above-level"},
      {&b.c.free_height, 4.5, 4.6, "height-not-there"},
      {&b.c.arch_bow, 3.1, 3.0, "arch-bow"},
      {&b.c.enlargement, 1.0, 1.2, "enlargement-missing"},
      {&b.c.enlargement_label, 1.24, 1.25, "enlargement-missing"}, /* of another blank */
      {&b.c.connector[1].wall, 0.49, 0.50, "wall-thin"},
      {&b.c.connector[1].pin_distance, 1.4, 1.5, "sprue-on-neck"},
  };
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    double good = *row[i].value;
    *row[i].value = row[i].bad;
    g_test_message("%s at %g", row[i].id, row[i].bad);
    g_assert_true(fires(&b, row[i].id));
    *row[i].value = row[i].edge;
    g_assert_false(fires(&b, row[i].id));
    *row[i].value = good;
  }
  case_clear(&b.c);
}

static void test_bench(void)
{
  Bridge b;
  bridge_init(&b);
  Connector *k = &b.c.connector[0];
  b.c.step = STEP_FINISHING;
  g_free(b.c.firing_record);
  b.c.firing_record = g_strdup("programme 3");
  g_assert_false(fires(&b, "disc-mark"));
  k->finish[ZONE_ROOF] = FINISH_DISC_CUT;
  g_assert_true(fires(&b, "disc-mark"));
  k->finish[ZONE_ROOF] = FINISH_COARSE_GROUND;
  g_assert_true(fires(&b, "coarse-on-pulled-side"));
  b.c.step = STEP_SOFT; /* finish rules wait for the firing */
  g_assert_false(fires(&b, "coarse-on-pulled-side"));
  k->finish[ZONE_ROOF] = FINISH_GLAZED_OVER_GROUND;
  g_assert_true(fires(&b, "glaze-over-ground"));
  k->finish[ZONE_ROOF] = FINISH_HIGH_POLISH;
  k->dye = CHECK_LINE;
  g_assert_true(fires(&b, "crack-seen"));
  b.c.step = STEP_SIGNING;
  k->dye = CHECK_UNKNOWN;
  g_assert_true(fires(&b, "dye-check-missing"));
  k->measured_height = 3.9;
  g_assert_true(fires(&b, "measured-below-drawing"));
  k->measured_height = NAN;
  b.facts.connector[0].rescue_height = 2.9;
  b.facts.connector[0].rescue_area = 8;
  g_assert_true(fires(&b, "rescue-too-thin"));
  b.c.material.iso_class =
      3; /* a molar in the bridge asks for class 4 (ISO 6872:2015, from memory) */
  g_assert_true(fires(&b, "material-below-span"));
  case_clear(&b.c);
}

/* Facts that are stated with a word: silent while not recorded, and when all is well. */
static void test_words(void)
{
  Bridge b;
  bridge_init(&b);
  Connector *k = &b.c.connector[1];
  const struct {
    unsigned *value, bad, good;
    JobStep step;
    const char *id;
  } row[] = {
      {&k->weaker_layer, ANSWER_YES, ANSWER_NO, STEP_INTAKE, "clear-layer-at-neck"},
      {&b.c.grinding_habit, ANSWER_UNKNOWN, ANSWER_YES, STEP_DRAWING, "grinding-not-asked"},
      {&k->brush_passes, ANSWER_NO, ANSWER_YES, STEP_COAT, "coat-closes-gap"},
      {&k->polish_steps, 1u << POLISH_COARSE | 1u << POLISH_GLOSS, 15, STEP_COAT,
       "polish-step-skipped"},
      {&b.c.unit[1].saddle, FINISH_GLAZED_OVER_GROUND, FINISH_GLAZED_OVER_POLISH, STEP_COAT,
       "saddle-glazed-over-ground"},
      {&b.c.unit[1].saddle, FINISH_FINE_GROUND, FINISH_HIGH_POLISH, STEP_COAT, "saddle-unfinished"},
      {&k->dye, CHECK_UNKNOWN, CHECK_CLEAN, STEP_LAST_LOOK, "dye-check-missing"},
      {&b.c.origin.zone, 0, ZONE_ROOF + 1, STEP_BROKEN, "origin-not-recorded"},
  };
  b.c.connector[0].dye = CHECK_CLEAN;
  k->finish[ZONE_ROOF] = FINISH_HIGH_POLISH;
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    g_test_message("%s", row[i].id);
    b.c.step = row[i].step;
    *row[i].value = row[i].bad;
    g_assert_true(fires(&b, row[i].id));
    *row[i].value = row[i].good;
    g_assert_false(fires(&b, row[i].id));
  }
  k->polish_steps = 0; /* not recorded */
  g_assert_false(fires(&b, "polish-step-skipped"));
  k->polish_steps = 1;
  k->finish[ZONE_ROOF] = FINISH_RUBBER_SMOOTH; /* no gloss claimed */
  g_assert_false(fires(&b, "polish-step-skipped"));
  case_clear(&b.c);
}

static void test_firing(void)
{
  Bridge b;
  bridge_init(&b);
  b.c.thickest = 8, b.c.thickest_fast = 6;
  g_assert_false(fires(&b, "fast-firing-not-allowed"));
  b.c.fast_firing = ANSWER_YES;
  g_assert_true(fires(&b, "fast-firing-not-allowed"));
  b.c.thickest = 6;
  g_assert_false(fires(&b, "fast-firing-not-allowed"));
  b.c.thickest = NAN;
  g_assert_false(fires(&b, "fast-firing-not-allowed"));
  b.c.unit[3] = b.c.unit[2]; /* four units are long */
  b.c.n_unit = 4;
  g_assert_true(fires(&b, "fast-firing-not-allowed"));
  case_clear(&b.c);
}

/* A knife cut counts while the piece is soft; a disc only ever leaves a disc mark. */
static void test_marks(void)
{
  Bridge b;
  bridge_init(&b);
  SurfaceEvent event = {EVENT_CUT, 0.2, 0.1, NAN, ANSWER_UNKNOWN, 0, ANSWER_UNKNOWN};
  g_array_append_val(b.c.connector[0].event, event);
  g_assert_false(fires(&b, "soft-knife-cut"));
  b.c.step = STEP_SOFT;
  g_assert_true(fires(&b, "soft-knife-cut"));
  g_assert_false(fires(&b, "disc-mark"));
  g_array_index(b.c.connector[0].event, SurfaceEvent, 0).kind = EVENT_DISC;
  g_assert_false(fires(&b, "soft-knife-cut"));
  g_assert_true(fires(&b, "disc-mark"));
  case_clear(&b.c);
}

static void test_cut_back(void)
{
  Bridge b;
  bridge_init(&b);
  b.c.connector[0].cut_back = 0.5;
  b.facts.connector[0].cut_back_area = 9.0;
  g_assert_false(fires(&b, "cut-back-neck-short"));
  b.facts.connector[0].cut_back_area = 8.9;
  g_assert_true(fires(&b, "cut-back-neck-short"));
  b.c.connector[0].cut_back = NAN;
  g_assert_false(fires(&b, "cut-back-neck-short"));
  case_clear(&b.c);
}

static void test_handover(void)
{
  Bridge b;
  bridge_init(&b);
  g_assert_false(fires(&b, "dentist-note-missing"));
  b.c.step = STEP_HANDOVER;
  g_assert_true(fires(&b, "dentist-note-missing"));
  g_free(b.c.dentist_note);
  b.c.dentist_note = g_strdup("brush size 4; polish after grinding");
  g_assert_false(fires(&b, "dentist-note-missing"));
  case_clear(&b.c);
}

/* A change of 0.05 mm or less is the same drawing; other knots on the same line are none at all. */
static void test_approval(void)
{
  Bridge b;
  bridge_init(&b);
  g_assert_cmpint((int)case_complete(&b.c), ==, FAULT_NONE);
  g_assert_false(fires(&b, "changed-after-approval"));
  g_assert_cmpint((int)case_approve(&b.c), ==, FAULT_NONE);
  g_assert_false(fires(&b, "changed-after-approval"));
  Outline *gum = &b.c.connector[0].side[SIDE_GINGIVAL];
  size_t knot;
  g_assert_cmpint((int)outline_split(gum, 2.385, &knot), ==, FAULT_NONE);
  g_assert_false(fires(&b, "changed-after-approval"));
  outline_transform(gum, (const double[6]){1, 0, 0, 1, 0, -0.04});
  g_assert_cmpfloat_with_epsilon(connector_changed(&b.c.connector[0], 10), 0.04, 0.002);
  g_assert_false(fires(&b, "changed-after-approval"));
  outline_transform(gum, (const double[6]){1, 0, 0, 1, 0, -0.02});
  g_assert_true(fires(&b, "changed-after-approval"));
  g_assert_true(isnan(connector_changed(&b.c.connector[5], 10)));
  case_clear(&b.c);
}

/* The outlines stay; only what rounds the body between them changes.  Exact: the corner of a
 * superellipse |z/w|^n + |y/a|^n = 1 lies at 2^(-1/n) (w, a), its normal along (a, w).  Between two
 * roundnesses it goes along (w, a): all of that way is the most, its part along the normal the
 * least. */
static void test_approval_rounding(void)
{
  Bridge b;
  bridge_init(&b);
  Connector *k = &b.c.connector[0];
  g_assert_cmpint((int)case_complete(&b.c), ==, FAULT_NONE);
  g_assert_cmpint((int)case_approve(&b.c), ==, FAULT_NONE);
  g_assert_cmpfloat(connector_changed(k, 10), ==, 0);
  Form form;
  g_assert_cmpint((int)form_neck_read(&k->side[SIDE_GINGIVAL], &k->side[SIDE_OCCLUSAL],
                                      &k->side[SIDE_BUCCAL], &k->side[SIDE_LINGUAL], &form, NULL),
                  ==, FAULT_NONE);
  double a = form.neck_height / 2, w = form.neck_buccal, both = hypot(a, w);
  double corner = pow(2, -1 / 3.0) - pow(2, -1 / 2.0);
  k->roundness_neck = 3;
  double far = connector_changed(k, 10);
  g_test_message("roundness 2 to 3: %.3f mm of %.3f to %.3f", far, corner * 2 * a * w / both,
                 corner * both);
  g_assert_cmpfloat(far, >, corner * 2 * a * w / both - 0.005);
  g_assert_cmpfloat(far, <, corner * both + 0.005);
  g_assert_true(fires(&b, "changed-after-approval"));
  /* drawn as the round section that was seen: the same body */
  k->roundness_neck = 2;
  NeckHalves halves = {a, w, form.neck_lingual};
  g_assert_cmpint((int)section_from_roundness(2, halves, &k->section), ==, FAULT_NONE);
  g_assert_cmpfloat(connector_changed(k, 10), <, 0.001);
  g_assert_false(fires(&b, "changed-after-approval"));
  g_assert_cmpint((int)case_approve(&b.c), ==, FAULT_NONE);
  k->section.knot[1].at.x += 0.2;
  g_assert_cmpfloat(connector_changed(k, 10), >, 0.05);
  g_assert_true(fires(&b, "changed-after-approval"));
  outline_clear(&k->section); /* seen drawn, now by roundness: the same again */
  g_assert_cmpfloat(connector_changed(k, 10), <, 0.001);
  k->roundness_body = 3.9;
  g_assert_cmpfloat(connector_changed(k, 10), >, 0.005);
  k->roundness_body = 2.5;
  g_assert_true(fires(&b, "changed-after-approval"));
  /* what old files keep of it */
  k->approved_roundness_neck = k->approved_roundness_body = NAN;
  g_assert_false(fires(&b, "changed-after-approval"));
  case_clear(&b.c);
}

static void test_order(void)
{
  Bridge b;
  bridge_init(&b);
  b.facts.connector[0].form.roof_radius.value = 0.2;
  b.facts.connector[1].form.roof_radius.value = 0.2;
  b.facts.connector[1].peak_mpa = 900;
  b.facts.connector[1].form.leg_lean_left_deg = 40;
  b.c.material.iso_class = 3;
  g_autoptr(GArray) fired = rules_apply(&b.facts);
  g_assert_cmpuint(fired->len, >=, 4);
  g_assert_cmpstr(g_array_index(fired, FiredRule, 0).rule->id, ==,
                  "material-below-span"); /* stop of the earliest step */
  g_assert_cmpuint(g_array_index(fired, FiredRule, 1).connector, ==,
                   1); /* then the hardest pulled neck */
  for (guint i = 1; i < fired->len; i++)
    g_assert_cmpint((int)g_array_index(fired, FiredRule, i - 1).rule->severity, <=,
                    (int)g_array_index(fired, FiredRule, i).rule->severity);
  case_clear(&b.c);
}

static void test_texts(void)
{
  Bridge b;
  bridge_init(&b);
  b.facts.connector[1].form.roof_radius.value = 0.2;
  g_autoptr(GArray) fired = rules_apply(&b.facts);
  const FiredRule *first = &g_array_index(fired, FiredRule, 0);
  char text[200];
  Phrase phrase = fired_rule_phrase(first, &b.facts, first->rule->what);
  phrase_format(&phrase, NULL, ",", text, sizeof text);
  g_assert_cmpstr(text, ==, "Roof too sharp: 0,20 mm, needs 0,30");
  g_assert_cmpstr(phrase.place, ==, "46/47");
  g_assert_null(rule_find("no-such-rule"));
  g_assert_nonnull(rule_find("crack-seen"));
  for (int k = 1; k <= 8; k++)
    g_assert_nonnull(caution_text(k));
  g_assert_null(caution_text(9));
  case_clear(&b.c);
}

/* Needs of a span: the trade's table. */
static void test_needs(void)
{
  Bridge b;
  bridge_init(&b);
  g_assert_cmpint((int)limits_for(&b.c, 0).span, ==, SPAN_BACK_ONE);
  g_assert_cmpint(limits_for(&b.c, 0).class_need, ==, 4);
  b.c.n_unit = 4;
  b.c.unit[3] = b.c.unit[2];
  b.c.unit[2].role = ROLE_PONTIC;
  g_assert_cmpfloat(limits_for(&b.c, 1).area_need, ==, 12);
  g_assert_cmpfloat(limits_for(&b.c, 0).area_need, ==, 9);
  g_assert_cmpint(limits_for(&b.c, 0).class_need, ==, 5);
  b.c.unit[3].role = ROLE_HANGING;
  g_assert_cmpint((int)limits_for(&b.c, 2).span, ==, SPAN_CANTILEVER);
  case_clear(&b.c);
}

static void test_verdict(void)
{
  VerdictLimits limits = verdict_limits_default();
  Bridge b;
  bridge_init(&b);
  g_autoptr(GArray) none = rules_apply(&b.facts);
  g_assert_cmpint((int)verdict_for(1.5, none, 0, &limits), ==, VERDICT_HOLDS);
  g_assert_cmpint((int)verdict_for(1.1, none, 0, &limits), ==, VERDICT_CLOSE);
  g_assert_cmpint((int)verdict_for(0.9, none, 0, &limits), ==, VERDICT_REWORK);
  g_assert_cmpint((int)verdict_for(NAN, none, 0, &limits), ==, VERDICT_CLOSE);
  b.facts.connector[0].form.roof_radius.value = 0.2;
  g_autoptr(GArray) sharp = rules_apply(&b.facts);
  g_assert_cmpint((int)verdict_for(1.5, sharp, 0, &limits), ==, VERDICT_REWORK); /* a stop rule */
  g_assert_cmpint((int)verdict_for(1.5, sharp, 1, &limits), ==,
                  VERDICT_HOLDS); /* of the other neck */
  case_clear(&b.c);
}

static void test_worklist(void)
{
  Bridge b;
  bridge_init(&b);
  b.facts.connector[0].form.roof_radius.value = b.facts.connector[1].form.roof_radius.value = 0.2;
  g_autoptr(GArray) fired = rules_apply(&b.facts);
  g_autoptr(GArray) list = worklist_make(&b.facts, fired);
  int now = 0, redraw = -1;
  JobStep step = STEP_INTAKE;
  for (guint i = 0; i < list->len; i++) {
    const WorkItem *item = &g_array_index(list, WorkItem, i);
    char text[200];
    phrase_format(&item->act, NULL, NULL, text, sizeof text);
    g_test_message("%s: %s", item->id, text);
    g_assert_cmpint((int)item->step, >=, (int)step);
    step = item->step;
    now += item->state == WORK_NOW;
    if (strcmp(item->id, "redraw") == 0) {
      redraw = (int)i;
      g_assert_cmpstr(text, ==, "Redraw 2 necks");
    }
  }
  g_assert_cmpint(now, ==, 1);
  g_assert_cmpint(redraw, >, 0);
  g_assert_cmpint((int)g_array_index(list, WorkItem, 0).state, ==,
                  WORK_DONE); /* the order lies behind */
  Tick *tick = g_new0(Tick, 1);
  *tick = (Tick){g_strdup("redraw"), g_strdup("AB"), g_strdup("2026-01-01T10:00:00Z")};
  g_ptr_array_add(b.c.tick, tick);
  g_autoptr(GArray) ticked = worklist_make(&b.facts, fired);
  g_assert_cmpint((int)g_array_index(ticked, WorkItem, redraw).state, ==, WORK_DONE);
  g_assert_cmpstr(g_array_index(ticked, WorkItem, redraw).tick->initials, ==, "AB");
  case_clear(&b.c);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/rules/sound-bridge-is-silent", test_sound);
  g_test_add_func("/rules/thresholds", test_thresholds);
  g_test_add_func("/rules/bench", test_bench);
  g_test_add_func("/rules/words", test_words);
  g_test_add_func("/rules/firing", test_firing);
  g_test_add_func("/rules/marks", test_marks);
  g_test_add_func("/rules/cut-back", test_cut_back);
  g_test_add_func("/rules/hand-over", test_handover);
  g_test_add_func("/rules/approval", test_approval);
  g_test_add_func("/rules/approval-rounding", test_approval_rounding);
  g_test_add_func("/rules/order", test_order);
  g_test_add_func("/rules/texts", test_texts);
  g_test_add_func("/rules/needs", test_needs);
  g_test_add_func("/rules/verdict", test_verdict);
  g_test_add_func("/rules/worklist", test_worklist);
  return g_test_run();
}
