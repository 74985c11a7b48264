/* test_likeness.c - the bending bar beside a connector: the published notch chart knows its factor,
 * and it ranks outlines as the solid does. SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench_work.h"
#include "mechanics/notch.h"
#include "practice/likeness.h"
#include "proof.h"
#include <math.h>

static GPtrArray *set;
static Assessor *assessor;

typedef struct {
  Banded bar, own;
  NotchedBar notch;
  bool turned;
} Times;

/* False where the pull is largest at a cheek. */
static bool times_of(const Case *c, size_t connector, Times *times)
{
  Likeness like;
  NotchedBarAnswer *answer = NULL;
  Assessment *a = bench_assess(assessor, c, ASSESS_LIVE);
  Fault fault = likeness_read(a, connector, &like);
  assessment_unref(a);
  if (fault) {
    g_assert_cmpint(fault, ==, FAULT_RANGE);
    return false;
  }
  ok(notched_bar_solve(&like.bar, &answer));
  *times = (Times){likeness_bar_times(&like.bar, answer, like.line_percent), like.times, like.bar,
                   like.turned};
  notched_bar_answer_free(answer);
  return true;
}

typedef struct {
  double least, most; /* of the bar's factor over the chart's */
  guint n;
} Charted;

/* A one-sided U notch in bending, on what stands above it; flanks open to 60 degrees change the
 * factor little. */
static void against_chart(Charted *charted, const Times *times)
{
  const NotchedBar *bar = &times->notch;
  double known = notch_one_side_bending(bar->depth / bar->height, bar->depth / bar->radius),
         share = times->bar.value / known;
  if (isnan(known)) /* sharper than the chart goes */
    return;
  charted->least = fmin(charted->least, share);
  charted->most = fmax(charted->most, share);
  charted->n++;
}

/* A change that both bands cannot explain. */
static bool surely(const Banded *a, const Banded *b)
{
  return a->low > b->high || b->low > a->high;
}

/* Start and worked answer of every exercise: where the solid's factor surely changes, the bar's
 * changes to the same side, and by about as much. */
static void test_ranks(void)
{
  /* The fit is 10 to 15 % high for blunt notches: core/SOURCES.md "notch". */
  const Source chart = {"one-sided notch in bending, Peterson 2.30a, fit as printed", READ};
  Charted charted = {INFINITY, 0, 0};
  guint ranked = 0;
  for (guint i = 0; i < set->len; i++) {
    const Exercise *e = set->pdata[i];
    Times start, answer;
    if (e->focus + 1 >= e->start.n_unit || !times_of(&e->start, e->focus, &start))
      continue;
    against_chart(&charted, &start);
    if (e->focus + 1 >= e->answer.n_unit || !times_of(&e->answer, e->focus, &answer))
      continue;
    against_chart(&charted, &answer);
    if (answer.turned != start.turned)
      continue; /* two notches */
    double own = answer.own.value / start.own.value, bar = answer.bar.value / start.bar.value;
    if (!surely(&start.own, &answer.own)) { /* as good as alike: in the bar too */
      g_assert_cmpfloat(fabs(log(bar)), <, 0.30);
      continue;
    }
    g_assert_true(surely(&start.bar, &answer.bar));
    g_assert_true((own < 1) == (bar < 1));
    g_assert_cmpfloat(fabs(log(bar / own)), <, 0.25);
    g_test_message("exercise %s: connector x %.2f, bar x %.2f", e->id, own, bar);
    ranked++;
  }
  g_assert_cmpuint(charted.n, >=, 40);
  proof_row_between("bars with the notches of the exercises, least factor over the chart's", chart,
                    1, charted.least, 0.86, 1.05);
  proof_row_between("bars with the notches of the exercises, largest factor over the chart's",
                    chart, 1, charted.most, 0.95, 1.05);
  g_assert_cmpuint(ranked, >=, 10);
}

/* From V to U: the factor falls in both, in the best outline that the room allows too. */
static void test_best(void)
{
  const Exercise *e = exercise_find(set, "1.1");
  BestSettings settings = {.threads = 2};
  Times start, best;
  Case c;
  case_init(&c);
  ok(work_best(assessor, e, &e->start, &settings, &c));
  g_assert_true(times_of(&e->start, e->focus, &start));
  g_assert_true(times_of(&c, e->focus, &best));
  g_assert_cmpfloat(best.bar.high, <, 0.7 * start.bar.low);
  g_assert_cmpfloat(best.own.high, <, 0.7 * start.own.low);
  case_clear(&c);
}

static void test_read(void)
{
  const Exercise *e = exercise_find(set, "1.1"), *free_end = exercise_find(set, "3.2");
  Assessment *a = bench_assess(assessor, &e->start, ASSESS_LIVE),
             *b = bench_assess(assessor, &free_end->start, ASSESS_LIVE);
  ConnectorAssessment *k = &a->connector[0];
  Likeness like;
  ok(likeness_read(a, 0, &like));
  g_assert_false(like.clipped);
  g_assert_cmpfloat(like.line_percent, ==, 0);
  g_assert_cmpfloat_with_epsilon(like.bar.height, 6.2, 0.05); /* key: crown 6.2 over the tissue */
  g_assert_cmpfloat_with_epsilon(like.bar.depth, 2.58, 0.02); /* and the roof at 2.58           */
  g_assert_cmpfloat_with_epsilon(like.bar.radius, 0.2, 0.01);
  g_assert_cmpfloat_with_epsilon(like.nominal_mpa * like.times.value, k->trial_peak_mpa.value,
                                 1e-6);
  /* Half the height carries a quarter. */
  g_assert_cmpfloat_with_epsilon(likeness_plain_mpa(&(NotchedBar){4, 3, 2, 0.5, 0}, 100), 25, 1e-9);
  k->form.depth = 9;
  k->form.roof_radius.value = 0;
  k->form.opening_deg = 170;
  ok(likeness_read(a, 0, &like));
  g_assert_true(like.clipped);
  g_assert_cmpfloat_with_epsilon(like.bar.depth, 0.6 * like.bar.height, 1e-9);
  g_assert_cmpfloat(like.bar.radius, ==, 0.02);
  g_assert_cmpfloat(like.bar.open_deg, ==, 120);
  NotchedBarAnswer *answer = NULL;
  ok(notched_bar_solve(&like.bar, &answer)); /* the worst can still be solved */
  notched_bar_answer_free(answer);
  k->form.depth = 0; /* a smooth bar */
  ok(likeness_read(a, 0, &like));
  ok(notched_bar_solve(&like.bar, &answer));
  g_assert_cmpfloat_with_epsilon(likeness_bar_times(&like.bar, answer, like.line_percent).value, 1,
                                 0.02);
  notched_bar_answer_free(answer);
  k->roof_doubt_percent = 30; /* by hand: the bar's notch is as doubtful */
  ok(likeness_read(a, 0, &like));
  g_assert_cmpfloat(like.line_percent, >, 5);
  g_assert_cmpfloat_with_epsilon(connector_band_percent(k, &k->trial_peak),
                                 hypot(k->trial_peak.band_percent, like.line_percent), 1e-9);
  const double kept = like.bar.height;
  k->form.roof_radius.value = NAN;
  k->form.depth = 1;
  k->form.opening_deg = NAN;
  g_assert_cmpint(likeness_read(a, 0, &like), ==, FAULT_RANGE);
  k->form.depth = 0;
  k->trial_peak.zone = SURFACE_LINGUAL;
  g_assert_cmpint(likeness_read(a, 0, &like), ==, FAULT_RANGE);
  k->trial_peak.zone = SURFACE_ROOF;
  ok(likeness_read(a, 0, &like));
  k->fault = FAULT_NO_NECK;
  g_assert_cmpint(likeness_read(a, 0, &like), ==, FAULT_RANGE);
  g_assert_cmpint(likeness_read(a, a->n_connector, &like), ==, FAULT_RANGE);
  g_assert_cmpfloat(like.bar.height, ==, kept); /* that of the last good one: a smooth bar */
  g_assert_false(like.turned);
  /* A free end: the biting side is pulled, and the groove has a radius of 0.15: the key. */
  ok(likeness_read(b, free_end->focus, &like));
  g_assert_true(like.turned);
  g_assert_cmpfloat_with_epsilon(like.bar.radius, 0.15, 0.01);
  g_assert_cmpfloat_with_epsilon(like.bar.height - like.bar.depth,
                                 b->connector[free_end->focus].form.neck_height, 1e-9);
  g_assert_cmpfloat(like.times.value, >, 2);
  assessment_unref(a);
  assessment_unref(b);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  set = exercises_all(NULL, NULL);
  ok(assessor_new(&assessor));
  g_test_add_func("/likeness/read", test_read);
  g_test_add_func("/likeness/ranks", test_ranks);
  g_test_add_func("/likeness/best", test_best);
  int status = g_test_run();
  assessor_free(assessor);
  g_ptr_array_unref(set);
  return status;
}
