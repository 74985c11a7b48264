/* test_drawing.c - colours, signs and pictures without a window.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Contrast: WCAG 2.1, relative luminance (published: W3C Recommendation 2018, "contrast ratio").
 * Lightness: CIE 1976 L* from sRGB D65 luminance (published: CIE 15).  Required ratios: the look of
 * the project (4.5 text, 3 marks). */
#include "colour.h"
#include "fake_assessment.h"
#include "ui/drawing/paper.h"
#include "ui/drawing/picture_bars.h"
#include "ui/drawing/picture_compare.h"
#include "ui/drawing/picture_connector.h"
#include "ui/drawing/picture_key.h"
#include "ui/drawing/picture_plan.h"
#include "ui/drawing/picture_section.h"
#include "ui/drawing/picture_span.h"
#include "ui/drawing/signs.h"
#include "ui/drawing/silhouette.h"
#include "ui/drawing/tornado.h"
#include "ui/drawing/waterfall.h"
#include <string.h>

static void test_contrast(void)
{
  static const struct {
    Colour ink, ground;
    double light, dark; /* least ratio; 0: not used together in this theme */
  } pair[] = {
      {COLOUR_TEXT, COLOUR_BAR, 12, 4.5},        {COLOUR_TEXT, COLOUR_SEL, 4.5, 9},
      {COLOUR_DIM, COLOUR_BAR, 5.4, 4.5},        {COLOUR_DIM, COLOUR_SEL, 4.5, 5},
      {COLOUR_DIM, COLOUR_WINDOW, 4.5, 4.5},     {COLOUR_INK, COLOUR_PAPER, 14.5, 14.7},
      {COLOUR_RULE, COLOUR_BAR, 3.2, 3},         {COLOUR_RULE, COLOUR_SEL, 3, 3.3},
      {COLOUR_ACCENT, COLOUR_SEL, 5.9, 5.3},     {COLOUR_ACCENT, COLOUR_PAPER, 4.5, 4.5},
      {COLOUR_ON_ACCENT, COLOUR_ACCENT, 7.6, 8}, {COLOUR_HOLDS, COLOUR_WINDOW, 5.8, 4.5},
      {COLOUR_HOLDS, COLOUR_CARD, 4.5, 7.1},     {COLOUR_CLOSE, COLOUR_WINDOW, 5.5, 4.5},
      {COLOUR_CLOSE, COLOUR_CARD, 4.5, 6.9},     {COLOUR_REWORK, COLOUR_SEL, 6.5, 5},
      {COLOUR_GUM, COLOUR_GUM_FILL, 3, 4.6},
  };
  for (size_t i = 0; i < G_N_ELEMENTS(pair); i++)
    for (int dark = 0; dark < 2; dark++) {
      Palette p = palette_choose(dark, false);
      double ratio = contrast(palette_colour(p, pair[i].ink), palette_colour(p, pair[i].ground));
      g_assert_cmpfloat(ratio, >=, dark ? pair[i].dark : pair[i].light);
    }
  /* hatch over everything it is drawn on: steps 6 to 8 */
  for (int dark = 0; dark < 2; dark++)
    for (int step = 6; step <= 8; step++) {
      Palette p = palette_choose(dark, false);
      g_assert_cmpfloat(contrast(palette_colour(p, COLOUR_HATCH), palette_stretched_step(p, step)),
                        >=, dark ? 7.9 : 5.8);
    }
  g_assert_cmpfloat(contrast((Rgba){0, 0, 0, 1}, (Rgba){1, 1, 1, 1}), ==, 21); /* published: 21:1 */
}

static bool same_colour(Rgba a, Rgba b)
{
  return fabs(a.r - b.r) + fabs(a.g - b.g) + fabs(a.b - b.b) + fabs(a.a - b.a) < 1e-12;
}

static void test_high_contrast(void)
{
  for (int dark = 0; dark < 2; dark++) {
    Palette p = palette_choose(dark, true);
    g_assert_cmpfloat(contrast(palette_colour(p, COLOUR_TEXT), palette_colour(p, COLOUR_BAR)), >=,
                      14);
    g_assert_cmpfloat(contrast(palette_colour(p, COLOUR_LINE), palette_colour(p, COLOUR_BAR)), >=,
                      3);
    Rgba a = palette_stress(p, 0.7), b = palette_stress(palette_choose(dark, false), 0.7);
    g_assert_true(same_colour(a, b)); /* the shade stays */
  }
}

static void test_scale(void)
{
  for (int dark = 0; dark < 2; dark++) {
    Palette p = palette_choose(dark, false);
    double sign = dark ? 1 : -1; /* always away from the paper */
    for (int side = 0; side < 2; side++) {
      double before = lightness(palette_stress(p, 0));
      for (int i = 1; i <= 400; i++) {
        double ratio = side ? PALETTE_SQUEEZED_END * i / 400 : PALETTE_END * i / 400;
        double now = lightness(palette_stress(p, ratio));
        g_assert_cmpfloat(sign * (now - before), >,
                          -0.05); /* never back; 0.05 of rounding to 8 bits is not there */
        g_assert_cmpfloat(fabs(now - before), <, 0.6); /* and never a jump: 9 a step of 50 */
        before = now;
      }
    }
    /* look's table of lightness, steps 0, 6 and 8 */
    static const double known[2][3] = {{95.1, 41.0, 22.9}, {17.0, 71.1, 88.9}};
    g_assert_cmpfloat(fabs(lightness(palette_stress(p, 0)) - known[dark][0]), <, 0.1);
    g_assert_cmpfloat(fabs(lightness(palette_stress(p, 1)) - known[dark][1]), <, 0.1);
    g_assert_cmpfloat(fabs(lightness(palette_stress(p, PALETTE_END)) - known[dark][2]), <, 0.1);
    Rgba end = palette_stress(p, PALETTE_END), far = palette_stress(p, 1e30),
         no = palette_stress(p, NAN);
    Rgba infinite = palette_stress(p, -INFINITY), zero = palette_stress(p, 0),
         last = palette_squeezed_step(p, 4);
    g_assert_true(same_colour(end, far));
    g_assert_true(same_colour(no, zero));
    g_assert_true(same_colour(infinite, last));
  }
}

static cairo_t *canvas_new(int width, int height)
{
  cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, width, height);
  cairo_t *cr = cairo_create(surface);
  cairo_surface_destroy(surface);
  return cr;
}

/* The picture raised no error and left marks. */
static void canvas_check(cairo_t *cr)
{
  g_assert_cmpint(cairo_status(cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_surface_t *surface = cairo_get_target(cr);
  cairo_surface_flush(surface);
  const unsigned char *data = cairo_image_surface_get_data(surface);
  gsize size = (gsize)cairo_image_surface_get_stride(surface) *
               (gsize)cairo_image_surface_get_height(surface),
        marks = 0;
  for (gsize i = 0; i < size; i++)
    marks += data[i] != 0;
  g_assert_cmpuint(marks, >, size / 200);
  cairo_destroy(cr);
}

static void draw_all(const Assessment *a, int width, int height, const DrawContext *context)
{
  SpanPicture span = span_picture(a);
  span.chosen = 1;
  span.doors = true;
  for (int order = 0; order < 2; order++) {
    cairo_t *cr = canvas_new(width, height);
    ConnectorPicture picture = connector_picture(a, 1, width, height, context);
    picture.advice = a->n_advice > 3 ? &a->advice[order ? 4 : 3] : NULL;
    picture.at_order = order;
    picture.late = order;
    picture_connector(cr, width, height, context, &picture);
    canvas_check(cr);
    cr = canvas_new(width, height);
    span.at_order = order;
    picture_span(cr, width, height, context, &span);
    canvas_check(cr);
    cr = canvas_new(width, height);
    picture_section(cr, width, height, context, a, 1, order, NULL);
    picture_plan(cr, width, height, context, a, 1, order, NULL, picture.advice);
    picture_key(cr, width, height, context, order ? NAN : 480);
    picture_gain(cr, width, height, context, banded(28, 22, 33), 100);
    canvas_check(cr);
    cr = canvas_new(width, height);
    picture_waterfall(cr, width, height, context, &a->connector[1].waterfall);
    cairo_translate(cr, 0, waterfall_height(context));
    picture_tornado(cr, width, height, context, &a->connector[1]);
    canvas_check(cr);
  }
}

static void test_pictures(void)
{
  Assessment *a = fake_assessment_new();
  for (int dark = 0; dark < 2; dark++) {
    DrawContext context = {.palette = palette_choose(dark, false), .scale = 1, .decimal = ","};
    draw_all(a, 100, 100, &context);
    draw_all(a, 2560, 1440, &context);
    context.resolution = 2;
    context.scale = 1.6;
    draw_all(a, 700, 500, &context);
  }
  fake_assessment_free(a);
}

/* Without an answer, without a strength, with figures that are not there: pictures stay pictures.
 */
static void test_no_answer(void)
{
  Assessment *a = fake_assessment_new();
  DrawContext context = {.palette = PALETTE_LIGHT, .scale = 1};
  for (size_t i = 0; i < a->n_connector; i++) {
    ConnectorAssessment *c = &a->connector[i];
    field_unref(c->field);
    c->field = NULL;
    c->fault = FAULT_FOLD;
    c->strength_mpa = c->peak_mpa = c->trial_peak_mpa = c->margin = banded(NAN, NAN, NAN);
  }
  draw_all(a, 400, 300, &context);
  a->connector[1].form =
      (Form){.neck_x = NAN, .neck_height = NAN, .roof = {NAN, NAN}, .neck_width = NAN};
  a->connector[1].cutter_shortfall = NAN;
  a->trial_x = NAN;
  a->n_curve = 0;
  cairo_t *cr = canvas_new(400, 300);
  ConnectorPicture picture = connector_picture(a, 1, 400, 300, &context);
  picture_connector(cr, 400, 300, &context, &picture);
  SpanPicture span = span_picture(a);
  picture_span(cr, 400, 300, &context, &span);
  canvas_check(cr);
  a->connector[1].waterfall.known = false;
  a->connector[1].n_driver = 0;
  cr = canvas_new(100, 100);
  picture_waterfall(cr, 100, 100, &context, &a->connector[1].waterfall); /* nothing to draw */
  picture_tornado(cr, 100, 100, &context, &a->connector[1]);
  g_assert_cmpint(cairo_status(cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy(cr);
  picture.connector = 99;
  cr = canvas_new(10, 10);
  picture_connector(cr, 10, 10, &context, &picture); /* nothing to draw */
  g_assert_cmpint(cairo_status(cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy(cr);
  fake_assessment_free(a);
}

/* Whether a line comes into a box: tried at 200 places. */
static bool meets(Point p, Point q, Box box)
{
  for (int i = 0; i <= 200; i++) {
    double x = p.x + (q.x - p.x) * i / 200, y = p.y + (q.y - p.y) * i / 200;
    if (x > box.x && x < box.x + box.width && y > box.y && y < box.y + box.height)
      return true;
  }
  return false;
}

/* The figures of the moment curve: wherever the load stands, none lies on the curve, on its zero
 * line, on another one or on a door. */
static void test_span_values(void)
{
  Assessment *a = fake_assessment_new();
  SpanPicture span = span_picture(a);
  double x[] = {0, 0, a->span_length, a->span_length};
  double m[] = {0, 0, 0, 0};
  g_free(a->curve_x);
  g_free(a->curve_moment);
  a->n_curve = 4;
  guint shown = 0;
  for (double scale = 1; scale < 2.1; scale += 0.5)
    for (double load = 0.04; load < 1; load += 0.03) {
      DrawContext context = {.palette = PALETTE_LIGHT, .scale = scale};
      for (int lifted = 0; lifted < 2; lifted++) {
        x[1] = x[2] = load * a->span_length; /* a triangle, as under one load; or a free end */
        m[1] = m[2] = lifted ? -800 : 3000;
        a->curve_x = x;
        a->curve_moment = m;
        SpanGeometry g = span_geometry(&span, 700, 252, &context);
        double wide[] = {26 * scale, 32 * scale, 62 * scale};
        Box value[3];
        span_geometry_values(&g, a, &context, 700, wide, value);
        for (int i = 0; i < 3; i++) {
          if (value[i].width <= 0)
            continue;
          shown += scale == 1;
          g_assert_cmpfloat(value[i].x, >=, 0);
          g_assert_cmpfloat(value[i].x + value[i].width, <=, 700);
          g_assert_cmpfloat(value[i].y + value[i].height, <=, g.door_y);
          for (int k = 0; k < 3; k++)
            g_assert_false(meets(span_geometry_curve(&g, x[k], m[k]),
                                 span_geometry_curve(&g, x[k + 1], m[k + 1]), value[i]));
          g_assert_cmpfloat(value[i].y, >=, g.curve_y);
          for (int k = 0; k < 3; k++)
            g_assert_false(meets(point(g.neck_x[k], g.curve_y), point(g.neck_x[k], g.door_y),
                                 value[i])); /* nor on a stem */
          for (int k = 0; k < i; k++)
            g_assert_true(value[k].width <= 0 || value[k].x + value[k].width <= value[i].x);
        }
      }
    }
  g_assert_cmpuint(shown, >=, 2 * 3 * 32 * 9 / 10); /* nearly all are there where there is room */
  a->curve_x = NULL;
  a->curve_moment = NULL;
  fake_assessment_free(a);
}

static void test_span_geometry(void)
{
  Assessment *a = fake_assessment_new();
  DrawContext context = {.palette = PALETTE_LIGHT, .scale = 1};
  SpanPicture span = span_picture(a);
  SpanGeometry g = span_geometry(&span, 1072, 252, &context);
  g_assert_cmpuint(g.n_neck, ==, 3);
  for (double x = 0; x <= a->span_length; x += 1.37) /* there and back */
    g_assert_cmpfloat(fabs(span_geometry_mm(&g, view_px(g.view, point(x, 0)).x) - x), <, 1e-9);
  g_assert_cmpfloat(span_geometry_mm(&g, -1e9), ==, 0);
  g_assert_cmpfloat(fabs(span_geometry_mm(&g, 1e9) - a->span_length), <, 1e-9);
  g_assert_true(span_geometry_on_handle(&g, g.handle, 12));
  g_assert_false(span_geometry_on_handle(&g, point(g.handle.x + 60, g.handle.y), 22));
  for (size_t i = 0; i < 3; i++) {
    g_assert_cmpuint(span_geometry_neck(&g, point(g.neck_x[i], g.view.y)), ==, i);
    g_assert_cmpfloat(g.door_x[i] - 46, >=, 0);
    g_assert_cmpfloat(g.door_x[i] + 46, <=, 1072);
    if (i > 0) /* 92 wide, 8 apart */
      g_assert_cmpfloat(g.door_x[i] - g.door_x[i - 1], >=, 100 - 1e-3);
  }
  g_assert_cmpfloat(g.door_y + g.door_height, <=, 252);
  g_assert_cmpfloat(g.tip.y, >=, g.handle.y);
  fake_assessment_free(a);
}

static Box taken_box(const Places *places, size_t i)
{
  return places->taken[i];
}

static void test_places(void)
{
  Places places;
  places_init(&places, (Box){0, 0, 100, 100});
  places_take(&places, (Box){40, 40, 20, 20});
  const Box wish[] = {{45, 45, 10, 10}, {95, 10, 10, 10}, {10, 10, 35, 35}, {60, 60, 20, 20}};
  g_assert_cmpint(places_find(&places, wish, 4), ==,
                  3); /* covered, outside, overlapping, touching corners only */
  g_assert_cmpuint(places.n, ==, 2);
  g_assert_cmpfloat(taken_box(&places, 1).x, ==, 60);
  g_assert_cmpint(places_find(&places, wish, 4), ==, -1);
}

static void test_signs(void)
{
  unsigned char *seen[4] = {NULL};
  for (int v = 0; v < 4; v++) {
    cairo_t *cr = canvas_new(15, 15);
    draw_verdict(cr, (Verdict)v, 15, (Rgba){0, 0, 0, 1});
    cairo_surface_t *surface = cairo_get_target(cr);
    cairo_surface_flush(surface);
    gsize size = (gsize)cairo_image_surface_get_stride(surface) * 15;
    seen[v] = g_memdup2(cairo_image_surface_get_data(surface), size);
    for (int w = 0; w < v;
         w++) { /* the four read differently without colour: a fifth of the square differs */
      gsize differ = 0;
      for (gsize i = 3; i < size; i += 4)
        differ += abs((int)seen[v][i] - (int)seen[w][i]) > 100;
      g_assert_cmpuint(differ, >, 15 * 15 / 12);
    }
    cairo_destroy(cr);
  }
  for (int v = 0; v < 4; v++)
    g_free(seen[v]);
  for (int icon = 0; icon < ICON_N; icon++) {
    cairo_t *cr = canvas_new(24, 24);
    draw_tool_icon(cr, (ToolIcon)icon, 24, (Rgba){0, 0, 0, 1});
    canvas_check(cr);
  }
}

static void test_silhouette(void)
{
  Assessment *a = fake_assessment_new();
  double middle = silhouette_middle(a, 2);
  g_assert_cmpfloat(fabs(middle - 19.5), <, 1e-12);     /* 7 + 7 + 11/2 */
  g_assert_cmpfloat(silhouette_top(a, middle), >, 7.4); /* crown 7.5 with its cusps */
  g_assert_cmpfloat(silhouette_top(a, middle), <, 8.1);
  g_assert_cmpfloat(fabs(silhouette_top(a, 14) - a->connector[1].form.groove_y), <, 0.1);
  fake_assessment_free(a);
}

/* Name and figures of a compared outline stand above the crowns, at every size. */
static void test_compare_head(void)
{
  Assessment *a = fake_assessment_new();
  static const double size[][3] = {
      {400, 300, 1}, {700, 420, 1}, {1400, 900, 1}, {840, 560, 1.6}, {2560, 1300, 2}};
  for (size_t i = 0; i < G_N_ELEMENTS(size); i++) {
    DrawContext context = {.palette = PALETTE_LIGHT, .scale = size[i][2]};
    ComparePicture p = {.today = a, .connector = 1};
    View view = compare_view(&p, (int)size[i][0], (int)size[i][1], &context);
    for (size_t k = 1; k <= 2; k++)
      g_assert_cmpfloat(view_px(view, point(0, a->c.unit[k].height)).y, >=,
                        px(&context, COMPARE_HEAD_PX));
    g_assert_cmpfloat(view_px(view, point(0, 0)).y, <, size[i][1]); /* the feet are there */
  }
  fake_assessment_free(a);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/drawing/contrast", test_contrast);
  g_test_add_func("/drawing/high-contrast", test_high_contrast);
  g_test_add_func("/drawing/scale", test_scale);
  g_test_add_func("/drawing/pictures", test_pictures);
  g_test_add_func("/drawing/no-answer", test_no_answer);
  g_test_add_func("/drawing/span-geometry", test_span_geometry);
  g_test_add_func("/drawing/span-values", test_span_values);
  g_test_add_func("/drawing/places", test_places);
  g_test_add_func("/drawing/signs", test_signs);
  g_test_add_func("/drawing/compare-head", test_compare_head);
  g_test_add_func("/drawing/silhouette", test_silhouette);
  return g_test_run();
}
