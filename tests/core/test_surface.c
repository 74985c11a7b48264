/* test_surface.c - the lab's own finish factors and the depth of disc marks, from file to verdict.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa. */
#include "assess.h"
#include "case_files.h"
#include "casefile/material_xml.h"
#include "proof.h"
#include "strength/surface.h"

static const Source law = {"strength of a zone is that of the bars times its factor", EXACT},
                    inverse = {"a over b times b over a is one", EXACT};

static OwnFactor gain_of(FinishState state, FinishState against, double value)
{
  OwnFactor own = {state,       against,     value,
                   0.9 * value, 1.1 * value, "own bars, 2026-11-25, 30 bars"};
  return own;
}

static Material card(void)
{
  Material m = *material_find("3y");
  g_assert_cmpstr(m.bar_finish, ==, "high-polish");
  return m;
}

/* Direct, turned round, and by way of a third state; what was not measured stays the book's. */
static void test_read(void)
{
  const char *reason = NULL;
  Material m = card();
  SurfaceFactor book = surface_factor(&m, FINISH_AS_MILLED, FINISH_HIGH_POLISH);
  g_assert_false(book.own);
  g_assert_cmpstr(book.source, ==, finish_source(FINISH_AS_MILLED));
  OwnFactor own = gain_of(FINISH_HIGH_POLISH, FINISH_AS_MILLED, 1.25);
  g_assert_cmpint((int)own_factor_set(&m, &own, &reason), ==, FAULT_NONE);
  SurfaceFactor there = surface_factor(&m, FINISH_HIGH_POLISH, FINISH_AS_MILLED),
                back = surface_factor(&m, FINISH_AS_MILLED, FINISH_HIGH_POLISH);
  g_assert_true(there.own && back.own);
  g_assert_cmpstr(back.source, ==, "own bars, 2026-11-25, 30 bars");
  g_assert_cmpfloat(there.of.value, ==, 1.25);
  proof_row("own factor and its inverse", inverse, 1, there.of.value * back.of.value, 1e-9);
  proof_row("low end and the high end of the inverse", inverse, 1, there.of.low * back.of.high,
            1e-9);
  /* the polished state follows the milled one against a third */
  SurfaceFactor fired = surface_factor(&m, FINISH_HIGH_POLISH, FINISH_AS_FIRED);
  g_assert_true(fired.own);
  double milled = finish_factor(FINISH_AS_MILLED, FINISH_AS_FIRED, 1.25).value;
  g_assert_cmpfloat_with_epsilon(fired.of.value, 1.25 * milled, 1e-12);
  g_assert_true(fired.of.low < fired.of.value / 1.1 && fired.of.high > fired.of.value * 1.09);
  /* measured against measured: no book in between */
  own = gain_of(FINISH_RUBBER_SMOOTH, FINISH_AS_MILLED, 1.1);
  g_assert_cmpint((int)own_factor_set(&m, &own, &reason), ==, FAULT_NONE);
  SurfaceFactor rubber = surface_factor(&m, FINISH_RUBBER_SMOOTH, FINISH_HIGH_POLISH);
  g_assert_cmpfloat_with_epsilon(rubber.of.value, 1.1 / 1.25, 1e-12);
  SurfaceFactor ground = surface_factor(&m, FINISH_COARSE_GROUND, FINISH_HIGH_POLISH);
  g_assert_false(ground.own);
  g_assert_cmpfloat(ground.of.value, ==,
                    finish_factor(FINISH_COARSE_GROUND, FINISH_HIGH_POLISH, 1.25).value);
}

static void test_replace(void)
{
  const char *reason = NULL;
  Material m = card();
  OwnFactor own = gain_of(FINISH_HIGH_POLISH, FINISH_AS_MILLED, 1.25);
  g_assert_cmpint((int)own_factor_set(&m, &own, &reason), ==, FAULT_NONE);
  own = gain_of(FINISH_AS_MILLED, FINISH_HIGH_POLISH, 0.5);
  g_assert_cmpint((int)own_factor_set(&m, &own, &reason), ==, FAULT_NONE);
  g_assert_cmpuint(m.n_own, ==, 1);
  g_assert_cmpfloat(surface_factor(&m, FINISH_HIGH_POLISH, FINISH_AS_MILLED).of.value, ==, 2);
  own = gain_of(FINISH_AS_MILLED, FINISH_AS_FIRED, 0.7);
  g_assert_cmpint((int)own_factor_set(&m, &own, &reason), ==, FAULT_NONE);
  g_assert_cmpuint(m.n_own, ==, 1); /* a finish has one */
  Material kept = m;
  const struct {
    OwnFactor own;
    const char *words;
  } bad[] = {
      {gain_of(FINISH_AS_FIRED, FINISH_AS_FIRED, 1), "with itself"},
      {gain_of(FINISH_UNKNOWN, FINISH_AS_FIRED, 1), "Name both"},
      {{FINISH_BLASTED, FINISH_AS_FIRED, 1.2, 1.3, 1.4, "bars"}, "inside its own band"},
      {{FINISH_BLASTED, FINISH_AS_FIRED, 1.2, NAN, 1.4, "bars"}, "inside its own band"},
      {{FINISH_BLASTED, FINISH_AS_FIRED, 12, 11, 13, "bars"}, "inside its own band"},
      {{FINISH_BLASTED, FINISH_AS_FIRED, 1.2, 1.1, 1.4, ""}, "no source"},
      {gain_of(FINISH_AS_FIRED, FINISH_AS_MILLED, 1.2), NULL},
  };
  for (size_t i = 0; i < G_N_ELEMENTS(bad); i++) {
    Fault fault = own_factor_set(&m, &bad[i].own, &reason);
    if (!bad[i].words) { /* the same pair turned round is no circle: it takes the place */
      g_assert_cmpint((int)fault, ==, FAULT_NONE);
      g_assert_cmpuint(m.n_own, ==, 1);
      continue;
    }
    g_assert_cmpint((int)fault, ==, FAULT_RANGE);
    g_assert_nonnull(strstr(reason, bad[i].words));
    g_assert_true(material_equal(&m, &kept));
  }
  const OwnFactor round[] = {gain_of(FINISH_BLASTED, FINISH_FINE_GROUND, 1.1),
                             gain_of(FINISH_FINE_GROUND, FINISH_RUBBER_SMOOTH, 1.1),
                             gain_of(FINISH_RUBBER_SMOOTH, FINISH_BLASTED, 1.1)};
  m = card();
  for (size_t i = 0; i < 3; i++)
    g_assert_cmpint((int)own_factor_set(&m, &round[i], &reason), ==,
                    i < 2 ? FAULT_NONE : FAULT_RANGE);
  g_assert_nonnull(strstr(reason, "circle"));
  own_factor_remove(&m, 0);
  g_assert_cmpuint(m.n_own, ==, 1);
  g_assert_cmpint((int)m.own[0].state, ==, FINISH_FINE_GROUND);
  own_factor_remove(&m, 5);
  own_factor_remove(&m, 0);
  Material fresh = card();
  g_assert_true(material_equal(&m, &fresh));
}

/* Through the case file and the card file, and what a wrong one says. */
static void test_file(void)
{
  Case c, again;
  GError *error = NULL;
  demo_load(&c, "demo/QB-02.xml");
  case_init(&again);
  OwnFactor own = gain_of(FINISH_HIGH_POLISH, FINISH_AS_MILLED, 1.56);
  g_assert_cmpint((int)own_factor_set(&c.material, &own, NULL), ==, FAULT_NONE);
  g_autoptr(GString) text = case_to_xml(&c);
  g_assert_true(case_load_memory(&again, text->str, text->len, "again.xml", &error));
  g_assert_no_error(error);
  g_assert_true(case_equal(&c, &again));
  g_assert_cmpstr(again.material.own[0].source, ==, own.source);
  own_factor_remove(&again.material, 0);
  g_assert_false(case_equal(&c, &again));
  g_autoptr(GString) cards = materials_to_xml(&c.material, 1);
  g_autofree char *path = in_folder("card.xml");
  g_assert_true(g_file_set_contents(path, cards->str, -1, NULL));
  g_autoptr(GArray) read = materials_load(path, &error);
  g_assert_no_error(error);
  g_assert_true(material_equal(&g_array_index(read, Material, 0), &c.material));
  static const char *const bad[][3] = {
      {"state=\"high-polish\"", "state=\"gold\"", "\"gold\" of <factor> is not known"},
      {"against=\"as-milled\"", "against=\"high-polish\"", "with itself"},
      {"value=\"1.56\"", "value=\"1560\"", "from 0.1 to 10"},
      {"value=\"1.56\"", "value=\"9\"", "inside its own band"},
      {"value=\"1.56\"", "", "has no value"},
      {"source=\"own bars, 2026-11-25, 30 bars\"", "source=\"\"", "has no source"},
      {"source=\"own bars, 2026-11-25, 30 bars\"", "", "has no source"},
      {"<factor ", "<gain ", "<gain> is not known"},
  };
  for (size_t i = 0; i < G_N_ELEMENTS(bad); i++) {
    g_autoptr(GString) wrong = g_string_new(text->str);
    /* behind the place where the material begins */
    char *from = strstr(wrong->str, "<factor ");
    g_assert_nonnull(from);
    g_autofree char *head = g_strndup(wrong->str, (gsize)(from - wrong->str));
    g_autoptr(GString) rest = g_string_new(from);
    g_assert_cmpuint(g_string_replace(rest, bad[i][0], bad[i][1], 1), ==, 1);
    g_autofree char *whole = g_strconcat(head, rest->str, NULL);
    Case no;
    case_init(&no);
    g_assert_false(case_load_memory(&no, whole, strlen(whole), "bad.xml", &error));
    g_test_message("%s", error->message);
    g_assert_nonnull(strstr(error->message, bad[i][2]));
    g_assert_true(g_str_has_prefix(error->message, "bad.xml:"));
    g_clear_error(&error);
    case_clear(&no);
  }
  g_unlink(path);
  case_clear(&c);
  case_clear(&again);
}

static Assessment *assessed(Assessor *assessor, const Case *c)
{
  AssessSettings settings = assess_settings_default();
  Assessment *a = NULL;
  settings.grade = ASSESS_LIVE;
  settings.threads = 1;
  g_assert_cmpint(assess(assessor, c, &settings, &a), ==, FAULT_NONE);
  return a;
}

/* Zones of one finish carry by that finish's own factor, at once and in their chance. */
static void test_verdict(void)
{
  Assessor *assessor = NULL;
  Case c;
  g_assert_cmpint(assessor_new(&assessor), ==, FAULT_NONE);
  demo_load(&c, "demo/QB-02.xml");
  for (size_t i = 0; i + 1 < c.n_unit; i++) {
    for (int zone = 0; zone < ZONE_NECK_N; zone++)
      c.connector[i].finish[zone] = FINISH_AS_MILLED;
    g_array_set_size(c.connector[i].event, 0);
  }
  c.order_load_n = 120; /* so that not every one breaks */
  Assessment *before = assessed(assessor, &c);
  OwnFactor own = gain_of(FINISH_HIGH_POLISH, FINISH_AS_MILLED, 1.25);
  g_assert_cmpint((int)own_factor_set(&c.material, &own, NULL), ==, FAULT_NONE);
  Assessment *after = assessed(assessor, &c);
  const ConnectorAssessment *a = &before->connector[before->weakest],
                            *b = &after->connector[before->weakest];
  double book = finish_factor(FINISH_AS_MILLED, FINISH_HIGH_POLISH, 1.25).value;
  proof_row("margin with the own factor over that with the book's", law, 1 / 1.25 / book,
            b->margin.value / a->margin.value, 1e-6);
  g_assert_true(b->finish_from.own && !a->finish_from.own);
  g_assert_cmpstr(b->finish_from.source, ==, own.source);
  g_assert_cmpfloat(b->chance_percent.value, <, a->chance_percent.value);
  bool told = false;
  for (size_t i = 0; i < b->n_driver; i++)
    told = told || (b->driver[i].input.kind == INPUT_FINISH &&
                    strcmp(b->driver[i].input.range.source, own.source) == 0);
  g_assert_true(told);
  /* a factor of finishes that are not there changes nothing */
  c.material.n_own = 0;
  own = gain_of(FINISH_BLASTED, FINISH_FINE_GROUND, 1.4);
  g_assert_cmpint((int)own_factor_set(&c.material, &own, NULL), ==, FAULT_NONE);
  Assessment *same = assessed(assessor, &c);
  g_assert_cmpfloat(same->connector[before->weakest].margin.value, ==, a->margin.value);
  assessment_unref(before);
  assessment_unref(after);
  assessment_unref(same);
  case_clear(&c);
  assessor_free(assessor);
}

/* ---- disc marks ---- */

static SurfaceEvent *mark_of(Case *c, size_t connector)
{
  return &g_array_index(c->connector[connector].event, SurfaceEvent, 0);
}

static double margin(Assessor *assessor, const Case *c, size_t connector)
{
  Assessment *a = assessed(assessor, c);
  double value = a->connector[connector].margin.value;
  assessment_unref(a);
  return value;
}

/* What is drawn is meshed: the record of it fires only for what it is deeper. */
static void test_drawn(void)
{
  Case c;
  ZoneSurface surface[ZONE_NECK_N];
  demo_load(&c, "demo/QB-08.xml"); /* drawn at 0.3, recorded 0.2 deep */
  /* flanks 0.1 aside on 0.33 up, their corner rounded by 0.04 */
  double drawn = 0.33 - 0.04 * (1 / sin(atan(0.1 / 0.33)) - 1);
  Connector *k = &c.connector[1];
  connector_surfaces_now(k, surface);
  g_assert_cmpint((int)surface[ZONE_ROOF].state, ==, FINISH_DISC_CUT);
  g_assert_true(isnan(surface[ZONE_ROOF].mark));
  SurfaceEvent *mark = mark_of(&c, 1);
  mark->depth = 0.5;
  connector_surfaces_now(k, surface);
  g_assert_cmpfloat_with_epsilon(surface[ZONE_ROOF].mark, 0.5 - drawn, 0.01);
  g_assert_cmpfloat(surface[ZONE_ROOF].edge, ==, 0.04);
  g_assert_true(isnan(surface[ZONE_GROOVE].mark));
  mark->at_x = NAN; /* place not recorded: it may be the one that is drawn */
  connector_surfaces_now(k, surface);
  g_assert_cmpfloat_with_epsilon(surface[ZONE_ROOF].mark, 0.5 - drawn, 0.01);
  mark->at_x = -0.6; /* elsewhere on the roof, not drawn */
  connector_surfaces_now(k, surface);
  g_assert_cmpfloat(surface[ZONE_ROOF].mark, ==, 0.5);
  mark->removed = ANSWER_YES;
  connector_surfaces_now(k, surface);
  g_assert_true(isnan(surface[ZONE_ROOF].mark));
  mark->removed = ANSWER_UNKNOWN;
  mark->kind = EVENT_GROUND; /* no disc */
  connector_surfaces_now(k, surface);
  g_assert_true(isnan(surface[ZONE_ROOF].mark));
  case_clear(&c);
}

static void test_deeper(void)
{
  Assessor *assessor = NULL;
  Case c;
  g_assert_cmpint(assessor_new(&assessor), ==, FAULT_NONE);
  demo_load(&c, "demo/QB-08.xml");
  const size_t smooth = 0; /* 25/26: nothing drawn in its roof */
  double before = margin(assessor, &c, smooth);
  SurfaceEvent event = SURFACE_EVENT_NONE;
  event.kind = EVENT_DISC;
  g_array_append_val(c.connector[smooth].event, event);
  double state = margin(assessor, &c, smooth), last = state;
  g_assert_cmpfloat(state, <, before); /* a mark without a depth: the state alone */
  for (double depth = 0.05; depth < 0.7; depth *= 2) {
    mark_of(&c, smooth)->depth = depth;
    double now = margin(assessor, &c, smooth);
    g_test_message("mark %.2f mm deep: margin %.3f", depth, now);
    g_assert_cmpfloat(now, <, 0.95 * last);
    last = now;
  }
  mark_of(&c, smooth)->edge_radius = 3; /* hollowed out: blunter carries more */
  double blunt = margin(assessor, &c, smooth);
  g_assert_cmpfloat(blunt, >, 1.05 * last);
  mark_of(&c, smooth)->removed = ANSWER_YES;
  g_assert_cmpfloat(margin(assessor, &c, smooth), ==, before);
  /* drawn deeper than recorded: the depth changes nothing */
  double drawn = margin(assessor, &c, 1);
  mark_of(&c, 1)->depth = NAN;
  g_assert_cmpfloat(margin(assessor, &c, 1), ==, drawn);
  mark_of(&c, 1)->depth = 0.6;
  g_assert_cmpfloat(margin(assessor, &c, 1), <, drawn);
  case_clear(&c);
  assessor_free(assessor);
}

/* Polish heals no disc mark, so it is no advice where one governs; hollowed out it is. */
static void test_advice(void)
{
  Assessor *assessor = NULL;
  Case c;
  g_assert_cmpint(assessor_new(&assessor), ==, FAULT_NONE);
  demo_load(&c, "demo/QB-08.xml");
  for (int healed = 0; healed < 2; healed++) {
    AssessSettings settings = assess_settings_default();
    Assessment *a = NULL;
    settings.threads = 1;
    settings.focus = 1;
    if (healed) {
      mark_of(&c, 1)->removed = ANSWER_YES;
      c.connector[1].finish[ZONE_ROOF] = FINISH_COARSE_GROUND;
    }
    g_assert_cmpint(assess(assessor, &c, &settings, &a), ==, FAULT_NONE);
    bool polish = false;
    for (size_t i = 0; i < a->n_advice; i++)
      polish = polish || (a->advice[i].connector == 1 && a->advice[i].kind == ADVICE_POLISH);
    g_assert_cmpint(polish, ==, healed);
    assessment_unref(a);
  }
  case_clear(&c);
  assessor_free(assessor);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/surface/read", test_read);
  g_test_add_func("/surface/replace", test_replace);
  g_test_add_func("/surface/file", test_file);
  g_test_add_func("/surface/verdict", test_verdict);
  g_test_add_func("/surface/drawn", test_drawn);
  g_test_add_func("/surface/deeper", test_deeper);
  g_test_add_func("/surface/advice", test_advice);
  return folder_run();
}
