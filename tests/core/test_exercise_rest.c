/* test_exercise_rest.c - the exercises at the grade of an answer at rest, and the best outline of
 * each; a minute. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The live grade decides the same in test_exercise.c: here nothing may change when the hand rests.
 */
#include "bench_work.h"

static GPtrArray *set;
static Assessor *assessor;

/* The start fails, the worked answer passes, as live. */
static void test_solvable(void)
{
  for (guint i = 0; i < set->len; i++) {
    const Exercise *e = set->pdata[i];
    Assessment *start = bench_assess(assessor, &e->start, ASSESS_REST);
    Assessment *mine =
        e->answer.n_unit ? bench_assess(assessor, &e->answer, ASSESS_REST) : assessment_ref(start);
    Work work = {.exercise = e, .start = start, .mine = start, .strokes = -1};
    Score score;
    bench_answer(&work);
    score_work(&work, &score);
    g_assert_true(score.passed == (e->answer.n_unit == 0));
    work.mine = mine;
    score_work(&work, &score);
    g_test_message("%s: %.0f, worked answer %.0f MPa", e->id, score.start_mpa.value,
                   score.mine_mpa.value);
    g_assert_true(score.passed);
    bench_clear(&work);
    assessment_unref(mine);
    assessment_unref(start);
  }
}

/* Where the gum side is to be redrawn for strength, the search finds an outline that is calmer than
 * the start and, in width and groove of the worked answer, no worse than it by more than both
 * bands.  Not so where the task opens room for a brush, or the groove is what is pulled. */
static void test_optimiser(void)
{
  static const char *const id[] = {"1.1", "1.3", "1.4", "2.2", "2.3", "2.4", "2.5", "2.6", "3.1",
                                   "3.3", "3.5", "4.1", "4.2", "4.3", "4.4", "4.5", "4.6"};
  for (size_t i = 0; i < G_N_ELEMENTS(id); i++) {
    const Exercise *e = exercise_find(set, id[i]);
    BestSettings settings = {.threads = 2};
    Case best;
    case_init(&best);
    ok(work_best(assessor, e, &e->answer, &settings, &best));
    Assessment *start = bench_assess(assessor, &e->start, ASSESS_LIVE),
               *mine = bench_assess(assessor, &e->answer, ASSESS_LIVE),
               *ideal = bench_assess(assessor, &best, ASSESS_LIVE);
    Banded was = start->connector[e->focus].trial_peak_mpa,
           worked = mine->connector[e->focus].trial_peak_mpa,
           found = ideal->connector[e->focus].trial_peak_mpa;
    g_test_message("%s: start %.0f, worked answer %.0f, best %.0f MPa", e->id, was.value,
                   worked.value, found.value);
    g_assert_cmpfloat(found.high, <, was.low);
    if (e->take_height == ANSWER_YES)
      g_assert_cmpfloat(found.low, <, worked.high);
    assessment_unref(ideal);
    assessment_unref(mine);
    assessment_unref(start);
    case_clear(&best);
  }
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  set = exercises_all(NULL, NULL);
  ok(assessor_new(&assessor));
  g_test_add_func("/exercise-rest/solvable", test_solvable);
  g_test_add_func("/exercise-rest/optimiser", test_optimiser);
  int status = g_test_run();
  assessor_free(assessor);
  g_ptr_array_unref(set);
  return status;
}
