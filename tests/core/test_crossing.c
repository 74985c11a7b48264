/* test_crossing.c - where drawn lines cross themselves or each other.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  Places by hand, by construction, and against every pair tried. */
#include <glib.h>
#include "outline/outline.h"

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)

static void near_point(Point a, Point b, double tolerance)
{
  g_assert_cmpfloat(fabs(a.x - b.x), <=, tolerance);
  g_assert_cmpfloat(fabs(a.y - b.y), <=, tolerance);
}

static void circle(Outline *o, Point centre, double r)
{
  outline_init(o);
  ok(outline_move_to(o, point(centre.x + r, centre.y)));
  ok(outline_arc_to(o, centre, 2 * G_PI));
  ok(outline_close(o));
}

static void test_crossing_places(void)
{
  Outline a, b;
  Point where = {9, 9};
  const Point bow[] = {{0, 0}, {4, 4}, {4, 0}, {0, 3}}; /* y = x and y = 3 - 3 x / 4: x = 12 / 7 */
  outline_init(&a);
  ok(outline_from_points(&a, bow, 4, false));
  g_assert_cmpint(outline_find_crossing(&a, &where), ==, FAULT_CROSSING);
  near_point(where, point(12.0 / 7, 12.0 / 7), 1e-12);
  outline_clear(&a);
  /* a cubic loop, symmetric about x = 0: meets itself at x = 0 */
  ok(outline_move_to(&a, point(-1, 0)));
  ok(outline_curve_to(&a, point(3, 3), point(-3, 3), point(1, 0)));
  g_assert_cmpint(outline_find_crossing(&a, &where), ==, FAULT_CROSSING);
  g_assert_cmpfloat_with_epsilon(where.x, 0, 1e-3);
  outline_clear(&a);
  circle(&a, point(0, 0), 2);
  circle(&b, point(2, 0), 2);
  ok(outline_find_crossing(&a, &where)); /* the closing knot is no crossing */
  g_assert_cmpint(outlines_find_crossing(&a, &b, &where), ==, FAULT_CROSSING);
  near_point(where, point(1, sqrt(3)), 1e-3); /* first along a, which starts at angle 0 */
  outline_transform(&b, (const double[6]){1, 0, 0, 1, 2.01, 0});
  where = point(7, 7);
  ok(outlines_find_crossing(&a, &b, &where));
  near_point(where, point(7, 7), 0);
  outline_clear(&b);
  outline_clear(&a);
  const Point fold[] = {{0, 0}, {3, 0}, {1, 0}, {1, 2}}; /* runs back on itself */
  ok(outline_from_points(&a, fold, 4, false));
  g_assert_cmpint(outline_find_crossing(&a, NULL), ==, FAULT_CROSSING);
  outline_clear(&a);
  const Point ring[] = {{0, 0}, {2, 0}, {2, 2}, {0, 2}, {0, -1}}; /* touches its first knot */
  ok(outline_from_points(&a, ring, 5, false));
  g_assert_cmpint(outline_find_crossing(&a, &where), ==, FAULT_CROSSING);
  near_point(where, point(0, 0), 0);
  outline_clear(&a);
}

/* 1000 shapes that cannot cross: star-shaped rings and lines that always go right. */
static void test_crossing_none(void)
{
  GRand *rand = g_rand_new_with_seed(1000);
  for (int round = 0; round < 500; round++) {
    Outline o;
    outline_init(&o);
    int n = g_rand_int_range(rand, 4, 60);
    Point p[60];
    for (int i = 0; i < n; i++) { /* gaps below half a turn: the centre sees every edge */
      double angle = 2 * G_PI * (i + g_rand_double_range(rand, 0, 0.9)) / n;
      double r = g_rand_double_range(rand, 0.5, 5);
      p[i] = point(r * cos(angle), r * sin(angle));
    }
    ok(outline_from_points(&o, p, (size_t)n, true));
    ok(outline_find_crossing(&o, NULL));
    outline_clear(&o);
    double x = 0;
    ok(outline_move_to(&o, point(0, 0)));
    for (int i = 0; i < n; i++) { /* control points go right, so the curve does */
      double step = g_rand_double_range(rand, 0.1, 2);
      ok(outline_curve_to(&o, point(x + step / 3, g_rand_double_range(rand, -3, 3)),
                          point(x + step * 2 / 3, g_rand_double_range(rand, -3, 3)),
                          point(x + step, g_rand_double_range(rand, -3, 3))));
      x += step;
    }
    ok(outline_find_crossing(&o, NULL));
    Outline above;
    outline_init(&above);
    ok(outline_copy(&above, &o));
    outline_transform(&above, (const double[6]){1, 0, 0, 1, 0, 7});
    ok(outlines_find_crossing(&o, &above, NULL));
    outline_clear(&above);
    outline_clear(&o);
  }
  g_rand_free(rand);
}

static bool brute(const Point p[], int n, Point *first)
{
  for (int i = 0; i + 1 < n; i++) {
    double best = 2;
    for (int j = i + 2; j + 1 < n; j++) {
      Point d = point_sub(p[i + 1], p[i]), e = point_sub(p[j + 1], p[j]), f = point_sub(p[j], p[i]);
      double det = point_cross(d, e), u = point_cross(f, e) / det, v = point_cross(f, d) / det;
      if (u >= 0 && u <= 1 && v >= 0 && v <= 1)
        best = fmin(best, u);
    }
    if (best <= 1) {
      *first = point_mix(p[i], p[i + 1], best);
      return true;
    }
  }
  return false;
}

static void test_crossing_brute(void)
{
  GRand *rand = g_rand_new_with_seed(77);
  int crossed = 0;
  for (int round = 0; round < 2000; round++) {
    Point p[40], where, first;
    int n = g_rand_int_range(rand, 3, 9);
    if (round % 10 == 0)
      n = 40;
    for (int i = 0; i < n; i++)
      p[i] = point(g_rand_double_range(rand, -9, 9), g_rand_double_range(rand, -9, 9));
    Outline o;
    outline_init(&o);
    ok(outline_from_points(&o, p, (size_t)n, false));
    bool expect = brute(p, n, &first);
    g_assert_cmpint(outline_find_crossing(&o, &where), ==, expect ? FAULT_CROSSING : FAULT_NONE);
    if (expect) {
      near_point(where, first, 1e-9);
      crossed++;
    }
    outline_clear(&o);
  }
  g_assert_cmpint(crossed, >, 200);
  g_assert_cmpint(crossed, <, 1900);
  g_rand_free(rand);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/crossing/places", test_crossing_places);
  g_test_add_func("/crossing/none", test_crossing_none);
  g_test_add_func("/crossing/brute", test_crossing_brute);
  return g_test_run();
}
