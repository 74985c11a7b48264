/* test_shade.c - raster, contours and flow lines on fields whose answer is known.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Expected places follow from the linear or uniform fields themselves; no published values are
 * needed. */
#include "fake_assessment.h"
#include "ui/drawing/flow.h"
#include "ui/drawing/picture_connector.h"
#include "ui/drawing/shade.h"
#include <string.h>

#define SIZE 160

static void grid_clear(PixelGrid *grid, uint32_t pixel[SIZE * SIZE])
{
  memset(pixel, 0, SIZE * SIZE * sizeof *pixel);
  *grid = (PixelGrid){pixel, SIZE, SIZE, SIZE};
}

/* A fan of thin triangles around a point off the pixel grid, wound either way: inside its circle
 * each pixel belongs to exactly one triangle.  Counted by drawing the triangles one by one. */
static void test_cover(void)
{
  static uint32_t pixel[SIZE * SIZE];
  static int count[SIZE * SIZE];
  enum { SPOKES = 97 };
  const double radius = 71.3;
  FieldSheet sheet = {.n_vertex = SPOKES + 1, .n_triangle = 1};
  Point at[SPOKES + 1] = {{80.217, 79.861}};
  uint32_t corner[1][3];
  float value[SPOKES + 1];
  for (int i = 0; i < SPOKES; i++) {
    double a = 2 * G_PI * (i + 0.3) / SPOKES;
    at[i + 1] = point(at[0].x + radius * cos(a), at[0].y + radius * sin(a));
  }
  for (int i = 0; i <= SPOKES; i++)
    value[i] = 100;
  sheet.at = at;
  sheet.corner = corner;
  ShadeStyle style = {PALETTE_LIGHT, 480, 0, 0};
  View view = {1, 0, 160};
  memset(count, 0, sizeof count);
  for (uint32_t i = 0; i < SPOKES; i++) {
    uint32_t a = 1 + i, b = 1 + (i + 1) % SPOKES;
    memcpy(corner[0], i % 2 ? (uint32_t[3]){0, a, b} : (uint32_t[3]){b, a, 0}, sizeof corner[0]);
    PixelGrid grid;
    grid_clear(&grid, pixel);
    shade_raster(&grid, view, &sheet, value, &style);
    for (int k = 0; k < SIZE * SIZE; k++)
      count[k] += pixel[k] != 0;
  }
  for (int y = 0; y < SIZE; y++)
    for (int x = 0; x < SIZE; x++) {
      double d = hypot(x + 0.5 - at[0].x, 160 - (y + 0.5) - at[0].y);
      g_assert_cmpint(count[y * SIZE + x], <=, 1);
      if (d < radius * cos(G_PI / SPOKES) - 0.01)
        g_assert_cmpint(count[y * SIZE + x], ==, 1);
      if (d > radius)
        g_assert_cmpint(count[y * SIZE + x], ==, 0);
    }
}

/* A strip whose stress grows evenly from -500 at the left to 1000 MPa at the right edge, limit 500:
 * zero at 1/3. */
static void linear_sheet(FieldSheet *sheet, float **value)
{
  fake_sheet(sheet, point(0, 0), point(15, 10), 23, 17);
  *value = g_new(float, sheet->n_vertex);
  for (size_t i = 0; i < sheet->n_vertex; i++)
    (*value)[i] = (float)(-500 + 100 * sheet->at[i].x);
}

static void sheet_free(FieldSheet *sheet)
{
  free(sheet->at);
  free(sheet->stress);
  free(sheet->corner);
}

static void test_values(void)
{
  FieldSheet sheet;
  float *value;
  linear_sheet(&sheet, &value);
  static uint32_t plain[SIZE * SIZE], hatched[SIZE * SIZE];
  PixelGrid grid;
  View view = {10, 3.7, 120.3};
  grid_clear(&grid, plain);
  shade_raster(&grid, view, &sheet, value, &(ShadeStyle){PALETTE_LIGHT, 500, 0, 0});
  grid_clear(&grid, hatched);
  shade_raster(&grid, view, &sheet, value, &(ShadeStyle){PALETTE_LIGHT, 500, 9, 0});
  int over = 0, hatch = 0;
  for (int y = 30; y < 110; y++)
    for (int x = 10; x < 150; x++) {
      double mpa = -500 + 100 * (x + 0.5 - 3.7) / 10;
      uint32_t want = palette_argb(palette_stress(PALETTE_LIGHT, mpa / 500)),
               got = plain[y * SIZE + x];
      for (int shift = 0; shift < 32; shift += 8) /* one unit of the table of 1024 colours */
        g_assert_cmpint(abs((int)(want >> shift & 255) - (int)(got >> shift & 255)), <=, 2);
      if (mpa < 499)
        g_assert_cmpuint(hatched[y * SIZE + x], ==, got);
      if (mpa > 501) {
        over++;
        hatch += hatched[y * SIZE + x] != got;
      }
    }
  /* lines of 1.7 (and their soft edges) in a pitch of 9 */
  g_assert_cmpint(hatch, >, over / 6);
  g_assert_cmpint(hatch, <, over / 2);
  g_free(value);
  sheet_free(&sheet);
}

static void test_bad_values(void)
{
  FieldSheet sheet;
  float *value;
  linear_sheet(&sheet, &value);
  static uint32_t pixel[SIZE * SIZE];
  PixelGrid grid;
  grid_clear(&grid, pixel);
  value[0] = NAN;
  value[40] = INFINITY;
  value[100] = 3e38f;
  sheet.at[200].x = NAN;
  ShadeStyle style = shade_style(PALETTE_DARK, 500, 1);
  shade_raster(&grid, (View){10, 3.7, 120.3}, &sheet, value, &style);
  shade_raster(&grid, (View){1e300, -1e300, 1e308}, &sheet, value, &style);
  shade_raster(&grid, (View){NAN, 0, 0}, &sheet, value, &style);
  style.limit_mpa = 0;
  shade_raster(&grid, (View){10, 3.7, 120.3}, &sheet, value, &style);
  style.limit_mpa = 1e-300;
  shade_raster(&grid, (View){10, 3.7, 120.3}, &sheet, value, &style);
  g_assert_cmpuint(pixel[SIZE * 60 + 80], !=, 0);
  g_free(value);
  sheet_free(&sheet);
}

static void test_zero_line(void)
{
  FieldSheet sheet;
  float *value;
  linear_sheet(&sheet, &value);
  LineSet lines;
  g_assert_cmpint(contour_find(&sheet, value, 0, &lines), ==, FAULT_NONE);
  g_assert_cmpuint(lines.n_line, ==, 1); /* one piece, from edge to edge */
  double low = INFINITY, high = -INFINITY;
  for (size_t i = 0; i < lines.n; i++) {
    g_assert_cmpfloat(fabs(lines.at[i].x - 5), <, 1e-5); /* exact but for the floats */
    low = fmin(low, lines.at[i].y);
    high = fmax(high, lines.at[i].y);
  }
  g_assert_cmpfloat(low, ==, 0);
  g_assert_cmpfloat(high, ==, 10);
  line_set_clear(&lines);
  g_assert_cmpint(contour_find(&sheet, value, 5000, &lines), ==, FAULT_NONE);
  g_assert_cmpuint(lines.n_line, ==, 0);
  g_free(value);
  sheet_free(&sheet);
}

static void test_ring(void)
{
  FieldSheet sheet;
  fake_sheet(&sheet, point(-2, -2), point(2, 2), 80, 80);
  float *value = g_new(float, sheet.n_vertex);
  for (size_t i = 0; i < sheet.n_vertex; i++)
    value[i] = (float)point_length(sheet.at[i]);
  LineSet lines;
  g_assert_cmpint(contour_find(&sheet, value, 1.3, &lines), ==, FAULT_NONE);
  g_assert_cmpuint(lines.n_line, ==, 1);
  g_assert_cmpfloat(point_distance(lines.at[0], lines.at[lines.n - 1]), ==, 0); /* closed */
  for (size_t i = 0; i < lines.n; i++)
    g_assert_cmpfloat(fabs(point_length(lines.at[i]) - 1.3), <, 1e-3);
  line_set_clear(&lines);
  g_assert_cmpint(contour_rim(&sheet, &lines), ==, FAULT_NONE);
  g_assert_cmpuint(lines.n_line, ==, 1);
  double length = 0;
  for (size_t i = 1; i < lines.n; i++)
    length += point_distance(lines.at[i - 1], lines.at[i]);
  g_assert_cmpfloat(fabs(length - 16), <, 1e-9);
  line_set_clear(&lines);
  g_free(value);
  sheet_free(&sheet);
}

static void test_flow(void)
{
  FieldSheet sheet;
  fake_sheet(&sheet, point(-5, -5), point(5, 5), 31, 29);
  const double slope = 0.35;
  NeckLoad load = {1, 0};
  for (size_t i = 0; i < sheet.n_vertex; i++) {
    float *s = sheet.stress[i][UNIT_BEND]; /* 100 MPa along `slope` everywhere */
    s[0] = (float)(100 * cos(slope) * cos(slope));
    s[1] = (float)(100 * sin(slope) * sin(slope));
    s[3] = (float)(100 * sin(slope) * cos(slope));
  }
  float *value = g_new(float, sheet.n_vertex), *angle = g_new(float, sheet.n_vertex);
  field_shade(&sheet, load, value, angle);
  LineSet lines;
  g_assert_cmpint(flow_lines(&sheet, value, angle, point(0, -2), point(0, 2), 5, 3, &lines), ==,
                  FAULT_NONE);
  g_assert_cmpuint(lines.n_line, ==, 5);
  for (size_t i = 0; i < 5; i++) {
    double start = -2 + 4 * ((double)i + 0.5) / 5; /* even pull: even spacing */
    Point first = lines.at[lines.start[i]], last = lines.at[lines.start[i + 1] - 1];
    g_assert_cmpfloat(fabs(point_distance(first, last) - 6), <, 0.1);
    for (size_t k = lines.start[i]; k < lines.start[i + 1]; k++) {
      Point p = lines.at[k];
      g_assert_cmpfloat(fabs(p.y - start - tan(slope) * p.x), <, 0.01);
    }
  }
  line_set_clear(&lines);
  for (size_t i = 0; i < sheet.n_vertex; i++)
    value[i] = -value[i];
  g_assert_cmpint(flow_lines(&sheet, value, angle, point(0, -2), point(0, 2), 5, 3, &lines), ==,
                  FAULT_NONE);
  g_assert_cmpuint(lines.n_line, ==, 0); /* squeezed: no pull, no line */
  line_set_clear(&lines);
  g_assert_cmpint(flow_lines(&sheet, value, angle, point(0, NAN), point(0, 2), 5, 3, &lines), ==,
                  FAULT_NOT_FINITE);
  g_assert_cmpint(flow_lines(&sheet, value, angle, point(0, -2), point(0, 2), 0, 3, &lines), ==,
                  FAULT_RANGE);
  g_free(value);
  g_free(angle);
  sheet_free(&sheet);
}

/* Mean of red, green and blue, 0 .. 255. */
static double grey_at(cairo_surface_t *surface, int x, int y)
{
  const unsigned char *row = cairo_image_surface_get_data(surface) +
                             (ptrdiff_t)y * cairo_image_surface_get_stride(surface);
  return (row[4 * x] + row[4 * x + 1] + row[4 * x + 2]) / 3.0;
}

enum { WIDE = 700, HIGH = 400 };
static cairo_surface_t *on_photo(const Assessment *a, const Underlay *photo, unsigned layers,
                                 View view)
{
  DrawContext context = {.palette = PALETTE_LIGHT, .scale = 1, .resolution = 1};
  ConnectorPicture picture = {.a = a,
                              .connector = 1,
                              .view = view,
                              .layers = layers,
                              .chosen_knot = SIZE_MAX,
                              .underlay = photo,
                              .underlay_opacity = 0.5};
  cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, WIDE, HIGH);
  cairo_t *cr = cairo_create(surface);
  picture_connector(cr, WIDE, HIGH, &context, &picture);
  cairo_destroy(cr);
  cairo_surface_flush(surface);
  return surface;
}

/* Over a dark photo the light material rises out of nothing at both ends of the line, by no more
 * than a slight step a pixel, and in the middle the photo is still seen through it. */
static void test_photo(void)
{
  Assessment *a = fake_assessment_new();
  PhotoPixels *black = photo_pixels_new(64, 48);
  PlaneMap map;
  Underlay *photo;
  Point px[4] = {{0, 0}, {64, 0}, {64, 48}, {0, 48}},
        mm[4] = {{-20, 15}, {20, 15}, {20, -15}, {-20, -15}};
  g_assert_cmpint(plane_map_quad(px, mm, &map), ==, FAULT_NONE);
  g_assert_cmpint(underlay_new(black, &map, 8, &photo), ==, FAULT_NONE);
  const Outline *gum = &a->c.connector[1].side[SIDE_GINGIVAL],
                *groove = &a->c.connector[1].side[SIDE_OCCLUSAL];
  double x0 = gum->knot[0].at.x, x1 = gum->knot[gum->n - 1].at.x;
  View view = {WIDE * 0.8 / (x1 - x0), WIDE / 2.0, HIGH - 40};
  view.x = WIDE / 2.0 - view.scale * (x0 + x1) / 2;
  int left = (int)floor(view_px(view, point(x0, 0)).x),
      right = (int)ceil(view_px(view, point(x1, 0)).x);
  Point high = outline_at(groove, (double)outline_pieces(groove) / 2);
  int y = (int)view_px(view, point(0, high.y - 0.5)).y;
  const unsigned ground = LAYER_PAPER,
                 layers[2] = {ground | LAYER_BODY, ground | LAYER_BODY | LAYER_SHADE};
  cairo_surface_t *bare = on_photo(a, photo, ground, view);
  for (int k = 0; k < 2; k++) {
    cairo_surface_t *drawn = on_photo(a, photo, layers[k], view);
    double step = 0, most = 0;
    for (int x = left - 3; x <= right + 3; x++) {
      double more = grey_at(drawn, x, y) - grey_at(bare, x, y);
      if (x < left - 1 || x > right + 1)
        g_assert_cmpfloat(fabs(more), <, 1e-9); /* nothing beside the line */
      most = fmax(most, more);
      step = fmax(step, fabs(grey_at(drawn, x + 1, y) - grey_at(drawn, x, y)));
    }
    g_test_message("over a photo: %.0f of 255 lighter at most, %.1f a pixel", most, step);
    g_assert_cmpfloat(most, >, 40); /* it is there */
    g_assert_cmpfloat(step, <, 8);  /* without the ramp: 70 */
    g_assert_cmpfloat(grey_at(drawn, left + 2, y) - grey_at(bare, left + 2, y), <, 15);
    g_assert_cmpfloat(grey_at(drawn, right - 2, y) - grey_at(bare, right - 2, y), <, 15);
    cairo_surface_destroy(drawn);
  }
  cairo_surface_destroy(bare);
  underlay_unref(photo);
  photo_pixels_unref(black);
  fake_assessment_free(a);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/shade/cover", test_cover);
  g_test_add_func("/shade/values", test_values);
  g_test_add_func("/shade/bad-values", test_bad_values);
  g_test_add_func("/shade/zero-line", test_zero_line);
  g_test_add_func("/shade/ring", test_ring);
  g_test_add_func("/shade/flow", test_flow);
  g_test_add_func("/shade/photo", test_photo);
  return g_test_run();
}
