/* test_rules_each.c - every rule of the trade's checklist: once where it fires, once just beside it
 * where it does not. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Limits from the trade's checklist (most common practice, no source, or from memory). */
#include "sound_bridge.h"
#include "verdict/rules_parts.h"

/* What else must be so for a rule to be asked at all. */
static void sound(Bridge *b)
{
  (void)b;
}
static void in_soft(Bridge *b)
{
  b->c.step = STEP_SOFT;
}
static void finished(Bridge *b)
{
  b->c.step = STEP_FINISHING;
  b->c.connector[1].finish[ZONE_ROOF] = FINISH_AS_FIRED;
}
static void coated(Bridge *b)
{
  b->c.step = STEP_COAT;
  b->c.connector[1].finish[ZONE_ROOF] = FINISH_HIGH_POLISH;
}
static void last_look(Bridge *b)
{
  b->c.step = STEP_LAST_LOOK;
  b->c.connector[0].dye = CHECK_CLEAN;
}
static void broken(Bridge *b)
{
  b->c.step = STEP_BROKEN;
}
static void handed_over(Bridge *b)
{
  b->c.step = STEP_HANDOVER;
}
static void some_room(Bridge *b)
{
  b->facts.connector[1].form.roof_radius.value = 0.80;
}
static void small_roof(Bridge *b)
{
  b->facts.connector[1].form.roof_radius.value = 0.59;
}
static void hanging(Bridge *b)
{
  b->c.step = STEP_FINISHING;
  b->c.unit[2].role = ROLE_HANGING;
  b->c.unit[2].length = 7;
  b->facts.connector[1].limits = limits_for(&b->c, 1);
}
static void implants(Bridge *b)
{
  b->c.unit[0].role = b->c.unit[2].role = ROLE_IMPLANT;
}
static void cut_back(Bridge *b)
{
  b->c.connector[1].cut_back = 0.5;
}
static void planned_20(Bridge *b)
{
  b->c.planned_span = 20;
}
static void rescued(Bridge *b)
{
  b->facts.connector[1].rescue_height = 3.5;
}
static void three_firings(Bridge *b)
{
  b->c.firings_limit = 3;
}
static void fast(Bridge *b)
{
  b->c.fast_firing = ANSWER_YES;
  b->c.thickest_fast = 6;
}

static Bridge b; /* the rows point into it */
#define FACTS (b.facts.connector[1])
#define FORM (FACTS.form)
#define NECK (b.c.connector[1])

/* A figure on both sides of the limit. */
static void test_figures(void)
{
  const struct {
    const char *id;
    void (*before)(Bridge *b);
    double *value, fires, silent;
  } row[] = {
      {"height-not-there", sound, &b.c.free_height, 4.5, 4.6},
      {"load-above-level", sound, &FACTS.carries_n, 599, 600},
      {"roof-too-sharp", sound, &FORM.roof_radius.value, 0.29, 0.30},
      {"roof-small", sound, &FORM.roof_radius.value, 0.44, 0.45},
      {"roof-could-be-rounder", some_room, &FORM.room_to_round, 0.10, 0.09},
      {"v-shape", small_roof, &FORM.leg_lean_left_deg, 34.5, 34},
      {"kink-in-roof", sound, &FORM.kink_deg, 15.1, 15},
      {"neck-area-short", sound, &FACTS.neck_area, 8.9, 9.0},
      {"neck-area-near", sound, &FACTS.neck_area, 9.85, 9.95},
      {"neck-height-short", sound, &FORM.neck_height, 2.9, 3.0},
      {"flat-neck", hanging, &FORM.neck_height, 2.6, 2.7},
      {"uneven-necks", sound, &FACTS.peak_mpa, 391, 389},
      {"gap-too-small", sound, &FORM.gap_circle, 1.29, 1.30},
      {"gap-no-brush", sound, &FORM.gap_circle, 0.69, 0.70},
      {"side-difference", sound, &FORM.leg_lean_left_deg, 21.5, 21},
      {"roof-off-neck", sound, &FORM.roof_centre_x, 0.31, 0.30},
      {"undercut-leg", sound, &FORM.leg_lean_left_deg, -0.6, -0.4},
      {"papilla-pressed", sound, &NECK.papilla, 1.55, 1.5},
      {"groove-sharp-cantilever", hanging, &FORM.groove_radius, 0.59, 0.60},
      {"groove-sharp", sound, &FORM.groove_radius, 0.29, 0.30},
      {"cantilever-long", hanging, &b.c.unit[2].length, 7.6, 7.5},
      {"cut-back-neck-short", cut_back, &FACTS.cut_back_area, 8.9, 9.0},
      {"wall-thin", sound, &NECK.wall, 0.49, 0.50},
      {"arch-bow", sound, &b.c.arch_bow, 3.1, 3.0},
      {"implant-no-cushion", implants, &FACTS.neck_area, 9.8, 9.95},
      {"enlargement-missing", sound, &b.c.enlargement_label, 1.24, 1.25},
      {"cutter-cannot-reach", sound, &FORM.roof_radius.value, 0.38, 0.40},
      {"sprue-on-neck", sound, &NECK.pin_distance, 1.4, 1.5},
      {"soft-below-size", in_soft, &NECK.soft_height, 5.07, 5.08},
      {"fast-firing-not-allowed", fast, &b.c.thickest, 6.1, 6},
      {"span-size-off", planned_20, &b.c.fired_span, 20.11, 20.09},
      {"rescue-too-thin", rescued, &FACTS.rescue_area, 8.9, 9.0},
      {"roof-not-polished", finished, &FACTS.peak_mpa, 401, 399},
      {"too-many-firings", three_firings, &b.c.firings, 4, 3},
      {"measured-below-drawing", sound, &NECK.measured_height, 3.99, 4.01},
  };
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    g_test_message("%s", row[i].id);
    bridge_init(&b);
    row[i].before(&b);
    *row[i].value = row[i].fires;
    g_assert_true(fires(&b, row[i].id));
    *row[i].value = row[i].silent;
    g_assert_false(fires(&b, row[i].id));
    case_clear(&b.c);
  }
}

/* A word that makes it fire and one that does not. */
static void test_words(void)
{
  const struct {
    const char *id;
    void (*before)(Bridge *b);
    void *value;
    int fires, silent;
  } row[] = {
      {"material-below-span", sound, &b.c.material.iso_class, 3, 4},
      {"back-span-too-long", sound, &FACTS.limits.span, SPAN_BACK_MORE, SPAN_BACK_TWO},
      {"grinding-not-asked", sound, &b.c.grinding_habit, ANSWER_UNKNOWN, ANSWER_YES},
      {"clear-layer-at-neck", sound, &NECK.weaker_layer, ANSWER_YES, ANSWER_NO},
      {"saddle-hollow", sound, &b.c.unit[1].saddle_shape, SADDLE_HOLLOW, SADDLE_OVAL},
      {"soft-roof-as-milled", in_soft, &NECK.finish[ZONE_ROOF], FINISH_AS_MILLED,
       FINISH_SOFT_SMOOTHED},
      {"rocking-frame", sound, &b.c.fit, FIT_ROCKS, FIT_PASSIVE},
      {"inside-coarse", sound, &b.c.inside, FINISH_COARSE_GROUND, FINISH_FINE_GROUND},
      {"disc-mark", sound, &NECK.finish[ZONE_LEGS], FINISH_DISC_CUT, FINISH_COARSE_GROUND},
      {"coarse-on-pulled-side", finished, &NECK.finish[ZONE_LEGS], FINISH_COARSE_GROUND,
       FINISH_FINE_GROUND},
      {"ground-dry", sound, &NECK.finish[ZONE_CHEEK], FINISH_COARSE_GROUND_DRY,
       FINISH_COARSE_GROUND},
      {"blasted-neck", sound, &NECK.finish[ZONE_GROOVE], FINISH_BLASTED, FINISH_HIGH_POLISH},
      {"polish-step-skipped", coated, &NECK.polish_steps, 1 << POLISH_COARSE | 1 << POLISH_GLOSS,
       15},
      {"saddle-unfinished", coated, &b.c.unit[1].saddle, FINISH_FINE_GROUND, FINISH_HIGH_POLISH},
      {"groove-cantilever-rough", hanging, &NECK.finish[ZONE_GROOVE], FINISH_RUBBER_SMOOTH,
       FINISH_HIGH_POLISH},
      {"glaze-over-ground", coated, &NECK.finish[ZONE_CHEEK], FINISH_GLAZED_OVER_GROUND,
       FINISH_GLAZED_OVER_POLISH},
      {"saddle-glazed-over-ground", coated, &b.c.unit[1].saddle, FINISH_GLAZED_OVER_GROUND,
       FINISH_GLAZED_OVER_POLISH},
      {"coat-closes-gap", coated, &NECK.brush_passes, ANSWER_NO, ANSWER_YES},
      {"dye-check-missing", last_look, &NECK.dye, CHECK_UNKNOWN, CHECK_CLEAN},
      {"crack-seen", sound, &NECK.light, CHECK_LINE, CHECK_CLEAN},
      {"origin-not-recorded", broken, &b.c.origin.zone, 0, ZONE_LEGS + 1},
  };
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    g_test_message("%s", row[i].id);
    bridge_init(&b);
    row[i].before(&b);
    memcpy(row[i].value, &row[i].fires, sizeof(int));
    g_assert_true(fires(&b, row[i].id));
    memcpy(row[i].value, &row[i].silent, sizeof(int));
    g_assert_false(fires(&b, row[i].id));
    case_clear(&b.c);
  }
}

/* A text that is missing, and one that is there. */
static void test_texts(void)
{
  const struct {
    const char *id;
    void (*before)(Bridge *b);
    char **text;
    const char *fires, *silent;
  } row[] = {
      {"firing-record-missing", finished, &b.c.firing_record, "", "programme 3"},
      {"dentist-note-missing", handed_over, &b.c.dentist_note, "", "polish after grinding"},
      {"own-approval", sound, &b.c.approver, "bench", "supervisor"},
  };
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    g_test_message("%s", row[i].id);
    bridge_init(&b);
    row[i].before(&b);
    g_free(b.c.author);
    b.c.author = g_strdup("bench");
    for (int silent = 0; silent < 2; silent++) {
      g_free(*row[i].text);
      *row[i].text = g_strdup(silent ? row[i].silent : row[i].fires);
      g_assert_cmpint(fires(&b, row[i].id), ==, !silent);
    }
    case_clear(&b.c);
  }
}

static void test_marks(void)
{
  bridge_init(&b);
  in_soft(&b);
  SurfaceEvent event = SURFACE_EVENT_NONE;
  event.kind = EVENT_CUT;
  g_array_append_val(NECK.event, event);
  g_assert_true(fires(&b, "soft-knife-cut"));
  g_array_index(NECK.event, SurfaceEvent, 0).removed = ANSWER_YES;
  g_assert_false(fires(&b, "soft-knife-cut"));
  /* events after firing speak through the rules of the state they leave */
  b.c.step = STEP_COAT;
  for (int zone = 0; zone < ZONE_NECK_N; zone++)
    NECK.finish[zone] = FINISH_AS_FIRED;
  event.kind = EVENT_GLAZE;
  g_assert_false(fires(&b, "glaze-over-ground"));
  g_array_append_val(NECK.event, event);
  g_assert_true(fires(&b, "glaze-over-ground"));
  g_assert_cmpint((int)case_complete(&b.c), ==, FAULT_NONE);
  g_assert_cmpint((int)case_approve(&b.c), ==, FAULT_NONE);
  outline_transform(&NECK.side[SIDE_GINGIVAL], (const double[6]){1, 0, 0, 1, 0, -0.04});
  g_assert_false(fires(&b, "changed-after-approval"));
  outline_transform(&NECK.side[SIDE_GINGIVAL], (const double[6]){1, 0, 0, 1, 0, -0.02});
  g_assert_true(fires(&b, "changed-after-approval"));
  case_clear(&b.c);
}

/* The table holds what the tests above name, and nothing that they leave out. */
static void test_whole(void)
{
  size_t shape, bench;
  rules_shape(&shape);
  rules_bench(&bench);
  g_assert_cmpuint(shape + bench, ==, 35 + 21 + 3 + 2);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/rules_each/figures", test_figures);
  g_test_add_func("/rules_each/words", test_words);
  g_test_add_func("/rules_each/texts", test_texts);
  g_test_add_func("/rules_each/marks", test_marks);
  g_test_add_func("/rules_each/whole", test_whole);
  return g_test_run();
}
