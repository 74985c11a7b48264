/* test_best.c - the best outline in its room, decided in the solid.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "best_rooms.h"
#include "case_files.h"

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)
#define study                                                                                      \
  ((Source){"searches in the solid by independent codes: 12 to 23 % below the best arc", SOLVER})
#define STUDY_MIDDLE 0.825

/* Held against the best circular arc of the same room: at least a tenth lower. */
static void test_arcs(void)
{
  Assessor *assessor = NULL;
  ok(assessor_new(&assessor));
  for (size_t i = 0; i < G_N_ELEMENTS(best_room); i++) {
    const BestRoom *room = &best_room[i];
    double arc = best_room_arc_peak(room, SOLID_LIVE);
    BestOutline best;
    best_room_search(assessor, room, 2, &best);
    g_autofree char *what = g_strdup_printf("pull, best outline / best arc, room %s", room->name);
    g_test_message("%s: %.1f / %.1f MPa, %d solves, %.2f s", what, best.best_mpa, arc, best.solves,
                   best.seconds);
    proof_row_between(what, study, STUDY_MIDDLE, best.best_mpa / arc, 0.7, 0.9);
    g_assert_cmpint(best.solves, <=, best.of);
    best_outline_clear(&best);
  }
  assessor_free(assessor);
}

/* ---- a case ---- */

typedef struct {
  Case c;
  Assessor *assessor;
  BestSettings settings;
} Bench;

static void bench_init(Bench *b)
{
  demo_load(&b->c, "demo/QB-02.xml");
  b->assessor = NULL;
  ok(assessor_new(&b->assessor));
  b->settings = (BestSettings){.threads = 2};
}

static void bench_clear(Bench *b)
{
  assessor_free(b->assessor);
  case_clear(&b->c);
}

static Form form_of(const Case *c, const Outline *gingival)
{
  const Outline *side = c->connector[1].side;
  Form form;
  ok(form_read(gingival, &side[SIDE_OCCLUSAL], &side[SIDE_BUCCAL], &side[SIDE_LINGUAL], NULL, &form,
               NULL));
  return form;
}

static RoomBreach breach_of(const Case *c, const Outline *gingival)
{
  Form now = form_of(c, &c->connector[1].side[SIDE_GINGIVAL]);
  Room room;
  RoomBreach breach;
  room_init(&room);
  ok(room_of(c, 1, &now, &room));
  ok(room_check(&room, gingival, &c->connector[1].side[SIDE_OCCLUSAL], &breach, NULL));
  room_clear(&room);
  return breach;
}

static int told, falling;
static double last_told;

static void tell(const BestOutline *so_far, void *data)
{
  g_assert_true(data == &told);
  g_assert_false(so_far->confirmed);
  told++;
  if (so_far->outline.n) {
    g_assert_true(isnan(last_told) || so_far->best_mpa <= last_told);
    falling += isnan(last_told) || so_far->best_mpa < last_told;
    last_told = so_far->best_mpa;
  }
}

static void test_case(void)
{
  Bench b;
  BestOutline best, again;
  bench_init(&b);
  best_outline_init(&best);
  best_outline_init(&again);
  told = falling = 0, last_told = NAN;
  b.settings.progress = tell;
  b.settings.progress_data = &told;
  ok(assess_best(b.assessor, &b.c, 1, &b.settings, &best));
  g_assert_cmpint(told, >, 10);
  g_assert_cmpint(falling, >, 1);
  g_assert_true(best.confirmed);
  g_assert_cmpuint(best.outline.n, >, 0);
  /* a V of 0.2 mm loses a quarter at least; the band holds the figure */
  g_assert_cmpfloat(best.fall_percent.value, >, 25);
  g_assert_cmpfloat(best.fall_percent.low, <, best.fall_percent.value);
  g_assert_cmpfloat(best.fall_percent.high, >, best.fall_percent.value);
  g_assert_cmpfloat_with_epsilon(best.fall_percent.value,
                                 100 * (1 - best.best_mpa / best.today_mpa), 1e-9);
  g_assert_cmpint(breach_of(&b.c, &best.outline), ==, ROOM_KEPT);
  Form now = form_of(&b.c, &b.c.connector[1].side[SIDE_GINGIVAL]),
       then = form_of(&b.c, &best.outline);
  g_assert_cmpfloat(then.neck_height, >, now.neck_height - 2e-3);
  g_assert_cmpfloat(then.neck_height, <, now.neck_height + 0.05);
  g_assert_cmpfloat(then.roof_radius.value, >, 0.29);
  /* other threads, an assessor that knows nothing: the same outline to the last bit */
  Assessor *fresh = NULL;
  ok(assessor_new(&fresh));
  BestSettings alone = {.threads = 1};
  ok(assess_best(fresh, &b.c, 1, &alone, &again));
  g_assert_true(outline_equal(&best.outline, &again.outline, 0));
  g_assert_cmpfloat(best.best_mpa, ==, again.best_mpa);
  g_assert_cmpint(best.solves, ==, again.solves);
  /* the best of the best is no better */
  ok(outline_copy(&b.c.connector[1].side[SIDE_GINGIVAL], &best.outline));
  b.c.connector[1].drawn[SIDE_GINGIVAL] = true;
  ok(assess_best(fresh, &b.c, 1, &alone, &again));
  g_assert_true(again.outline.n == 0 || again.fall_percent.value < 4);
  assessor_free(fresh);
  best_outline_clear(&best);
  best_outline_clear(&again);
  bench_clear(&b);
}

static void test_height(void)
{
  Bench b;
  BestOutline kept, taken;
  bench_init(&b);
  best_outline_init(&kept);
  best_outline_init(&taken);
  ok(assess_best(b.assessor, &b.c, 1, &b.settings, &kept));
  b.settings.take_height = true;
  ok(assess_best(b.assessor, &b.c, 1, &b.settings, &taken));
  g_assert_cmpint(breach_of(&b.c, &taken.outline), ==, ROOM_KEPT);
  g_assert_cmpfloat(form_of(&b.c, &taken.outline).neck_height, >,
                    form_of(&b.c, &kept.outline).neck_height + 0.3);
  g_assert_cmpfloat(taken.best_mpa, <, 0.9 * kept.best_mpa);
  best_outline_clear(&kept);
  best_outline_clear(&taken);
  bench_clear(&b);
}

/* Cutter, brush and a drawn room bind the outline. */
static void test_limits(void)
{
  Bench b;
  BestOutline best;
  bench_init(&b);
  best_outline_init(&best);
  b.c.cutter_diameter = 1.5; /* 0.6 mm after firing */
  ok(assess_best(b.assessor, &b.c, 1, &b.settings, &best));
  g_assert_cmpuint(best.outline.n, >, 0);
  for (double t = 0; t < (double)outline_pieces(&best.outline); t += 0.013)
    if (outline_at(&best.outline, t).y > 0.1)
      g_assert_cmpfloat(-outline_curvature(&best.outline, t), <, 1.01 / 0.6);
  b.c.cutter_diameter = 8; /* no such roof fits between the feet */
  ok(assess_best(b.assessor, &b.c, 1, &b.settings, &best));
  g_assert_cmpuint(best.outline.n, ==, 0);
  g_assert_cmpint(best.breach, !=, ROOM_KEPT);
  b.c.cutter_diameter = NAN;
  b.c.brush_mm = 4; /* nor does such a brush */
  ok(assess_best(b.assessor, &b.c, 1, &b.settings, &best));
  g_assert_cmpuint(best.outline.n, ==, 0);
  g_assert_cmpint(best.breach, ==, ROOM_BRUSH);
  b.c.brush_mm = 1.1;
  size_t bad;
  ok(outline_from_path(&b.c.connector[1].room,
                       "M -1.8 0 L -1.2 2.4 C -0.6 2.6 0.6 2.6 1.2 2.4 L 1.8 0", &bad));
  ok(assess_best(b.assessor, &b.c, 1, &b.settings, &best));
  g_assert_cmpuint(best.outline.n, >, 0);
  g_assert_cmpint(breach_of(&b.c, &best.outline), ==, ROOM_KEPT);
  g_assert_cmpfloat(form_of(&b.c, &best.outline).roof.y, <, 2.56);
  best_outline_clear(&best);
  bench_clear(&b);
}

static bool at_once(void *data)
{
  return data == NULL;
}

static void test_refused(void)
{
  Bench b;
  BestOutline best;
  bench_init(&b);
  best_outline_init(&best);
  g_assert_cmpint(assess_best(b.assessor, &b.c, 7, &b.settings, &best), ==, FAULT_RANGE);
  BestSettings stop = b.settings;
  stop.cancelled = at_once;
  g_assert_cmpint(assess_best(b.assessor, &b.c, 1, &stop, &best), ==, FAULT_CANCELLED);
  Outline *gingival = &b.c.connector[1].side[SIDE_GINGIVAL];
  outline_clear(gingival);
  ok(outline_move_to(gingival, point(-3.5, 0))); /* no embrasure at all */
  ok(outline_line_to(gingival, point(5.5, 0)));
  g_assert_cmpint(assess_best(b.assessor, &b.c, 1, &b.settings, &best), ==, FAULT_RANGE);
  g_assert_cmpuint(best.outline.n, ==, 0);
  best_outline_clear(&best);
  bench_clear(&b);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/best/arcs", test_arcs);
  g_test_add_func("/best/case", test_case);
  g_test_add_func("/best/height", test_height);
  g_test_add_func("/best/limits", test_limits);
  g_test_add_func("/best/refused", test_refused);
  return g_test_run();
}
