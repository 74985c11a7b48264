/* test_waterfall.c - from the best connector of a room to the drawn one: laws of the steps.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Every step is compared with a case in which only that thing is as it is after the step, assessed
 * by itself. */
#include "assess.h"
#include "casefile/case_xml.h"
#include "proof.h"
#include "strength/crack.h"

static const Source law = {"margin is inverse to the load", EXACT},
                    telescope = {"product of the factors is the whole", EXACT},
                    growth = {"v = A K^n integrated, computed", EXACT};

static void demo_load(Case *c, const char *number)
{
  g_autofree char *file = g_strdup_printf("%s.xml", number);
  g_autofree char *path =
      g_test_build_filename(G_TEST_DIST, "..", "..", "data", "demo", file, NULL);
  g_autoptr(GError) error = NULL;
  case_init(c);
  case_load(c, path, &error);
  g_assert_no_error(error);
}

static Assessment *run_at(const Case *c, bool waterfall, size_t focus, AssessGrade grade)
{
  Assessor *assessor = NULL;
  Assessment *a = NULL;
  AssessSettings settings = assess_settings_default();
  settings.grade = grade;
  settings.waterfall = waterfall;
  settings.focus = focus;
  settings.threads = 2;
  g_assert_cmpint(assessor_new(&assessor), ==, FAULT_NONE);
  g_assert_cmpint(assess(assessor, c, &settings, &a), ==, FAULT_NONE);
  assessor_free(assessor);
  return a;
}

static Assessment *run(const Case *c, bool waterfall, size_t focus)
{
  return run_at(c, waterfall, focus, ASSESS_REST);
}

static void test_whole(void)
{
  static const char *const number[] = {"QB-03", "QB-08"};
  for (size_t q = 0; q < G_N_ELEMENTS(number); q++) {
    Case c;
    demo_load(&c, number[q]);
    Assessment *a = run(&c, true, SIZE_MAX);
    for (size_t i = 0; i < a->n_connector; i++) {
      const ConnectorAssessment *k = &a->connector[i];
      const Waterfall *w = &k->waterfall;
      double product = 1;
      g_assert_true(w->known);
      for (int s = 0; s < FALL_N; s++) {
        const Banded *f = &w->step[s].factor;
        product *= f->value;
        g_assert_true(f->low > 0 && f->low <= f->value && f->value <= f->high);
        g_assert_cmpfloat(w->step[w->most].factor.value, <=,
                          s <= FALL_FINISH ? f->value : INFINITY);
      }
      g_autofree char *what = g_strdup_printf("%s %s, best to drawn", number[q], k->name);
      proof_row(what, telescope, k->service_margin.value / w->best, product, 1e-9);
      g_assert_cmpfloat(w->step[FALL_LOAD].margin, ==, k->margin.value);
      g_assert_cmpfloat(w->step[FALL_TIME].margin, ==, k->service_margin.value);
      proof_row("factor of the load", law, w->step[FALL_LOAD].before / w->step[FALL_LOAD].after,
                w->step[FALL_LOAD].factor.value, 1e-9);
    }
    assessment_unref(a);
    case_clear(&c);
  }
}

/* The shape steps end at today's connector, polished, under the usual bite. */
static void test_polished(void)
{
  Case c;
  demo_load(&c, "QB-03");
  Assessment *a = run(&c, true, 1);
  g_assert_false(a->connector[0].waterfall.known); /* only of the focus */
  g_assert_true(a->connector[1].waterfall.known);
  for (int zone = 0; zone < ZONE_NECK_N; zone++)
    c.connector[1].finish[zone] = FINISH_HIGH_POLISH;
  Assessment *polished = run(&c, true, 1);
  const Waterfall *before = &a->connector[1].waterfall, *after = &polished->connector[1].waterfall;
  g_assert_cmpfloat(
      fabs(before->step[FALL_SECTION].margin / polished->connector[1].margin.value - 1), <, 1e-9);
  g_assert_cmpfloat(fabs(after->step[FALL_FINISH].factor.value - 1), <, 1e-9);
  g_assert_cmpfloat(after->best, ==, before->best); /* the room is the same */
  assessment_unref(a);
  assessment_unref(polished);
  case_clear(&c);
}

/* Years alone: a card without a threshold gives the closed form. */
static void test_years(void)
{
  Case c;
  demo_load(&c, "QB-03");
  c.material.threshold = 0;
  c.material.growth_n = 25;
  c.service = (Service){1000, 20};
  Assessment *a = run(&c, true, 0);
  double n = 25, cycles = 1000 * 365.25 * 20,
         damage = cycles / 1.4 * crack_cycle_g(n) * (n + 1) / 10;
  proof_row("strength left after 20 years of 1000 bites, n 25", growth,
            crack_static_factor(n, damage), a->connector[0].waterfall.step[FALL_TIME].factor.value,
            1e-6);
  assessment_unref(a);
  c.service.years = 0; /* 1e-8: points that add next to nothing are left out at another share */
  a = run(&c, true, 0);
  g_assert_cmpfloat(fabs(a->connector[0].waterfall.step[FALL_TIME].factor.value - 1), <, 1e-8);
  g_assert_cmpfloat(a->connector[0].service_chance_percent.value, ==,
                    a->connector[0].chance_percent.value);
  assessment_unref(a);
  case_clear(&c);
}

/* A connector that is as the rule of the section wants it loses nothing by its section, on the fine
 * mesh too: the shapes stand on the mesh of the answer. */
static void test_mesh(void)
{
  static const AssessGrade grade[] = {ASSESS_REST, ASSESS_FINE};
  Case c;
  Side side;
  demo_load(&c, "QB-08");
  Connector *k = &c.connector[0];
  k->drawn[SIDE_BUCCAL] = k->drawn[SIDE_LINGUAL] = false;
  k->plan_radius = NAN;
  k->roundness_neck = 2;
  k->roundness_body = 4;
  g_assert_cmpint(connector_complete(&c, 0, &side), ==, FAULT_NONE);
  c.unit[1].role = ROLE_ABUTMENT, c.n_unit = 2; /* of one connector: the fine mesh is slow */
  for (size_t g = 0; g < G_N_ELEMENTS(grade); g++) {
    Assessment *a = run_at(&c, true, 0, grade[g]);
    g_assert_true(a->connector[0].waterfall.known);
    /* its width is read again, to 1e-5; another mesh would be a hundred times that */
    g_assert_cmpfloat(fabs(a->connector[0].waterfall.step[FALL_SECTION].factor.value - 1), <, 1e-4);
    assessment_unref(a);
  }
  case_clear(&c);
}

/* Not asked for, or no answer: none. */
static void test_none(void)
{
  Case c;
  demo_load(&c, "QB-03");
  Assessment *a = run(&c, false, 0);
  g_assert_false(a->connector[0].waterfall.known);
  assessment_unref(a);
  c.material.strength_mpa = 0;
  a = run(&c, true, 0);
  g_assert_false(a->connector[0].waterfall.known);
  assessment_unref(a);
  case_clear(&c);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/waterfall/whole", test_whole);
  g_test_add_func("/waterfall/polished", test_polished);
  g_test_add_func("/waterfall/years", test_years);
  g_test_add_func("/waterfall/mesh", test_mesh);
  g_test_add_func("/waterfall/none", test_none);
  return g_test_run();
}
