/* bench_assess.c - time of the whole call: live answers of a changed outline, and a case at rest.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Outline to verdict through assess(), a new outline every time, so that nothing kept helps. Ratios
 * are to one quarter solid solved in the same run: they hold on faster and slower machines. */
#include "assess_best.h"
#include "casefile/case_xml.h"
#include "outline/shape.h"
#include "timing.h"
#include <stdio.h>
#include <stdlib.h>

#define RUNS 15

static double one_quarter; /* ms */

static void tell(const char *name, double ms[], size_t n)
{
  double middle = timing_median(ms, n);
  printf("%-44s %9.1f %9.1f %8.1f\n", name, ms[0], middle, middle / one_quarter);
}

typedef enum { SHAPE_EVEN, SHAPE_LEANS, SHAPE_FLAT, SHAPE_FLAT_LEANS, SHAPE_LOPSIDED } ShapeKind;

/* Two units and one connector; `step` makes each outline a new one.  One arc from leg to leg, or a
 * flat between two, which takes more layers. */
static void case_draw(Case *c, ShapeKind kind, int step)
{
  case_init(c);
  c->n_unit = 2;
  c->order_load_n = 600;
  for (size_t i = 0; i < 2; i++)
    c->unit[i] =
        (Unit){.tooth = 45 + (int)i, .role = ROLE_ABUTMENT, .length = 8, .width = 9, .height = 7};
  Neighbours around = case_neighbours(c, 0);
  Connector *k = &c->connector[0];
  double radius = 0.4 + 0.01 * step;
  Corner corner[4] = {{-1.4, 0, 0}, {-0.9, 2, radius}, {0.9, 2, radius}, {1.4, 0, 0}};
  Outline *line = &k->side[SIDE_GINGIVAL];
  if (kind < SHAPE_FLAT ? shape_starter_u(1.3 + 0.01 * step, 2, &around, line)
                        : shape_gingival(corner, 4, &around, line))
    exit(1);
  k->drawn[SIDE_GINGIVAL] = true;
  if (kind == SHAPE_LEANS || kind == SHAPE_FLAT_LEANS)
    outline_transform(line, (double[]){1, 0, 0.06, 1, 0, 0}); /* one leg steeper */
  if (kind != SHAPE_LOPSIDED)
    return;
  if (case_complete(c))
    exit(1);
  double out[6] = {1, 0, 0, 1, 0, 0.3};
  outline_transform(&k->side[SIDE_BUCCAL], out);
  k->drawn[SIDE_BUCCAL] = true;
}

static double quarter_solid(void)
{
  double ms[RUNS];
  size_t unknowns;
  Case c;
  case_draw(&c, SHAPE_EVEN, 20);
  if (case_complete(&c))
    exit(1);
  const Outline *side = c.connector[0].side;
  LoftInput input = {
      &side[SIDE_GINGIVAL], &side[SIDE_OCCLUSAL], &side[SIDE_BUCCAL], &side[SIDE_LINGUAL], 0, 2, 4};
  double middle = solid_timing(&input, SOLID_LIVE, ms, RUNS, &unknowns);
  if (!(middle > 0))
    exit(1);
  case_clear(&c);
  return middle;
}

static void changed_outlines(const char *name, ShapeKind kind, AssessGrade grade, int threads,
                             size_t runs)
{
  Assessor *assessor = NULL;
  double ms[RUNS];
  if (assessor_new(&assessor))
    exit(1);
  for (size_t i = 0; i <= runs; i++) { /* the first one touches the buffers */
    AssessSettings settings = assess_settings_default();
    Assessment *a = NULL;
    Case c;
    settings.grade = grade;
    settings.threads = threads;
    case_draw(&c, kind, (int)i);
    gint64 start = g_get_monotonic_time();
    if (assess(assessor, &c, &settings, &a) || a->connector[0].fault)
      exit(1);
    if (i > 0)
      ms[i - 1] = milliseconds_since(start);
    assessment_unref(a);
    case_clear(&c);
  }
  tell(name, ms, runs);
  assessor_free(assessor);
}

static void case_at_rest(const char *name, const Case *c, int threads, bool warm, bool waterfall)
{
  double ms[7];
  for (size_t i = 0; i < G_N_ELEMENTS(ms); i++) {
    Assessor *assessor = NULL; /* knows nothing yet */
    AssessSettings settings = assess_settings_default();
    Assessment *a = NULL, *again = NULL;
    settings.threads = threads;
    settings.waterfall = waterfall;
    if (assessor_new(&assessor))
      exit(1);
    gint64 start = g_get_monotonic_time();
    if (assess(assessor, c, &settings, &a))
      exit(1);
    if (warm) {
      start = g_get_monotonic_time();
      if (assess(assessor, c, &settings, &again))
        exit(1);
    }
    ms[i] = milliseconds_since(start);
    assessment_unref(again);
    assessment_unref(a);
    assessor_free(assessor);
  }
  tell(name, ms, G_N_ELEMENTS(ms));
}

/* The hand drags the trial load, or a line, of a whole bridge; the answers of the other necks
 * stand.
 */
static void bridge_dragged(const char *name, const Case *drawn, int threads, bool line)
{
  Assessor *assessor = NULL;
  Case c;
  double ms[RUNS];
  case_init(&c);
  if (assessor_new(&assessor) || case_copy(&c, drawn) || case_complete(&c))
    exit(1);
  for (int i = -1; i < RUNS; i++) {
    AssessSettings settings = assess_settings_default();
    Assessment *a = NULL;
    settings.grade = ASSESS_LIVE;
    settings.threads = threads;
    settings.focus = 0;
    c.trial = (CaseLoad){.x = 8 + i, .force_n = 200};
    if (line) {
      outline_transform(&c.connector[0].side[SIDE_GINGIVAL], (double[]){1, 0, 0, 0.999, 0, 0});
      c.connector[0].drawn[SIDE_GINGIVAL] = true;
    }
    gint64 start = g_get_monotonic_time();
    if (assess(assessor, &c, &settings, &a) || a->fault)
      exit(1);
    if (i >= 0)
      ms[i] = milliseconds_since(start);
    assessment_unref(a);
  }
  tell(name, ms, RUNS);
  case_clear(&c);
  assessor_free(assessor);
}

/* The best outline of the second connector, by an assessor that has worked before. */
static void best_outline(const Case *c, int threads)
{
  Assessor *assessor = NULL;
  double ms[5];
  int solves = 0;
  if (assessor_new(&assessor))
    exit(1);
  for (int i = -1; i < (int)G_N_ELEMENTS(ms); i++) {
    Case other; /* a hundredth of a millimetre more each time: nothing kept helps */
    BestOutline best;
    BestSettings settings = {.threads = threads};
    case_init(&other);
    best_outline_init(&best);
    if (case_copy(&other, c))
      exit(1);
    outline_transform(&other.connector[1].side[SIDE_GINGIVAL],
                      (const double[6]){1, 0, 0, 1 - 0.004 * (i + 1), 0, 0});
    gint64 start = g_get_monotonic_time();
    if (assess_best(assessor, &other, 1, &settings, &best) || best.outline.n == 0)
      exit(1);
    if (i >= 0)
      ms[i] = milliseconds_since(start);
    solves = best.solves;
    best_outline_clear(&best);
    case_clear(&other);
  }
  g_autofree char *name = g_strdup_printf("best outline, %d solids, %d thread%s", solves, threads,
                                          threads > 1 ? "s" : "");
  tell(name, ms, G_N_ELEMENTS(ms));
  assessor_free(assessor);
}

int main(int argc, char **argv)
{
  g_autoptr(GError) error = NULL;
  Case c, bowed;
  case_init(&c);
  case_init(&bowed);
  if (argc != 3 || !case_load(&c, argv[1], &error) || !case_load(&bowed, argv[2], &error)) {
    fprintf(stderr, "bench_assess: %s\n", error ? error->message : "name two case files");
    return 1;
  }
  one_quarter = quarter_solid();
  printf("%-44s %9s %9s %8s\n", "assess", "best ms", "median ms", "quarters");
  printf("%-44s %9s %9.1f %8.1f\n", "one quarter solid", "", one_quarter, 1.0);
  changed_outlines("live, both symmetries", SHAPE_EVEN, ASSESS_LIVE, 1, RUNS);
  changed_outlines("live, one symmetry", SHAPE_LEANS, ASSESS_LIVE, 1, RUNS);
  changed_outlines("live, one symmetry, 2 threads", SHAPE_LEANS, ASSESS_LIVE, 2, RUNS);
  changed_outlines("live, both symmetries, flat roof", SHAPE_FLAT, ASSESS_LIVE, 1, RUNS);
  changed_outlines("live, one symmetry, flat roof", SHAPE_FLAT_LEANS, ASSESS_LIVE, 1, RUNS);
  changed_outlines("live, no symmetry: cheek and tongue averaged", SHAPE_LOPSIDED, ASSESS_LIVE, 1,
                   RUNS);
  changed_outlines("rest, no symmetry, with advice", SHAPE_LOPSIDED, ASSESS_REST, 1, 5);
  bridge_dragged("live, four units, load dragged", &c, 1, false);
  bridge_dragged("live, four units, line drawn", &c, 1, true);
  bridge_dragged("live, six units on an arch, load dragged", &bowed, 1, false);
  bridge_dragged("live, six units on an arch, line drawn", &bowed, 1, true);
  case_at_rest("rest, four units, 1 thread", &c, 1, false, false);
  case_at_rest("rest, four units, 2 threads", &c, 2, false, false);
  case_at_rest("rest, four units, nothing changed", &c, 2, true, false);
  case_at_rest("rest, four units, best to drawn of each", &c, 2, false, true);
  best_outline(&c, 1);
  best_outline(&c, 2);
  case_clear(&c);
  case_clear(&bowed);
  return 0;
}
