/* test_flat_bridge.c - the shade of the span strip: zones of the whole bridge that say what the
 * connectors' own answers say. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Signs follow from statics: a span pressed between its supports is stretched at the gum side, a
 * free end pressed down is stretched at the biting side. */
#include "../core/case_files.h"
#include "ui/drawing/picture_connector.h"
#include "ui/drawing/picture_span.h"

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)

static Assessment *assessed(const Case *c, double x)
{
  Assessor *assessor = NULL;
  Assessment *a = NULL;
  AssessSettings settings = assess_settings_default();
  Case moved;
  settings.grade = ASSESS_LIVE;
  case_init(&moved);
  ok(case_copy(&moved, c));
  moved.trial.x = x;
  ok(assessor_new(&assessor));
  ok(assess(assessor, &moved, &settings, &a));
  assessor_free(assessor);
  case_clear(&moved);
  return a;
}

/* Largest share around a neck, below (low) or above its middle. */
static double neck_share(const FlatBridge *flat, const Assessment *a, size_t neck, bool low)
{
  const float *share;
  const FieldSheet *sheet = flat_bridge_sheet(flat, &share);
  double most = -INFINITY;
  for (size_t k = 0; k < sheet->n_vertex; k++)
    if (fabs(sheet->at[k].x - a->neck_x[neck]) < 1.5 &&
        (sheet->at[k].y < a->connector[neck].form.neck_y) == low)
      most = fmax(most, (double)share[k]);
  return most;
}

static void demo_of(Case *c, int number)
{
  g_autofree char *name = g_strdup_printf("demo/QB-%02d.xml", number);
  demo_load(c, name);
}

/* Wherever the load stands, a neck passes the limit in the strip when its own answer does, and the
 * most loaded neck is as far from it as its own answer is. */
static void test_agrees(void)
{
  for (int number = 1; number <= 10; number++) {
    FlatBridge *flat = flat_bridge_new();
    Case c;
    demo_of(&c, number);
    for (double x = 4; x < 26; x += 7) {
      Assessment *a = assessed(&c, x);
      Point where;
      double most = 0, got = 0;
      ok(flat_bridge_show(flat, a, false, &where));
      for (size_t i = 0; i < a->n_connector; i++) {
        const ConnectorAssessment *k = &a->connector[i];
        double own = k->trial_peak.mpa / connector_limit(k, false),
               shown = fmax(neck_share(flat, a, i, true), neck_share(flat, a, i, false));
        if (fabs(own - 1) > 0.03)
          g_assert_true((shown > 1) == (own > 1));
        if (own > most)
          most = own, got = shown;
      }
      g_test_message("QB-%02d at %.0f: own %.3f, strip %.3f", number, x, pow(most, 0.6), got);
      if (most > 0.1)
        g_assert_cmpfloat_with_epsilon(got / pow(most, 0.6), 1, 0.06);
      assessment_unref(a);
    }
    flat_bridge_free(flat);
    case_clear(&c);
  }
}

static void test_signs(void)
{
  FlatBridge *flat = flat_bridge_new();
  Point where;
  Case c;
  demo_of(&c, 2);
  Assessment *a = assessed(&c, 14); /* on 35/36, between its abutments */
  ok(flat_bridge_show(flat, a, false, &where));
  g_assert_cmpfloat(neck_share(flat, a, 1, true), >, 3 * neck_share(flat, a, 1, false));
  assessment_unref(a);
  case_clear(&c);
  demo_of(&c, 3);
  a = assessed(&c, 1); /* on the hanging tooth */
  ok(flat_bridge_show(flat, a, false, &where));
  g_assert_cmpfloat(neck_share(flat, a, 0, false), >, 3 * neck_share(flat, a, 0, true));
  assessment_unref(a);
  case_clear(&c);
  flat_bridge_free(flat);
}

static uint32_t pixel_at(cairo_surface_t *surface, Point px)
{
  cairo_surface_flush(surface);
  const unsigned char *row =
      cairo_image_surface_get_data(surface) + (int)px.y * cairo_image_surface_get_stride(surface);
  uint32_t pixel;
  memcpy(&pixel, row + 4 * (int)px.x, sizeof pixel);
  return pixel;
}

/* Redder than blue. */
static int warmth(uint32_t pixel)
{
  return (int)(pixel >> 16 & 0xFF) - (int)(pixel & 0xFF);
}

static int picture_warmth(const SpanPicture *picture, Point mm)
{
  DrawContext context = {.palette = PALETTE_LIGHT, .scale = 1, .resolution = 1};
  SpanGeometry g = span_geometry(picture, 1072, 252, &context);
  cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, 1072, 252);
  cairo_t *cr = cairo_create(surface);
  picture_span(cr, 1072, 252, &context, picture);
  cairo_destroy(cr);
  int warm = warmth(pixel_at(surface, view_px(g.view, mm)));
  cairo_surface_destroy(surface);
  return warm;
}

/* What is seen: warm beside the pulled roof, less so when it is a picture of before, not at all
 * without one; an outline that crosses itself leaves the picture before. */
static void test_seen(void)
{
  FlatBridge *flat = flat_bridge_new();
  Point where;
  Case c;
  const float *share;
  demo_of(&c, 2);
  Assessment *a = assessed(&c, 14);
  ok(flat_bridge_show(flat, a, false, &where));
  SpanPicture picture = span_picture(a);
  Point beside = {a->neck_x[1] + 0.8, a->connector[1].form.roof.y + 0.1};
  int bare = picture_warmth(&picture, beside);
  picture.flat = flat;
  int warm = picture_warmth(&picture, beside);
  picture.old = true;
  int faint = picture_warmth(&picture, beside);
  g_test_message("bare %d, shaded %d, of before %d", bare, warm, faint);
  g_assert_cmpint(warm, >, bare + 40);
  g_assert_cmpint(faint, <, warm - 15);
  g_assert_cmpint(faint, >, bare + 10);

  ok(case_complete(&c));
  Outline *gum = &c.connector[1].side[SIDE_GINGIVAL];
  outline_clear(gum);
  ok(outline_from_corners(
      gum,
      (Corner[]){
          {-3.5, 0, 0}, {-1.5, 0, 0}, {1.2, 3, 0.2}, {-1.2, 3, 0.2}, {1.5, 0, 0}, {5.5, 0, 0}},
      6));
  c.connector[1].drawn[SIDE_GINGIVAL] = true;
  Assessment *looped = assessed(&c, 20);
  size_t n = flat_bridge_sheet(flat, &share)->n_vertex;
  g_autofree float *before = g_memdup2(share, n * sizeof *share);
  g_assert_cmpint(flat_bridge_show(flat, looped, false, &where), ==, FAULT_CROSSING);
  g_assert_cmpfloat(fabs(where.x - 14), <, 2);
  g_assert_cmpuint(flat_bridge_sheet(flat, &share)->n_vertex, ==, n);
  g_assert_cmpint(memcmp(before, share, n * sizeof *share), ==, 0);
  assessment_unref(looped);
  assessment_unref(a);
  flat_bridge_free(flat);
  case_clear(&c);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/flat-bridge/agrees", test_agrees);
  g_test_add_func("/flat-bridge/signs", test_signs);
  g_test_add_func("/flat-bridge/seen", test_seen);
  return g_test_run();
}
