/* test_score.c - scores with reasons, questions, predictions; which breaks first, in the solid.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench_work.h"
#include "case_files.h"
#include "practice/criterion.h"
#include "practice/prediction.h"
#include "proof.h"

static GPtrArray *set;
static Assessor *assessor;

static char *words(Phrase phrase)
{
  char text[512];
  phrase_format(&phrase, NULL, ".", text, sizeof text);
  return g_strdup(text);
}

static void assert_words(Phrase phrase, const char *part)
{
  g_autofree char *text = words(phrase);
  if (!strstr(text, part))
    g_error("\"%s\" lacks \"%s\"", text, part);
}

/* Of two necks that are compared the solid says the same, by more than both bands. */
static void test_ranking(void)
{
  static const struct {
    const char *id;
    int first, second; /* by the key of the exercise */
  } row[] = {{"1.3", 1, 2}, {"1.5", 1, 0}, {"2.1", 1, 0}, {"2.2", 1, 0}, {"3.5", 1, 0}};
  const Source key = {"answer key of the exercise, by a beam and a notch table apart from Soffit",
                      READ};
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    const Exercise *e = exercise_find(set, row[i].id);
    Assessment *a = bench_assess(assessor, &e->start, ASSESS_LIVE);
    g_assert_cmpuint(work_weakest(a), ==, (size_t)row[i].first);
    Banded first = a->connector[row[i].first].trial_peak_mpa,
           second = a->connector[row[i].second].trial_peak_mpa;
    g_autofree char *name =
        g_strdup_printf("exercise %s, least pull of the first to break over the "
                        "most of the second",
                        e->id);
    proof_row_between(name, key, 1.2, first.low / second.high, 1.0, 3);
    assessment_unref(a);
  }
}

typedef struct {
  Work work;
  Case c;
  Score score;
} Bench;

static void bench_begin(Bench *b, const char *id, AssessGrade grade)
{
  memset(b, 0, sizeof *b);
  b->work.exercise = exercise_find(set, id);
  b->work.start = bench_assess(assessor, &b->work.exercise->start, grade);
  b->work.mine = assessment_ref((Assessment *)b->work.start);
  b->work.strokes = -1;
  case_init(&b->c);
  ok(case_copy(&b->c, &b->work.exercise->start));
}

static void bench_hand_in(Bench *b, AssessGrade grade)
{
  assessment_unref((Assessment *)b->work.mine);
  b->work.mine = bench_assess(assessor, &b->c, grade);
  score_work(&b->work, &b->score);
}

static void bench_end(Bench *b)
{
  assessment_unref((Assessment *)b->work.start);
  assessment_unref((Assessment *)b->work.mine);
  case_clear(&b->c);
}

static void redraw(Bench *b, size_t i, const Corner corner[], size_t n)
{
  Neighbours around = case_neighbours(&b->c, i);
  Outline line;
  Side side;
  outline_init(&line);
  ok(shape_gingival(corner, n, &around, &line));
  outline_clear(&b->c.connector[i].side[SIDE_GINGIVAL]);
  b->c.connector[i].side[SIDE_GINGIVAL] = line;
  ok(connector_complete(&b->c, i, &side));
}

/* A roof that is too sharp is told what would fit and what it would gain; partial credit grows. */
static void test_reasons(void)
{
  Bench b;
  bench_begin(&b, "1.1", ASSESS_REST);
  const Corner half[] = {{-1.5, 0, 0}, {-0.7, 2.5, 0.5}, {0.7, 2.5, 0.5}, {1.5, 0, 0}};
  score_work(&b.work, &b.score);
  double share = b.score.share;
  assert_words(b.score.row[0].asked, "Roof radius at least 0.80");
  assert_words(b.score.row[0].is, "0.20");
  assert_words(b.score.row[0].reason, "Your roof radius is 0.20 mm: ");
  assert_words(b.score.row[0].reason, "would fit and lower the peak by ");
  assert_words(b.score.head, "4 of 5: one step to go");
  g_assert_cmpuint(b.score.n_gain, >, 0);
  redraw(&b, 0, half, 4);
  bench_hand_in(&b, ASSESS_LIVE);
  g_assert_cmpuint(b.score.met, ==, 4);
  g_assert_cmpfloat(b.score.share, >, share + 0.05);
  g_assert_cmpfloat(b.score.mine_mpa.value, <, 0.8 * b.score.start_mpa.value);
  g_assert_cmpfloat(b.score.mine_mpa.high, >, b.score.mine_mpa.value);
  /* too much of it costs what was met before */
  const Corner high[] = {{-1.5, 0, 0}, {-1.1, 2.9, 0.9}, {1.1, 2.9, 0.9}, {1.7, 0, 0}};
  redraw(&b, 0, high, 4);
  b.work.strokes = 7;
  bench_hand_in(&b, ASSESS_LIVE);
  assert_words(b.score.row[1].reason, "Your roof lies at 2.90. Bring it down to 2.58");
  assert_words(b.score.row[3].reason, "A foot has moved by 0.20");
  g_assert_cmpfloat(b.score.row[3].share, ==, 0);
  g_assert_false(b.score.passed);
  assert_words(b.score.remark[b.score.n_remark - 1], "Strokes used: 7.");
  g_assert_true(b.score.right & 1u << SKILL_BRUSH);
  g_assert_true(b.score.wrong & 1u << SKILL_DEPTH);
  bench_end(&b);
}

/* The best outline of the room meets what can be met by shape, and the drawing is held against it.
 */
static void test_best(void)
{
  Bench b;
  Case best;
  BestSettings settings = {.threads = 2};
  bench_begin(&b, "2.2", ASSESS_LIVE);
  case_init(&best);
  ok(work_best(assessor, b.work.exercise, &b.c, &settings, &best));
  Assessment *ideal = bench_assess(assessor, &best, ASSESS_LIVE);
  b.work.best = ideal;
  score_work(&b.work, &b.score);
  const ScoreRow *peak = &b.score.row[1];
  g_assert_true(peak->best_met);
  g_assert_cmpfloat(b.score.best_mpa.value, <, 0.7 * b.score.start_mpa.value);
  assert_words(b.score.remark[0], "the best in this room");
  g_assert_cmpfloat(ideal->connector[1].form.neck_height, >,
                    b.work.start->connector[1].form.neck_height - 0.005);
  g_assert_true(outline_equal(&best.connector[0].side[SIDE_GINGIVAL],
                              &b.c.connector[0].side[SIDE_GINGIVAL], 0));
  const Criterion near = {MEASURE_ABOVE_BEST, 1, NAN, 10};
  g_assert_false(criterion_met(&near, measure_value(MEASURE_ABOVE_BEST, &b.work, 1)));
  case_clear(&b.c);
  case_init(&b.c);
  ok(case_copy(&b.c, &best));
  bench_hand_in(&b, ASSESS_LIVE);
  g_assert_true(criterion_met(&near, measure_value(MEASURE_ABOVE_BEST, &b.work, 1)));
  assert_words(b.score.remark[0], "as good as the best");
  assessment_unref(ideal);
  case_clear(&best);
  bench_end(&b);
}

/* The best is no outline that would fail: it keeps to the radius that is asked, and to the cutter
 * of the exercise where that asks more. */
static void test_best_keeps(void)
{
  Bench b;
  Case best;
  BestSettings settings = {.threads = 2};
  bench_begin(&b, "1.1", ASSESS_LIVE);
  case_init(&best);
  ok(work_best(assessor, b.work.exercise, &b.c, &settings, &best));
  g_assert_true(isnan(best.cutter_diameter)); /* its own stays unsaid */
  Assessment *ideal = bench_assess(assessor, &best, ASSESS_LIVE);
  b.work.best = ideal;
  score_work(&b.work, &b.score);
  for (size_t i = 0; i < b.score.n; i++)
    g_assert_true(b.score.row[i].best_met);
  g_assert_cmpfloat(b.score.best_mpa.value, <, 0.6 * b.score.start_mpa.value);
  Case room;
  case_init(&room);
  b.c.cutter_diameter = 3;
  ok(work_room(b.work.exercise, &b.c, &room));
  g_assert_cmpfloat(room.cutter_diameter, ==, 3); /* 1.21 mm: rounder than what is asked */
  case_clear(&room);
  assessment_unref(ideal);
  case_clear(&best);
  bench_end(&b);
}

static const Question *question_of(const Work *work, const char *id)
{
  for (size_t i = 0; i < work->exercise->n_question; i++)
    if (strcmp(work->exercise->question[i].id, id) == 0)
      return &work->exercise->question[i];
  g_assert_not_reached();
}

static Judged judge(const Work *work, const char *id, const char *answer)
{
  return question_judge(question_of(work, id), work, answer);
}

static void test_questions(void)
{
  Bench b;
  bench_begin(&b, "1.2", ASSESS_LIVE);
  g_assert_true(judge(&b.work, "lowest", "35/36").right);
  Judged wrong = judge(&b.work, "lowest", "34-35");
  g_assert_false(wrong.right);
  assert_words(wrong.reason, "It is 35/36.");
  g_assert_false(judge(&b.work, "lowest", "nonsense").right);
  assert_words(judge(&b.work, "lowest", NULL).reason, "Not answered yet.");
  g_assert_true(judge(&b.work, "radius", "0,83").right); /* a comma is as good */
  g_assert_false(judge(&b.work, "radius", "0.90").right);
  assert_words(judge(&b.work, "radius", "0.90").reason, "It is 0.75.");
  g_assert_cmpfloat(judge(&b.work, "radius", "0.90").share, >, 0);
  g_assert_cmpfloat(judge(&b.work, "radius", "5").share, ==, 0);
  assert_words(judge(&b.work, "radius", "much").reason, "This is no number.");
  bench_end(&b);

  bench_begin(&b, "4.4", ASSESS_LIVE);
  g_assert_true(judge(&b.work, "faults", "corner polish record saddle").right);
  g_assert_true(
      judge(&b.work, "faults", "polish corner saddle record gap").right); /* one forgiven */
  g_assert_false(judge(&b.work, "faults", "polish corner saddle record gap class").right);
  Judged some = judge(&b.work, "faults", "polish corner");
  g_assert_cmpfloat(some.share, ==, 0.5);
  assert_words(some.reason, "Missing: 26: polish the tissue side.");
  bench_end(&b);

  bench_begin(&b, "3.1", ASSESS_LIVE);
  Judged order = judge(&b.work, "order", "diamond fine coarse check");
  g_assert_cmpfloat(order.share, ==, 0.5);
  assert_words(order.reason, "Step 2 is: rubber, coarse.");
  g_assert_false(judge(&b.work, "order", "diamond coarse fine check check").right);
  bench_end(&b);

  bench_begin(&b, "2.4",
              ASSESS_LIVE); /* to ask is as good as to draw, and nothing need be drawn then */
  b.work.answer[0] = "ask-little";
  score_work(&b.work, &b.score);
  g_assert_true(b.score.passed);
  g_assert_cmpuint(b.score.n, ==, 1);
  b.work.answer[0] = "ask-much";
  score_work(&b.work, &b.score);
  g_assert_false(b.score.passed);
  g_assert_cmpuint(b.score.n, ==, 5);
  bench_end(&b);
}

/* A cross is held against the hot spot of the solid; a guess of the gain against the real one. */
static void test_predictions(void)
{
  Bench b;
  bench_begin(&b, "1.5", ASSESS_LIVE);
  Vec3 hot = b.work.start->connector[1].trial_peak.at;
  g_assert_cmpfloat(fabs(hot.x), <, 0.5); /* the roof of 46/47: the key of the exercise */
  g_assert_cmpfloat_with_epsilon(hot.y, 2.41, 0.05);
  PlacePrediction hit = prediction_place(b.work.start, 1, point(hot.x + 0.3, hot.y)),
                  miss = prediction_place(b.work.start, 1, point(hot.x, hot.y + 0.9));
  g_assert_true(hit.hit);
  g_assert_cmpfloat_with_epsilon(hit.miss, 0.3, 1e-9);
  g_assert_false(miss.hit);
  assert_words(miss.says, "0.9 mm from the hot spot");
  const Question *q = question_of(&b.work, "crack");
  g_autofree char *near = place_to_text(&b.c, 1, point(hot.x + 0.3, hot.y - 0.3));
  g_autofree char *other = place_to_text(&b.c, 0, point(hot.x, hot.y));
  g_assert_true(question_judge(q, &b.work, near).right);
  assert_words(question_judge(q, &b.work, other).reason, "It is worst at 46/47.");
  g_assert_false(question_judge(q, &b.work, "46-47 much").right);
  g_assert_cmpfloat(prediction_gain(b.work.start, b.work.mine, 1), ==, 0);
  assert_words(prediction_gain_phrase(30, 68), "shape does more than it seems");
  assert_words(prediction_gain_phrase(60, 68), "a good eye");
  assert_words(prediction_gain_phrase(NAN, 68), "Guess first");
  bench_end(&b);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  set = exercises_all(NULL, NULL);
  ok(assessor_new(&assessor));
  g_test_add_func("/score/ranking", test_ranking);
  g_test_add_func("/score/reasons", test_reasons);
  g_test_add_func("/score/best", test_best);
  g_test_add_func("/score/best-keeps", test_best_keeps);
  g_test_add_func("/score/questions", test_questions);
  g_test_add_func("/score/predictions", test_predictions);
  int status = g_test_run();
  assessor_free(assessor);
  g_ptr_array_unref(set);
  return status;
}
