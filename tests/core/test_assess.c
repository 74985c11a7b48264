/* test_assess.c - the whole call: demo cases, what costs a solution, laws of scale, bad input.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * N, mm, MPa.  Laws (linear in the load, 5 of 100 at margin 1, finish as a factor) are those of
 * core/SOURCES.md; no measured values here. */
#include "assess.h"
#include "casefile/case_xml.h"
#include "outline/shape.h"
#include "strength/finish.h"
#include <glib.h>
#include <math.h>

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

static Assessor *assessor_make(void)
{
  Assessor *assessor = NULL;
  g_assert_cmpint(assessor_new(&assessor), ==, FAULT_NONE);
  return assessor;
}

static Assessment *run(Assessor *assessor, const Case *c, AssessGrade grade, int threads)
{
  AssessSettings settings = assess_settings_default();
  Assessment *a = NULL;
  settings.grade = grade;
  settings.threads = threads;
  g_assert_cmpint(assess(assessor, c, &settings, &a), ==, FAULT_NONE);
  return a;
}

static void near(double got, double want, double relative)
{
  if (!(fabs(got - want) <= relative * fabs(want)))
    g_error("got %.10g, want %.10g", got, want);
}

static void test_demo(void)
{
  Assessor *assessor = assessor_make();
  for (int i = 1; i <= 10; i++) {
    g_autofree char *number = g_strdup_printf("QB-%02d", i);
    Case c;
    demo_load(&c, number);
    Assessment *a = run(assessor, &c, ASSESS_LIVE, 2);
    g_assert_cmpint(a->fault, ==, FAULT_NONE);
    g_assert_cmpuint(a->n_connector, ==, c.n_unit - 1);
    for (size_t k = 0; k < a->n_connector; k++) {
      const ConnectorAssessment *now = &a->connector[k];
      g_assert_cmpint(now->fault, ==, FAULT_NONE);
      g_assert_nonnull(now->field);
      g_assert_cmpfloat(now->margin.low, >, 0);
      g_assert_cmpfloat(now->margin.value, >=, now->margin.low);
      g_assert_cmpfloat(now->margin.high, >=, now->margin.value);
      g_assert_cmpfloat(now->margin.value, >=, a->connector[a->weakest].margin.value);
      g_assert_cmpfloat(now->peak_mpa.value, >, now->nominal_mpa * 0.5);
    }
    g_assert_cmpuint(a->n_advice, ==, 0); /* live: none */
    assessment_unref(a);
    case_clear(&c);
  }
  assessor_free(assessor);
}

static void same_numbers(const Assessment *a, const Assessment *b)
{
  g_assert_cmpfloat(a->trial_x, ==, b->trial_x);
  for (size_t i = 0; i < a->n_connector; i++) {
    const ConnectorAssessment *k = &a->connector[i], *l = &b->connector[i];
    const Banded one[] = {k->peak_mpa,
                          k->trial_peak_mpa,
                          k->margin,
                          k->trial_margin,
                          k->carries_n,
                          k->strength_mpa,
                          k->chance_percent,
                          k->trial_chance_percent,
                          k->service_chance_percent,
                          k->scratch_um,
                          k->trial_scratch_um,
                          k->trial_service_scratch_um};
    const Banded other[] = {l->peak_mpa,
                            l->trial_peak_mpa,
                            l->margin,
                            l->trial_margin,
                            l->carries_n,
                            l->strength_mpa,
                            l->chance_percent,
                            l->trial_chance_percent,
                            l->service_chance_percent,
                            l->scratch_um,
                            l->trial_scratch_um,
                            l->trial_service_scratch_um};
    for (size_t n = 0; n < G_N_ELEMENTS(one); n++) {
      near(one[n].value, other[n].value, 0);
      near(one[n].low, other[n].low, 0);
      near(one[n].high, other[n].high, 0);
    }
    near(k->trial.moment_n_mm, l->trial.moment_n_mm, 0);
    near(k->pin_moment_n_mm, l->pin_moment_n_mm, 0);
    near(k->section.area, l->section.area, 0);
    near(k->form.roof_radius.value, l->form.roof_radius.value, 0);
    g_assert_cmpint(k->verdict, ==, l->verdict);
    g_assert_cmpstr(k->name, ==, l->name);
  }
}

/* What is taken over from the call before is what a new assessor finds. */
static void test_taken_over(void)
{
  Assessor *assessor = assessor_make();
  Case c;
  demo_load(&c, "QB-01");
  for (int step = 0; step < 8; step++) {
    Outline *line = &c.connector[0].side[SIDE_GINGIVAL];
    if (step == 1 || step == 3)
      c.trial = (CaseLoad){4 + step, 200 + step};
    else if (step == 2)
      outline_transform(line, (double[]){1, 0, 0, 0.97, 0, 0});
    else if (step == 4)
      c.connector[1].finish[ZONE_ROOF] = FINISH_HIGH_POLISH;
    else if (step == 5)
      c.arch_bow = 1.5;
    else if (step == 6)
      c.unit[1].support = SUPPORT_SOFT, c.unit[0].support = SUPPORT_STIFF;
    else if (step == 7)
      c.order_load_n *= 1.5;
    Assessor *fresh = assessor_make();
    Assessment *kept = run(assessor, &c, ASSESS_LIVE, 1), *anew = run(fresh, &c, ASSESS_LIVE, 1);
    same_numbers(kept, anew);
    assessment_unref(kept);
    assessment_unref(anew);
    assessor_free(fresh);
  }
  case_clear(&c);
  assessor_free(assessor);
}

/* Load and finish only combine: the same field comes back, also after the outline went and came. */
static void test_kept(void)
{
  Assessor *assessor = assessor_make();
  Case c;
  demo_load(&c, "QB-02");
  Assessment *first = run(assessor, &c, ASSESS_LIVE, 1);
  Field *field = first->connector[0].field;
  c.trial = (CaseLoad){5, 300};
  c.connector[0].finish[ZONE_ROOF] = FINISH_HIGH_POLISH;
  Assessment *moved = run(assessor, &c, ASSESS_LIVE, 1);
  g_assert_true(moved->connector[0].field == field);
  g_assert_cmpfloat(moved->trial_x, ==, 5);
  g_assert_cmpfloat(moved->connector[0].trial.moment_n_mm, !=,
                    first->connector[0].trial.moment_n_mm);
  Case drawn;
  case_init(&drawn);
  g_assert_cmpint(case_copy(&drawn, &moved->c), ==, FAULT_NONE);
  Outline *gingival = &drawn.connector[0].side[SIDE_GINGIVAL];
  g_assert_cmpint(shape_round_roof(&moved->c.connector[0].side[SIDE_GINGIVAL], 0.5, gingival), ==,
                  FAULT_NONE);
  drawn.connector[0].drawn[SIDE_GINGIVAL] = true;
  Assessment *other = run(assessor, &drawn, ASSESS_LIVE, 1),
             *back = run(assessor, &c, ASSESS_LIVE, 1);
  g_assert_true(other->connector[0].field != field);
  g_assert_true(other->connector[1].field == first->connector[1].field);
  g_assert_true(back->connector[0].field == field);
  /* a rounder roof is pulled less and carries more */
  g_assert_cmpfloat(other->connector[0].peak.mpa, <, 0.9 * back->connector[0].peak.mpa);
  g_assert_cmpfloat(other->connector[0].margin.value, >, 1.05 * back->connector[0].margin.value);
  Assessment *all[4] = {first, moved, other, back};
  for (int i = 0; i < 4; i++)
    assessment_unref(all[i]);
  case_clear(&drawn);
  case_clear(&c);
  assessor_free(assessor);
}

/* Stress is linear in the load; 5 of 100 break at margin 1; a finish all around is a factor. */
static void test_laws(void)
{
  Assessor *assessor = assessor_make();
  Case c;
  demo_load(&c, "QB-06");
  for (int zone = 0; zone < ZONE_NECK_N; zone++)
    c.connector[0].finish[zone] = FINISH_COARSE_GROUND;
  Assessment *a = run(assessor, &c, ASSESS_LIVE, 1);
  const ConnectorAssessment *now = &a->connector[0];
  c.order_load_n *= 2.385;
  Assessment *more = run(assessor, &c, ASSESS_LIVE, 1);
  near(more->connector[0].peak_mpa.value, 2.385 * now->peak_mpa.value, 1e-9);
  near(more->connector[0].margin.value, now->margin.value / 2.385, 1e-9);
  near(more->connector[0].carries_n.value, now->carries_n.value, 1e-9);
  c.order_load_n = now->carries_n.value;
  Assessment *edge = run(assessor, &c, ASSESS_LIVE, 1);
  near(edge->connector[0].margin.value, 1, 1e-9);
  near(edge->connector[0].chance_percent.value, 5, 1e-6);
  g_assert_cmpfloat(edge->connector[0].chance_percent.low, <, 5);
  g_assert_cmpfloat(edge->connector[0].chance_percent.high, >, 5);
  for (int zone = 0; zone < ZONE_NECK_N; zone++)
    c.connector[0].finish[zone] = FINISH_HIGH_POLISH;
  Assessment *gloss = run(assessor, &c, ASSESS_LIVE, 1);
  double factor =
      finish_factor(FINISH_HIGH_POLISH, FINISH_COARSE_GROUND, c.material.polish_gain_top).value;
  g_assert_cmpfloat(factor, >, 1.05);
  near(gloss->connector[0].margin.value, factor, 1e-6);
  Assessment *all[4] = {a, more, edge, gloss};
  for (int i = 0; i < 4; i++)
    assessment_unref(all[i]);
  case_clear(&c);
  assessor_free(assessor);
}

static void test_threads(void)
{
  Assessor *one = assessor_make(), *two = assessor_make();
  Case c;
  demo_load(&c, "QB-02");
  Assessment *a = run(one, &c, ASSESS_REST, 1), *b = run(two, &c, ASSESS_REST, 2);
  for (size_t i = 0; i < a->n_connector; i++) {
    g_assert_cmpfloat(a->connector[i].peak.mpa, ==, b->connector[i].peak.mpa);
    g_assert_cmpfloat(a->connector[i].peak.band_percent, ==, b->connector[i].peak.band_percent);
    g_assert_cmpfloat(a->connector[i].margin.value, ==, b->connector[i].margin.value);
    g_assert_cmpfloat(a->connector[i].margin.low, ==, b->connector[i].margin.low);
  }
  g_assert_cmpuint(a->weakest, ==, 1);
  g_assert_cmpuint(a->n_advice, ==, b->n_advice);
  g_assert_cmpuint(a->n_advice, >=, 12);
  g_assert_cmpuint(a->advice[0].connector, ==, a->weakest);
  for (size_t i = 0; i < a->n_advice; i++) {
    g_assert_cmpint(a->advice[i].kind, ==, b->advice[i].kind);
    g_assert_cmpfloat(a->advice[i].gain_percent.value, ==, b->advice[i].gain_percent.value);
  }
  g_assert_cmpfloat(a->together_n.value, ==, b->together_n.value);
  g_assert_cmpfloat(a->together_n.value, >,
                    a->carries_n.value * (1 + a->advice[0].gain_percent.value / 100));
  assessment_unref(a);
  assessment_unref(b);
  case_clear(&c);
  assessor_free(one);
  assessor_free(two);
}

/* Only answers with a band above the one asked for are solved on the fine mesh; their own band is
 * narrower, and the figure lies inside the band at rest. */
static void test_fine(void)
{
  Assessor *assessor = assessor_make();
  Case c;
  demo_load(&c, "QB-02");
  Assessment *rest = run(assessor, &c, ASSESS_REST, 2), *fine = NULL;
  double low = INFINITY, high = 0;
  for (size_t i = 0; i < rest->n_connector; i++) {
    low = fmin(low, rest->connector[i].field->band_percent);
    high = fmax(high, rest->connector[i].field->band_percent);
  }
  g_assert_cmpfloat(low, <, high);
  AssessSettings settings = assess_settings_default();
  settings.grade = ASSESS_FINE;
  settings.threads = 2;
  settings.fine_above_percent = (low + high) / 2;
  g_assert_cmpint(assess(assessor, &c, &settings, &fine), ==, FAULT_NONE);
  g_assert_cmpint(fine->grade, ==, ASSESS_FINE);
  for (size_t i = 0; i < rest->n_connector; i++) {
    const ConnectorAssessment *a = &rest->connector[i], *b = &fine->connector[i];
    if (a->field->band_percent <= settings.fine_above_percent) {
      g_assert_true(a->field == b->field);
      continue;
    }
    g_assert_cmpuint(b->field->unknowns, >, 2 * a->field->unknowns);
    g_assert_cmpfloat(b->peak.band_percent, <, a->peak.band_percent - 1);
    near(b->peak.mpa, a->peak.mpa, a->peak.band_percent / 100);
  }
  g_assert_cmpuint(fine->n_advice, >, 0);
  assessment_unref(rest);
  assessment_unref(fine);
  case_clear(&c);
  assessor_free(assessor);
}

/* The ghost of each advice, put into the case and assessed in full, brings the gain that was told.
 */
static void test_advice_kept(void)
{
  Assessor *assessor = assessor_make();
  Case c;
  int n = 0;
  demo_load(&c, "QB-02");
  Assessment *a = run(assessor, &c, ASSESS_REST, 2);
  for (size_t i = 0; i < a->n_advice; i++) {
    const Advice *advice = &a->advice[i];
    if (advice->connector != a->weakest || advice->ghost.n == 0)
      continue;
    Case changed;
    case_init(&changed);
    g_assert_cmpint(case_copy(&changed, &a->c), ==, FAULT_NONE);
    Connector *k = &changed.connector[a->weakest];
    for (int side = 0; side < SIDE_N; side++)
      k->drawn[side] = true; /* the others stay as they are */
    g_assert_cmpint(outline_copy(&k->side[advice->side], &advice->ghost), ==, FAULT_NONE);
    Assessment *b = run(assessor, &changed, ASSESS_LIVE, 1);
    const ConnectorAssessment *was = &a->connector[a->weakest], *is = &b->connector[a->weakest];
    double gain = 100 * (is->margin.value / was->margin.value - 1);
    g_test_message("advice %d: told %.1f (%.1f to %.1f), found %.1f, moment x %.3f", advice->kind,
                   advice->gain_percent.value, advice->gain_percent.low, advice->gain_percent.high,
                   gain, is->order.moment_n_mm / was->order.moment_n_mm);
    g_assert_cmpfloat(gain, >=, advice->gain_percent.low);
    g_assert_cmpfloat(gain, <=, advice->gain_percent.high);
    n++;
    assessment_unref(b);
    case_clear(&changed);
  }
  g_assert_cmpint(n, >=, 3);
  assessment_unref(a);
  case_clear(&c);
  assessor_free(assessor);
}

static bool always(void *data)
{
  (void)data;
  return true;
}

static void test_cancelled(void)
{
  Assessor *assessor = assessor_make();
  AssessSettings settings = assess_settings_default();
  settings.cancelled = always;
  settings.threads = 2;
  Assessment *a = NULL;
  Case c;
  demo_load(&c, "QB-01");
  g_assert_cmpint(assess(assessor, &c, &settings, &a), ==, FAULT_CANCELLED);
  g_assert_null(a);
  settings.cancelled = NULL; /* nothing half done was kept */
  g_assert_cmpint(assess(assessor, &c, &settings, &a), ==, FAULT_NONE);
  g_assert_cmpint(a->connector[0].fault, ==, FAULT_NONE);
  assessment_unref(a);
  case_clear(&c);
  assessor_free(assessor);
}

static void test_bad(void)
{
  Assessor *assessor = assessor_make();
  Case c;
  demo_load(&c, "QB-01");
  for (size_t i = 0; i < c.n_unit; i++)
    c.unit[i].role = ROLE_PONTIC;
  Assessment *a = run(assessor, &c, ASSESS_REST, 1); /* nothing holds it */
  g_assert_cmpint(a->fault, !=, FAULT_NONE);
  g_assert_cmpint(a->verdict, ==, VERDICT_REWORK);
  g_assert_cmpuint(a->n_advice, ==, 0);
  assessment_unref(a);
  c.n_unit = 1;
  a = run(assessor, &c, ASSESS_REST, 1);
  g_assert_cmpint(a->fault, !=, FAULT_NONE);
  g_assert_cmpuint(a->n_connector, ==, 0);
  assessment_unref(a);
  case_clear(&c);

  demo_load(&c, "QB-01"); /* the gum side drawn up through the biting groove */
  const Point at[5] = {{-4, 0}, {-1.4, 0}, {0, 7.5}, {1.4, 0}, {4, 0}};
  Outline *gingival = &c.connector[0].side[SIDE_GINGIVAL];
  g_assert_cmpint(outline_from_points(gingival, at, 5, false), ==, FAULT_NONE);
  a = run(assessor, &c, ASSESS_REST, 2);
  g_assert_cmpint(a->connector[0].fault, ==, FAULT_CROSSING);
  g_assert_null(a->connector[0].field);
  g_assert_cmpint(a->verdict, ==, VERDICT_REWORK);
  assessment_unref(a);
  case_clear(&c);

  const double absurd[] = {NAN, INFINITY, -1, 0, 1e300};
  for (size_t i = 0; i < G_N_ELEMENTS(absurd); i++) {
    demo_load(&c, "QB-01");
    c.material.young_mpa = absurd[i];
    a = run(assessor, &c, ASSESS_REST, 1);
    g_assert_cmpint(a->verdict, ==, VERDICT_REWORK);
    g_assert_null(a->connector[0].field);
    assessment_unref(a);
    case_clear(&c);
  }
  for (size_t i = 0; i < G_N_ELEMENTS(absurd) - 1; i++)
    for (int what = 0; what < 3; what++) { /* no strength, no spread, no load: no praise */
      demo_load(&c, "QB-01");
      *(what == 0   ? &c.material.strength_mpa
        : what == 1 ? &c.material.weibull
                    : &c.order_load_n) = absurd[i];
      a = run(assessor, &c, ASSESS_REST, 1);
      if (what < 2 || !isfinite(absurd[i])) {
        g_assert_cmpint(a->verdict, !=, VERDICT_HOLDS);
        g_assert_false(a->connector[0].margin.value > 0);
      }
      assessment_unref(a);
      case_clear(&c);
    }
  assessor_free(assessor);
}

/* A roof of two tips is turned so sharply that the error band of its peak is above 100 percent; the
 * largest pull is never below nil, nor is what is said of it. */
static void test_band_above_hundred(void)
{
  const Corner two_tips[] = {{-4, 0, 0},    {-1.4, 0, 0}, {-0.2, 3.2, 0}, {0, 2.4, 0},
                             {0.2, 3.2, 0}, {1.4, 0, 0},  {4, 0, 0}};
  Assessor *assessor = assessor_make();
  Case c;
  demo_load(&c, "QB-02");
  outline_clear(&c.connector[1].side[SIDE_GINGIVAL]);
  g_assert_cmpint(
      outline_from_corners(&c.connector[1].side[SIDE_GINGIVAL], two_tips, G_N_ELEMENTS(two_tips)),
      ==, FAULT_NONE);
  Assessment *a = run(assessor, &c, ASSESS_LIVE, 2);
  const ConnectorAssessment *k = &a->connector[1];
  g_assert_cmpint(k->fault, ==, FAULT_NONE);
  g_assert_cmpfloat(k->trial_peak.band_percent, >, 100); /* else nothing is tried here */
  const Banded *told[] = {&k->peak_mpa, &k->trial_peak_mpa};
  for (size_t i = 0; i < G_N_ELEMENTS(told); i++) {
    g_assert_cmpfloat(told[i]->value, >, 0);
    g_assert_cmpfloat(told[i]->low, >=, 0);
    g_assert_cmpfloat(told[i]->low, <=, told[i]->value);
    g_assert_cmpfloat(told[i]->high, >, 2 * told[i]->value); /* the upper end is not cut */
  }
  assessment_unref(a);
  case_clear(&c);
  assessor_free(assessor);
  Banded below = banded_percent_positive(-3, 150); /* what is below nil after all keeps its band */
  g_assert_cmpfloat(below.low, <, below.value);
}

/* One connector alone: the figures of the whole answer, nothing of the others; and the answer after
 * it lacks nothing. */
static void test_only(void)
{
  Assessor *assessor = assessor_make(), *fresh = assessor_make();
  Case c;
  demo_load(&c, "QB-04");
  AssessSettings settings = assess_settings_default();
  Assessment *one = NULL;
  settings.grade = ASSESS_LIVE;
  settings.only = 2;
  g_assert_cmpint(assess(assessor, &c, &settings, &one), ==, FAULT_NONE);
  Assessment *all = run(assessor, &c, ASSESS_LIVE, 1), *anew = run(fresh, &c, ASSESS_LIVE, 1);
  g_assert_cmpuint(one->weakest, ==, 2);
  g_assert_cmpint(one->verdict, ==, VERDICT_NONE);
  g_assert_cmpfloat(one->connector[2].peak_mpa.value, ==, anew->connector[2].peak_mpa.value);
  g_assert_cmpfloat(one->connector[2].margin.value, ==, anew->connector[2].margin.value);
  for (size_t i = 0; i < one->n_connector; i++) {
    g_assert_cmpint(one->connector[i].fault, ==, FAULT_NONE);
    g_assert_true((one->connector[i].field != NULL) == (i == 2));
    g_assert_nonnull(all->connector[i].field);
  }
  same_numbers(all, anew);
  assessment_unref(one);
  assessment_unref(all);
  assessment_unref(anew);
  case_clear(&c);
  assessor_free(assessor);
  assessor_free(fresh);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/assess/demo", test_demo);
  g_test_add_func("/assess/taken-over", test_taken_over);
  g_test_add_func("/assess/kept", test_kept);
  g_test_add_func("/assess/only", test_only);
  g_test_add_func("/assess/laws", test_laws);
  g_test_add_func("/assess/threads", test_threads);
  g_test_add_func("/assess/fine", test_fine);
  g_test_add_func("/assess/advice-kept", test_advice_kept);
  g_test_add_func("/assess/cancelled", test_cancelled);
  g_test_add_func("/assess/bad", test_bad);
  g_test_add_func("/assess/band-above-hundred", test_band_above_hundred);
  return g_test_run();
}
