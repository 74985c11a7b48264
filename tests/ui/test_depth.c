/* test_depth.c - the picture in depth: projection, what is covered, what is hidden, the same stress
 * as in the flat pictures. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A box around the elevation's silhouette and an ellipse at the neck are the exact answers. */
#include "../core/case_files.h"
#include "ui/drawing/picture_connector.h"
#include "ui/drawing/picture_depth.h"

#define SIZE 400
#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)

typedef struct {
  Assessment *a;
  Shaded *shaded;
  const ConnectorAssessment *c;
} Solved3;

static Solved3 solved(void)
{
  Assessor *assessor = NULL;
  AssessSettings settings = assess_settings_default();
  Solved3 s = {0};
  Case c;
  demo_load(&c, "demo/QB-01.xml");
  settings.grade = ASSESS_LIVE;
  ok(assessor_new(&assessor));
  ok(assess(assessor, &c, &settings, &s.a));
  assessor_free(assessor);
  case_clear(&c);
  s.c = &s.a->connector[0];
  ok(shaded_new(s.c->field, SHEET_SKIN, s.c->trial, &s.shaded));
  return s;
}

static void drop(Solved3 *s)
{
  shaded_free(s->shaded);
  assessment_unref(s->a);
}

static DepthView eye(double turn, double tilt)
{
  return (DepthView){turn, tilt, 30, point(SIZE / 2.0, SIZE / 2.0), {0, 3, 0}};
}

static void near(double got, double want, double tolerance)
{
  if (!(fabs(got - want) <= tolerance))
    g_error("got %.6g, want %.6g", got, want);
}

static void test_projection(void)
{
  /* from the cheek: x right, y up, z towards the eye */
  DepthView v = eye(0, 0);
  DepthPlace p = depth_place(&v, (Vec3){1, 5, 2});
  near(p.px.x, SIZE / 2.0 + 30, 1e-9);
  near(p.px.y, SIZE / 2.0 - 60, 1e-9);
  near(p.near, 2, 1e-9);
  v = eye(M_PI / 2, 0); /* the right end is nearest */
  p = depth_place(&v, (Vec3){1, 3, 0});
  near(p.px.x, SIZE / 2.0, 1e-9);
  near(p.near, 1, 1e-9);
  v = eye(0, -M_PI / 2); /* from below: the gum side is nearest, the cheek lies above */
  p = depth_place(&v, (Vec3){0, 1, 0});
  near(p.near, 2, 1e-9);
  p = depth_place(&v, (Vec3){0, 3, 1});
  near(p.px.y, SIZE / 2.0 - 30, 1e-9);
}

/* Seen from the cheek the skin covers what the elevation covers. */
static void test_cover(void)
{
  Solved3 s = solved();
  const FieldSheet *flat = &s.c->field->sheet[SHEET_ELEVATION];
  double area = 0;
  for (size_t t = 0; t < flat->n_triangle; t++) {
    Point a = flat->at[flat->corner[t][0]], b = flat->at[flat->corner[t][1]],
          c = flat->at[flat->corner[t][2]];
    area += fabs(point_cross(point_sub(b, a), point_sub(c, a))) / 2;
  }
  DepthView v = eye(0, 0);
  ShadeStyle style = shade_style(PALETTE_LIGHT, 500, 1);
  DepthRaster raster;
  ok(depth_raster_new(SIZE, SIZE, 1, &v, s.shaded, &style, &raster));
  size_t covered = 0;
  for (int i = 0; i < SIZE * SIZE; i++)
    covered += !isinf(raster.near[i]);
  near((double)covered / (v.scale * v.scale) / area, 1, 0.01);
  /* along the bridge a neck is all that holds it together: the widest body hides it */
  Vec3 neck = {s.c->form.neck_x, s.c->form.neck_y, 0};
  g_assert_false(depth_raster_sees(&raster, depth_place(&v, neck))); /* inside the material */
  neck.z = s.c->form.neck_buccal;
  g_assert_true(depth_raster_sees(&raster, depth_place(&v, neck)));
  neck.z = -s.c->form.neck_lingual;
  g_assert_false(depth_raster_sees(&raster, depth_place(&v, neck)));
  depth_raster_clear(&raster);
  v = eye(M_PI, 0); /* from the tongue */
  ok(depth_raster_new(SIZE, SIZE, 1, &v, s.shaded, &style, &raster));
  g_assert_true(depth_raster_sees(&raster, depth_place(&v, neck)));
  depth_raster_clear(&raster);
  drop(&s);
}

/* The most pulled vertex of the skin is the peak that the readings show. */
static void test_stress(void)
{
  Solved3 s = solved();
  const FieldSheet *sheet = s.shaded->sheet;
  size_t best = 0;
  for (size_t i = 0; i < sheet->n_vertex; i++)
    if (s.shaded->value[i] > s.shaded->value[best])
      best = i;
  const Peak *peak = &s.c->trial_peak;
  near((double)s.shaded->value[best] / peak->mpa, 1, 0.05);
  near(hypot(sheet->at[best].x - peak->at.x, sheet->at[best].y - peak->at.y), 0, 0.15);
  for (size_t i = 0; i < sheet->n_vertex; i++) {
    const float *n = sheet->skin[i].normal;
    near((double)(n[0] * n[0] + n[1] * n[1] + n[2] * n[2]), 1, 1e-4);
  }
  drop(&s);
}

/* A plane answer has no skin: words instead of a picture, and no fault. */
static void test_words(void)
{
  Solved3 s = solved();
  cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, SIZE, SIZE);
  cairo_t *cr = cairo_create(surface);
  DrawContext context = {.palette = PALETTE_LIGHT, .scale = 1};
  const char *words[2];
  DepthEye look = DEPTH_EYE_START;
  for (int i = 0; i < 4; i++, look.turn += M_PI / 2) {
    depth_words(s.a, 0, look, words);
    g_assert_cmpstr(words[1], ==, "and from the gum side");
    picture_depth(cr, SIZE, SIZE, &context, s.a, 0, look, i % 2 == 0);
  }
  depth_words(s.a, 0, (DepthEye){M_PI, 0, 1}, words);
  g_assert_cmpstr(words[0], ==, "from the tongue");
  g_assert_cmpstr(words[1], ==, "");
  Shaded *none = NULL;
  size_t kept = s.c->field->sheet[SHEET_SKIN].n_triangle;
  s.c->field->sheet[SHEET_SKIN].n_triangle = 0;
  g_assert_cmpint(shaded_new(s.c->field, SHEET_SKIN, s.c->trial, &none), ==, FAULT_DEGENERATE);
  picture_depth(cr, SIZE, SIZE, &context, s.a, 0, look, false);
  s.c->field->sheet[SHEET_SKIN].n_triangle = kept;
  g_assert_cmpint(cairo_status(cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy(cr);
  cairo_surface_destroy(surface);
  drop(&s);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/depth/projection", test_projection);
  g_test_add_func("/depth/cover", test_cover);
  g_test_add_func("/depth/stress", test_stress);
  g_test_add_func("/depth/words", test_words);
  return g_test_run();
}
