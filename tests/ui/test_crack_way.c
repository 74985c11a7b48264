/* test_crack_way.c - the sketch of a crack: where it begins, which way it runs, where it ends.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Checked against beam theory (a straight bar breaks straight across, its neutral line lies at half
 * the height; closed form, no source needed) and against the outlines as cairo fills them, which
 * know nothing of the mesh. */
#include "../core/case_files.h"
#include "fake_assessment.h"
#include "mechanics/notched_bar.h"
#include "ui/drawing/picture_connector.h"
#include "ui/drawing/picture_crack.h"

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)
#define HEIGHT 3.0

static void near(double got, double want, double tolerance)
{
  if (!(fabs(got - want) <= tolerance))
    g_error("got %.6g, want %.6g", got, want);
}

static void steps_check(const CrackWay *way)
{
  g_assert_cmpuint(way->n, >=, 2);
  for (size_t i = 1; i < way->n; i++)
    g_assert_cmpfloat(point_distance(way->at[i - 1], way->at[i]), <=, CRACK_STEP_MM + 1e-9);
}

/* Bending of a bar, without and with a notch: up from the stretched edge to where squeeze begins.
 */
static void test_bar(void)
{
  const NotchedBar bar[] = {{HEIGHT, 4, 0, 0.1, 60}, {HEIGHT, 4, 0.6, 0.2, 60}};
  for (size_t i = 0; i < G_N_ELEMENTS(bar); i++) {
    NotchedBarAnswer *answer = NULL;
    CrackWay way;
    ok(notched_bar_solve(&bar[i], &answer));
    Point hot = point(0, bar[i].depth), last;
    ok(crack_way(&answer->field->sheet[SHEET_ELEVATION], (NeckLoad){1, 0}, hot, &way));
    steps_check(&way);
    steps_check(&way);
    near(point_distance(way.at[0], hot), 0, 0.02);
    for (size_t k = 0; k < way.n; k++)
      near(way.at[k].x, 0, 0.06);
    g_assert_cmpint(way.end, ==, CRACK_SQUEEZE);
    /* Plain: half the height.  A notch pulls harder at its root, so that squeeze begins sooner. */
    last = way.at[way.n - 1];
    near(last.y, bar[i].depth > 0 ? 1.45 : HEIGHT / 2, bar[i].depth > 0 ? 0.35 : 0.08);
    notched_bar_answer_free(answer);
  }
}

static void sheet_pull(FieldSheet *sheet, double angle, double mpa)
{
  for (size_t i = 0; i < sheet->n_vertex; i++) {
    float *s = sheet->stress[i][UNIT_BEND];
    s[0] = (float)(mpa * cos(angle) * cos(angle));
    s[1] = (float)(mpa * sin(angle) * sin(angle));
    s[3] = (float)(mpa * sin(angle) * cos(angle));
  }
}

static void sheet_free(FieldSheet *sheet)
{
  free(sheet->at);
  free(sheet->stress);
  free(sheet->corner);
}

/* Even pull: straight, at right angles to it, to the other side or as long as a way may be. */
static void test_even(void)
{
  FieldSheet sheet = {0};
  CrackWay way;
  const double slope = 0.3;
  fake_sheet(&sheet, point(-4, 0), point(4, 4), 40, 20);
  sheet_pull(&sheet, slope, 100);
  ok(crack_way(&sheet, (NeckLoad){1, 0}, point(0.5, -0.3), &way)); /* beside the mesh */
  near(point_distance(way.at[0], point(0.5, 0)), 0, 0.03);
  steps_check(&way);
  g_assert_cmpint(way.end, ==, CRACK_THROUGH);
  Point last = way.at[way.n - 1];
  near(last.y, 4, 0.01);
  near(last.x, 0.5 - 4 * tan(slope), 0.03);
  sheet_pull(&sheet, M_PI / 2, 100); /* pulled upwards: along the sheet */
  ok(crack_way(&sheet, (NeckLoad){1, 0}, point(-4, 2), &way));
  g_assert_cmpint(way.end, ==, CRACK_LONGEST);
  near(way.at[way.n - 1].x, -4 + CRACK_LONGEST_MM, 0.01);
  near(way.at[way.n - 1].y, 2, 0.01);
  sheet_pull(&sheet, 0, -100);
  g_assert_cmpint(crack_way(&sheet, (NeckLoad){1, 0}, point(0, 0), &way), ==, FAULT_RANGE);
  g_assert_cmpint(crack_way(&sheet, (NeckLoad){1, 0}, point(0, -2), &way), ==, FAULT_RANGE);
  g_assert_cmpint(crack_way(&sheet, (NeckLoad){1, 0}, point(NAN, 0), &way), ==, FAULT_NOT_FINITE);
  g_assert_cmpint(way.end, ==, CRACK_LONGEST); /* as it was */
  sheet_free(&sheet);
}

static Assessment *bridge_answer(void)
{
  Assessor *assessor = NULL;
  Assessment *a = NULL;
  AssessSettings settings = assess_settings_default();
  Case c;
  demo_load(&c, "demo/QB-01.xml");
  settings.grade = ASSESS_LIVE;
  ok(assessor_new(&assessor));
  ok(assess(assessor, &c, &settings, &a));
  assessor_free(assessor);
  case_clear(&c);
  return a;
}

/* All necks of a solved bridge: from the hot spot, and never out of what is drawn. */
static void test_bridge(void)
{
  Assessment *a = bridge_answer();
  size_t found = 0;
  cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_A8, 8, 8);
  cairo_t *cr = cairo_create(surface);
  cairo_set_tolerance(cr, 0.001);
  for (size_t i = 0; i < a->n_connector; i++) {
    const ConnectorAssessment *k = &a->connector[i];
    CrackWay way;
    Point hot = point(k->trial_peak.at.x, k->trial_peak.at.y);
    ok(crack_way(&k->field->sheet[SHEET_ELEVATION], k->trial, hot, &way));
    steps_check(&way);
    near(point_distance(way.at[0], hot), 0, 0.12);
    View mm = {1, 0, 0};
    path_outline(cr, mm, &a->c.connector[i].side[SIDE_GINGIVAL]);
    path_outline_on(cr, mm, &a->c.connector[i].side[SIDE_OCCLUSAL], true);
    cairo_close_path(cr);
    cairo_set_line_width(cr, 0.06); /* chords of the mesh */
    for (size_t n = 0; n < way.n; n++, found++) {
      Point p = view_px(mm, way.at[n]);
      g_assert_true(cairo_in_fill(cr, p.x, p.y) || cairo_in_stroke(cr, p.x, p.y));
    }
  }
  g_assert_cmpuint(found, >, 40);
  cairo_destroy(cr);
  cairo_surface_destroy(surface);
  assessment_unref(a);
}

static size_t inked(double share, bool *labelled)
{
  enum { SIZE = 400 };
  CrackWay way = {.n = 2, .at = {{0, 0}, {0, 4}}};
  DrawContext context = {.palette = PALETTE_LIGHT, .scale = 1};
  cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, SIZE, SIZE);
  cairo_t *cr = cairo_create(surface);
  Connector bare = {.side = {{0}}};
  Places places;
  places_init(&places, (Box){0, 0, SIZE, SIZE});
  picture_crack(cr, &context, (View){50, 200, 350}, &way, share, &places, &bare);
  cairo_destroy(cr);
  cairo_surface_flush(surface);
  const guint32 *pixel = (const guint32 *)(void *)cairo_image_surface_get_data(surface);
  size_t label = 0, line = 0;
  for (size_t i = 0; i < (size_t)SIZE * SIZE; i++)
    *(i < (size_t)SIZE * 80 ? &label : &line) += pixel[i] >> 24 > 128;
  *labelled = label > 1000;
  cairo_surface_destroy(surface);
  return line;
}

#define LONGER "Eine Skizze des Wegs, keine Vorhersage der Zeit" /* as in German */

static const char *longer(const char *text)
{
  return g_str_has_prefix(text, "A sketch of the way") ? LONGER : text;
}

/* The label alone, as a box. */
static Box label_box(const DrawContext *context, int width, int height, View view,
                     const Places *taken, const Connector *drawn)
{
  const CrackWay away = {.n = 2, .at = {{-1e4, 0}, {-1e4, 1}}};
  cairo_surface_t *surface = cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, NULL);
  cairo_t *cr = cairo_create(surface);
  cairo_rectangle(cr, 0, 0, width, height);
  cairo_clip(cr);
  picture_crack(cr, context, view, &away, 0, taken, drawn);
  cairo_destroy(cr);
  Box box;
  cairo_recording_surface_ink_extents(surface, &box.x, &box.y, &box.width, &box.height);
  cairo_surface_destroy(surface);
  return box;
}

/* Nothing of the material, no word and no loupe lies under it. */
static void label_check(const Assessment *a, size_t i, int width, int height, bool german)
{
  DrawContext context = {.palette = PALETTE_LIGHT, .scale = 1, .translate = german ? longer : NULL};
  cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, width, height);
  cairo_t *cr = cairo_create(surface);
  ConnectorPicture picture = connector_picture(a, i, width, height, &context);
  Places taken;
  picture.taken = &taken;
  picture_connector(cr, width, height, &context, &picture);
  Box box = label_box(&context, width, height, picture.view, &taken, &a->c.connector[i]);
  g_assert_cmpfloat(box.width * box.height, >, 4000);
  for (size_t k = 0; k < taken.n; k++) {
    Box t = taken.taken[k];
    g_assert_false(box.x < t.x + t.width && t.x < box.x + box.width && box.y < t.y + t.height &&
                   t.y < box.y + box.height);
  }
  cairo_new_path(cr);
  path_outline(cr, picture.view, &a->c.connector[i].side[SIDE_GINGIVAL]);
  path_outline_on(cr, picture.view, &a->c.connector[i].side[SIDE_OCCLUSAL], true);
  cairo_close_path(cr);
  for (double x = box.x; x <= box.x + box.width; x += 2)
    for (double y = box.y; y <= box.y + box.height; y += 2)
      g_assert_false(cairo_in_fill(cr, x, y));
  cairo_destroy(cr);
  cairo_surface_destroy(surface);
}

static void test_label(void)
{
  static const int size[][2] = {
      {532, 290}, {532, 330}, {864, 560}, {1980, 1200}}; /* of the drawing */
  Assessment *a = bridge_answer();
  for (size_t k = 0; k < G_N_ELEMENTS(size); k++)
    for (size_t i = 0; i < a->n_connector; i++)
      for (int german = 0; german < 2; german++)
        label_check(a, i, size[k][0], size[k][1], german);
  assessment_unref(a);
}

/* It grows with its share, and never comes without its label. */
static void test_picture(void)
{
  bool labelled;
  size_t before = 0;
  for (double share = 0.25; share <= 1; share += 0.25) {
    size_t now = inked(share, &labelled);
    g_assert_cmpuint(now, >, before);
    g_assert_true(labelled);
    before = now;
  }
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/crack/bar", test_bar);
  g_test_add_func("/crack/even", test_even);
  g_test_add_func("/crack/bridge", test_bridge);
  g_test_add_func("/crack/picture", test_picture);
  g_test_add_func("/crack/label", test_label);
  return folder_run();
}
