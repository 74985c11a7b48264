/* test_edge_cling.c - strokes that cling to edges of made pictures.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * px.  The true edge is known exactly: the circle or the line that the picture was made from. */
#include <glib.h>
#include "base/random.h"
#include "outline/edge_cling.h"

#define SIDE 160
#define MIDDLE 80.0
#define RADIUS 46.3

static double normal_draw(uint64_t *state)
{
  double sum = 0;
  for (int i = 0; i < 12; i++)
    sum += random_unit(state);
  return sum - 6;
}

/* A dark disc on a bright ground, its edge blurred over `blur` px, with noise. */
static GreyPicture disc_new(double contrast, double blur, double noise)
{
  float *grey = g_new(float, SIDE *SIDE);
  uint64_t state = 7;
  for (int j = 0; j < SIDE; j++)
    for (int i = 0; i < SIDE; i++) {
      double inside = RADIUS - hypot(i + 0.5 - MIDDLE, j + 0.5 - MIDDLE);
      double step = 0.5 * (1 + erf(inside / (blur * sqrt(2))));
      grey[j * SIDE + i] = (float)(0.7 - contrast * step + noise * normal_draw(&state));
    }
  return (GreyPicture){grey, SIDE, SIDE};
}

/* A shaky stroke, `off` px outside of the circle. */
static size_t stroke_make(double off, Point at[], size_t room)
{
  uint64_t state = 3;
  for (size_t i = 0; i < room; i++) {
    double turn = 0.4 + 2.4 * (double)i / (double)(room - 1),
           r = RADIUS + off + 0.8 * normal_draw(&state);
    at[i] = point(MIDDLE + r * cos(turn), MIDDLE + r * sin(turn));
  }
  return room;
}

static double rms_off(const Point at[], size_t n)
{
  double sum = 0;
  for (size_t i = 0; i < n; i++) {
    double d = hypot(at[i].x - MIDDLE, at[i].y - MIDDLE) - RADIUS;
    sum += d * d;
  }
  return sqrt(sum / (double)n);
}

static void test_blurred_circle(void)
{
  static const struct {
    double contrast, blur, noise, off, most;
  } row[] = {{0.5, 1, 0, 5, 0.15},
             {0.5, 1, 0.04, 5, 0.35},
             {0.5, 3, 0.04, -6, 0.6},
             {0.25, 2, 0.03, 6, 0.6},
             {0.5, 2, 0.04, -8, 0.45}};
  for (size_t k = 0; k < G_N_ELEMENTS(row); k++) {
    GreyPicture picture = disc_new(row[k].contrast, row[k].blur, row[k].noise);
    Point at[90], clung[90];
    size_t n = stroke_make(row[k].off, at, 90);
    double before = rms_off(at, n);
    g_assert_cmpint(stroke_cling(&picture, at, n, 12, clung), ==, FAULT_NONE);
    double after = rms_off(clung, n);
    g_test_message("contrast %g blur %g noise %g: %.2f px -> %.2f px", row[k].contrast, row[k].blur,
                   row[k].noise, before, after);
    g_assert_cmpfloat(before, >, 4);
    g_assert_cmpfloat(after, <, row[k].most);
    g_free((float *)picture.grey);
  }
}

static void test_nothing_to_cling_to(void)
{
  GreyPicture flat = disc_new(0, 1, 0.004);
  Point at[40], clung[40];
  size_t n = stroke_make(3, at, 40);
  g_assert_cmpint(stroke_cling(&flat, at, n, 12, clung), ==, FAULT_NONE);
  for (size_t i = 0; i < n; i++)
    g_assert_cmpfloat(point_distance(at[i], clung[i]), <, 1e-12);
  g_free((float *)flat.grey);
}

/* The border between photo and nothing is no edge. */
static void test_border_of_the_photo(void)
{
  GreyPicture picture = disc_new(0, 1, 0);
  float *grey = (float *)picture.grey;
  for (int j = 0; j < SIDE; j++)
    for (int i = 90; i < SIDE; i++)
      grey[j * SIDE + i] = NAN;
  Point at[30], clung[30];
  for (int i = 0; i < 30; i++)
    at[i] = point(87, 40 + i);
  g_assert_cmpint(stroke_cling(&picture, at, 30, 12, clung), ==, FAULT_NONE);
  for (int i = 0; i < 30; i++)
    g_assert_cmpfloat(point_distance(at[i], clung[i]), <, 1e-12);
  g_free(grey);
}

/* Two edges in reach: the nearer one of the same strength wins. */
static void test_nearer_edge_wins(void)
{
  float *grey = g_new(float, SIDE *SIDE);
  for (int j = 0; j < SIDE; j++)
    for (int i = 0; i < SIDE; i++)
      grey[j * SIDE + i] = i >= 70 && i < 84 ? 0.2F : 0.8F;
  GreyPicture picture = {grey, SIDE, SIDE};
  Point at[30], clung[30];
  for (int i = 0; i < 30; i++)
    at[i] = point(74, 40 + i);
  g_assert_cmpint(stroke_cling(&picture, at, 30, 12, clung), ==, FAULT_NONE);
  for (int i = 0; i < 30; i++)
    g_assert_cmpfloat(fabs(clung[i].x - 70), <, 0.15);
  g_free(grey);
}

static void test_bad_input(void)
{
  GreyPicture picture = disc_new(0.5, 1, 0), thin = {picture.grey, 2, 2};
  Point at[3] = {{40, 40}, {40, 40}, {40, 40}}, clung[3];
  g_assert_cmpint(stroke_cling(&picture, at, 0, 12, clung), ==, FAULT_RANGE);
  g_assert_cmpint(stroke_cling(&picture, at, 3, 0, clung), ==, FAULT_RANGE);
  g_assert_cmpint(stroke_cling(&picture, at, 3, NAN, clung), ==, FAULT_RANGE);
  g_assert_cmpint(stroke_cling(&picture, at, 3, 1e9, clung), ==, FAULT_RANGE);
  g_assert_cmpint(stroke_cling(&thin, at, 3, 12, clung), ==, FAULT_RANGE);
  g_assert_cmpint(stroke_cling(&picture, at, 3, 12, clung), ==, FAULT_NONE); /* a pen at rest */
  at[1] = point(-5000, 9000);                                                /* off the picture */
  g_assert_cmpint(stroke_cling(&picture, at, 3, 12, clung), ==, FAULT_NONE);
  at[1].x = NAN;
  g_assert_cmpint(stroke_cling(&picture, at, 3, 12, clung), ==, FAULT_NOT_FINITE);
  g_free((float *)picture.grey);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/edge-cling/blurred-circle", test_blurred_circle);
  g_test_add_func("/edge-cling/nothing", test_nothing_to_cling_to);
  g_test_add_func("/edge-cling/border", test_border_of_the_photo);
  g_test_add_func("/edge-cling/nearer", test_nearer_edge_wins);
  g_test_add_func("/edge-cling/bad-input", test_bad_input);
  return g_test_run();
}
