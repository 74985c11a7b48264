/* test_best_session.c - the best outline in the window's session, and two variants compared.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/variant.h"
#include "ui/drawing/picture_compare.h"
#include "ui/session.h"
#include "ui/trace/compare_words.h"
#include <string.h>

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)
#define PATIENCE_S 100

static void turn_until(SoffitSession *session, bool (*there)(SoffitSession *))
{
  gint64 end = g_get_monotonic_time() + PATIENCE_S * G_USEC_PER_SEC;
  while (!there(session)) {
    g_assert_cmpint(g_get_monotonic_time(), <, end);
    if (!g_main_context_iteration(NULL, FALSE))
      g_usleep(2000);
  }
}

static SoffitSession *opened(void)
{
  SoffitSession *session = session_new("", NULL);
  GError *error = NULL;
  session_open_demo(session, "demo/QB-02.xml", &error);
  g_assert_no_error(error);
  turn_until(session, session_at_rest);
  session_set_focus(session, 1);
  turn_until(session, session_at_rest);
  return session;
}

static const Outline *outline_now(SoffitSession *session)
{
  return &session_case(session)->connector[1].side[SIDE_GINGIVAL];
}

static int told;

static void preview_told(void)
{
  told++;
}

static void test_part_and_whole(void)
{
  SoffitSession *session = opened();
  Outline start, best;
  outline_init(&start);
  outline_init(&best);
  ok(outline_copy(&start, outline_now(session)));
  g_signal_connect(session, "preview-changed", G_CALLBACK(preview_told), NULL);
  told = 0;
  g_assert_true(session_best_begin(session, false));
  g_assert_true(session_best_shown(session));
  g_assert_false(session_best_ready(session));
  g_assert_false(session_preview_keep(session)); /* nothing was found yet */
  turn_until(session, session_best_ready);
  g_assert_cmpint(told, >, 3); /* it grew on the way */
  const Advice *advice = session_previewed(session);
  double gain = advice->gain_percent.value, fall = 100 * gain / (100 + gain);
  g_assert_cmpfloat(fall, >, 25);
  g_assert_cmpfloat(advice->gain_percent.low, <, gain);
  ok(outline_copy(&best, &advice->ghost));
  g_assert_true(outline_equal(outline_now(session), &start, 0)); /* nothing is changed by looking */
  /* a part, as one step that can be undone */
  g_assert_nonnull(session_edit_begin(session, "Take part of the best outline"));
  for (double share = 0.1; share < 0.45; share += 0.1)
    ok(session_best_set_share(session, share));
  g_assert_true(session_edit_end(session));
  double way, all;
  Point between =
      outline_at(outline_now(session), (double)outline_pieces(outline_now(session)) * 0.4);
  outline_nearest(&start, between, &way);
  outline_nearest(&best, between, &all);
  g_assert_cmpfloat(way, >, 0.02);
  g_assert_cmpfloat(all, >, 0.02);
  g_assert_true(session_best_ready(session)); /* the ghost stays to be pulled on */
  g_assert_true(session_best_take(session));
  g_assert_true(outline_equal(outline_now(session), &best, 0));
  g_assert_false(session_best_shown(session));
  g_assert_true(session_undo(session));
  g_assert_true(session_undo(session));
  g_assert_true(outline_equal(outline_now(session), &start, 1e-9));
  outline_clear(&start);
  outline_clear(&best);
  g_object_unref(session);
}

static bool answered(SoffitSession *session)
{
  return !session_following(session);
}

/* Parts of the way are solved alike, by the solid, also where its band is so wide that the plane
 * would stand in for it (QB-02, the first fifth of the way). */
static void test_parts_in_solid(void)
{
  SoffitSession *session = opened();
  g_assert_true(session_best_begin(session, false));
  turn_until(session, session_best_ready);
  g_assert_nonnull(session_edit_begin(session, "Take part of the best outline"));
  for (double share = 0.2; share < 0.9; share += 0.3) {
    ok(session_best_set_share(session, share));
    turn_until(session, answered);
    const Assessment *a = session_assessment(session);
    g_assert_cmpint(a->connector[session_focus(session)].field->answer, ==, ANSWER_SOLID);
  }
  g_assert_true(session_edit_end(session));
  g_object_unref(session);
}

/* Kept while a part is drawn: that part, no more. */
static void test_part_kept(void)
{
  SoffitSession *session = opened();
  Outline part;
  outline_init(&part);
  g_assert_true(session_best_begin(session, false));
  turn_until(session, session_best_ready);
  g_assert_false(session_best_in_part(session));
  g_assert_nonnull(session_edit_begin(session, "Take part of the best outline"));
  ok(session_best_set_share(session, 0.5));
  g_assert_true(session_edit_end(session));
  g_assert_true(session_best_in_part(session));
  ok(outline_copy(&part, outline_now(session)));
  g_assert_true(session_preview_keep(session));
  g_assert_true(outline_equal(outline_now(session), &part, 0));
  g_assert_false(session_best_shown(session));
  g_assert_false(session_best_in_part(session));
  outline_clear(&part);
  g_object_unref(session);
}

static void test_left(void)
{
  SoffitSession *session = opened();
  for (int way = 0; way < 4; way++) {
    g_assert_true(session_best_begin(session, way == 1));
    for (int i = 0; i < 20; i++) { /* somewhere on the way */
      g_main_context_iteration(NULL, FALSE);
      g_usleep(2000);
    }
    gint64 start = g_get_monotonic_time();
    if (way < 2)
      session_preview(session, NULL);
    else if (way == 2) { /* another edit */
      g_assert_nonnull(session_edit_begin(session, "Draw"));
      session_edit_cancel(session);
    } else
      session_set_focus(session, 0);
    g_assert_cmpint(g_get_monotonic_time() - start, <, G_USEC_PER_SEC);
    g_assert_false(session_best_shown(session));
    told = 0;
    for (int i = 0; i < 50; i++) {
      g_main_context_iteration(NULL, FALSE);
      g_usleep(1000);
    }
    g_assert_null(session_previewed(session)); /* and nothing comes back */
  }
  g_object_unref(session); /* also while it runs */
  session = opened();
  g_assert_true(session_best_begin(session, false));
  g_object_unref(session);
}

/* ---- two outlines ---- */

static Assessment *assessed(const Case *c)
{
  Assessor *assessor = NULL;
  Assessment *a = NULL;
  AssessSettings settings = assess_settings_default();
  settings.grade = ASSESS_LIVE;
  ok(assessor_new(&assessor));
  ok(assess(assessor, c, &settings, &a));
  assessor_free(assessor);
  return a;
}

static void test_difference(void)
{
  SoffitSession *session = opened();
  Case c;
  case_init(&c);
  ok(case_copy(&c, session_case(session)));
  Assessment *today = assessed(&c);
  Outline round;
  outline_init(&round);
  ok(shape_round_roof(&c.connector[1].side[SIDE_GINGIVAL], 0.4, &round));
  ok(outline_copy(&c.connector[1].side[SIDE_GINGIVAL], &round));
  Assessment *other = assessed(&c);
  const ConnectorAssessment *a = &today->connector[1], *b = &other->connector[1];
  Difference d;
  ok(difference_make(a->field, a->trial, a->field, a->trial, &d)); /* against itself: nothing */
  double limit = connector_limit(a, false);
  g_assert_cmpfloat(fabs(d.most), <, 1e-4 * limit);
  g_assert_cmpfloat(fabs(d.least), <, 1e-4 * limit);
  difference_clear(&d);
  NeckLoad twice = {.moment_n_mm = 2 * a->trial.moment_n_mm, .shear_n = 2 * a->trial.shear_n};
  ok(difference_make(a->field, a->trial, a->field, twice,
                     &d)); /* twice the load: the pull itself */
  float *value = g_new(float, d.sheet->n_vertex);
  field_shade(d.sheet, a->trial, value, NULL);
  for (size_t i = 0; i < d.sheet->n_vertex; i++)
    g_assert_cmpfloat_with_epsilon((double)d.value[i], fmax((double)value[i], 0), 2e-3 * limit);
  g_free(value);
  difference_clear(&d);
  ok(difference_make(a->field, a->trial, b->field, b->trial, &d)); /* a V made rounder */
  g_assert_cmpfloat(d.least, <, -0.1 * limit);
  g_assert_cmpfloat(point_distance(d.least_at, a->form.roof), <, 0.5);
  cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, 700, 420);
  DrawContext context = {.palette = PALETTE_LIGHT, .decimal = ".", .scale = 1};
  int different = 0;
  unsigned char *before = NULL;
  for (int k = 0; k < 3; k++) { /* today alone, one on the other, side by side: three pictures */
    cairo_t *cr = cairo_create(surface);
    ComparePicture picture = {today, k ? other : NULL, 1, k == 1 ? &d : NULL, "round", k == 2};
    picture_compare(cr, 700, 420, &context, &picture);
    cairo_destroy(cr);
    cairo_surface_flush(surface);
    size_t size = (size_t)cairo_image_surface_get_stride(surface) * 420;
    different += before && memcmp(before, cairo_image_surface_get_data(surface), size) != 0;
    g_free(before);
    before = g_memdup2(cairo_image_surface_get_data(surface), size);
  }
  g_assert_cmpint(different, ==, 2);
  g_free(before);
  cairo_surface_destroy(surface);
  difference_clear(&d);
  CompareLine line[COMPARE_LINES] = {0};
  compare_lines_make(today, other, 1, line);
  g_assert_nonnull(strstr(line[0].change, "less"));
  g_assert_nonnull(strstr(line[0].today, "(")); /* no figure without its band */
  g_assert_cmpstr(line[1 + READING_NECK].change, ==, "the same");
  g_assert_nonnull(strstr(line[1 + READING_RADIUS].change, "100 % more"));
  g_assert_nonnull(strstr(line[1 + READING_MARGIN].change, "more"));
  for (int i = 0; i < COMPARE_LINES; i++)
    compare_line_clear(&line[i]);
  outline_clear(&round);
  assessment_unref(today);
  assessment_unref(other);
  case_clear(&c);
  g_object_unref(session);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/best-session/part-and-whole", test_part_and_whole);
  g_test_add_func("/best-session/part-kept", test_part_kept);
  g_test_add_func("/best-session/parts-in-solid", test_parts_in_solid);
  g_test_add_func("/best-session/left", test_left);
  g_test_add_func("/best-session/difference", test_difference);
  return g_test_run();
}
