/* test_outline.c - knots, builders, places, cuts and crossings of drawn lines.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  Circle figures are exact (pi r^2, 2 pi r, 1 / r); other sources stand beside them.
 */
#include <glib.h>
#include "outline/outline.h"
#include "base/tolerance.h"

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

/* A line with straight pieces, an arc and an S, as drawn lines have. */
static void mixed(Outline *o)
{
  outline_init(o);
  ok(outline_move_to(o, point(-3, 0)));
  ok(outline_line_to(o, point(-1.385, 0)));
  ok(outline_curve_to(o, point(-1.2, 1.1), point(-0.9, 2.2), point(0.1, 2.15)));
  ok(outline_arc_to(o, point(0.1, 1.35), -1.2));
  ok(outline_line_to(o, point(1.5, 0)));
  ok(outline_line_to(o, point(3.7, 0)));
}

static void test_circle(void)
{
  Outline o;
  double r = 2.385;
  circle(&o, point(0.7, -1.3), r);
  ok(outline_check(&o));
  g_assert_cmpuint(outline_pieces(&o), ==, 12); /* 30 degrees each */
  g_assert_true(o.closed);
  /* radial error of a 30 degree cubic: 4e-7 r (computed below), so area within 1e-6 of pi r^2 */
  g_assert_cmpfloat_with_epsilon(outline_area(&o), G_PI * r * r, 2e-6 * r * r);
  g_assert_cmpfloat_with_epsilon(outline_length(&o), 2 * G_PI * r, 2e-6 * r);
  double worst = 0, bend = 0;
  for (int i = 0; i <= 1200; i++) {
    double t = i / 100.0;
    worst = fmax(worst, fabs(point_distance(outline_at(&o, t), point(0.7, -1.3)) / r - 1));
    bend = fmax(bend, fabs(outline_curvature(&o, t) * r - 1));
  }
  g_assert_cmpfloat(worst, <, 1e-6);
  g_assert_cmpfloat(bend, <, 2e-3);
  outline_reverse(&o);
  g_assert_cmpfloat_with_epsilon(outline_area(&o), -G_PI * r * r, 2e-6 * r * r);
  g_assert_cmpfloat(outline_curvature(&o, 3.3), <, 0);
  outline_clear(&o);
  outline_clear(&o);
  outline_clear(NULL);
}

static void test_arc(void)
{
  for (int i = 1; i <= 24; i++)
    for (int sign = -1; sign <= 1; sign += 2) {
      Outline o;
      outline_init(&o);
      double angle = sign * 15 * i * G_PI / 180, r = 0.618;
      ok(outline_move_to(&o, point(1 + r, 2)));
      ok(outline_arc_to(&o, point(1, 2), angle));
      g_assert_cmpint((int)outline_pieces(&o), ==, (i + 1) / 2);
      near_point(o.knot[o.n - 1].at, point(1 + r * cos(angle), 2 + r * sin(angle)), 1e-12);
      g_assert_cmpfloat_with_epsilon(outline_length(&o), r * fabs(angle), 1e-6 * r * fabs(angle));
      g_assert_cmpfloat_with_epsilon(outline_curvature(&o, 0.37), sign / r, 2e-3 / r);
      outline_clear(&o);
    }
}

static void test_garbage(void)
{
  Outline o;
  outline_init(&o);
  g_assert_cmpint(outline_line_to(&o, point(1, 1)), ==, FAULT_DEGENERATE);
  g_assert_cmpint(outline_check(&o), ==, FAULT_DEGENERATE);
  g_assert_cmpint(outline_move_to(&o, point(NAN, 0)), ==, FAULT_NOT_FINITE);
  g_assert_cmpint(outline_move_to(&o, point(0, 1e300)), ==, FAULT_RANGE);
  ok(outline_move_to(&o, point(0, 0)));
  g_assert_cmpint(outline_move_to(&o, point(1, 0)), ==, FAULT_RANGE);
  g_assert_cmpint(outline_line_to(&o, point(1e-9, 0)), ==, FAULT_DEGENERATE);
  g_assert_cmpint(outline_line_to(&o, point(0, INFINITY)), ==, FAULT_NOT_FINITE);
  g_assert_cmpint(outline_curve_to(&o, point(0, 0), point(0, 0), point(0, 0)), ==,
                  FAULT_DEGENERATE);
  g_assert_cmpint(outline_curve_to(&o, point(0, NAN), point(0, 0), point(1, 0)), ==,
                  FAULT_NOT_FINITE);
  g_assert_cmpint(outline_arc_to(&o, point(1, 0), 0), ==, FAULT_DEGENERATE);
  g_assert_cmpint(outline_arc_to(&o, point(0, 0), 1), ==, FAULT_DEGENERATE);
  g_assert_cmpint(outline_arc_to(&o, point(1, 0), 7), ==, FAULT_RANGE);
  g_assert_cmpint(outline_arc_to(&o, point(1, 0), NAN), ==, FAULT_NOT_FINITE);
  g_assert_cmpint(outline_close(&o), ==, FAULT_DEGENERATE);
  g_assert_cmpuint(o.n, ==, 1);
  size_t knot = 99;
  g_assert_cmpint(outline_split(&o, 0.5, &knot), ==, FAULT_RANGE);
  ok(outline_line_to(&o, point(1, 0)));
  g_assert_cmpint(outline_split(&o, NAN, &knot), ==, FAULT_NOT_FINITE);
  g_assert_cmpint(outline_split(&o, 1.01, &knot), ==, FAULT_RANGE);
  g_assert_cmpuint(knot, ==, 99);
  Polyline line = {0};
  g_assert_cmpint(outline_flatten(&o, 0, &line), ==, FAULT_RANGE);
  g_assert_cmpint(outline_flatten(&o, NAN, &line), ==, FAULT_RANGE);
  g_assert_null(line.at);
  ok(outline_line_to(&o, point(1, 250)));
  g_assert_cmpint(outline_check(&o), ==, FAULT_RANGE);
  o.knot[2].at.y = o.knot[2].in.y = o.knot[2].out.y = NAN;
  g_assert_cmpint(outline_check(&o), ==, FAULT_NOT_FINITE);
  outline_clear(&o);
  near_point(outline_at(&o, 0.5), point(0, 0), 0);
  g_assert_cmpfloat(outline_curvature(&o, 1), ==, 0);
  g_assert_cmpfloat(outline_length(&o), ==, 0);
}

static void test_corners(void)
{
  Outline o;
  outline_init(&o);
  Corner c[4] = {{-1.5, 0, 0}, {-1.1, 2.4, 0.9}, {1.1, 2.4, 0.9}, {1.5, 0, 0}};
  ok(outline_from_corners(&o, c, 4));
  ok(outline_check(&o));
  /* tangent length r tan(turn / 2), by hand: turn = atan(2.4 / 0.4) = 80.5377 deg -> 0.762404 */
  double reach = 0.9 * tan(atan2(2.4, 0.4) / 2);
  g_assert_cmpfloat_with_epsilon(reach, 0.7624, 1e-4);
  double expect = 2 * (hypot(0.4, 2.4) - reach) + 2 * 0.9 * atan2(2.4, 0.4) + 2.2 - 2 * reach;
  g_assert_cmpfloat_with_epsilon(outline_length(&o), expect, 2e-6);
  near_point(outline_at(&o, 0), point(-1.5, 0), 0);
  near_point(outline_at(&o, (double)outline_pieces(&o)), point(1.5, 0), 0);
  g_assert_cmpfloat_with_epsilon(outline_curvature(&o, 2.4), -1 / 0.9, 2e-3 / 0.9);
  Outline before;
  outline_init(&before);
  ok(outline_copy(&before, &o));
  c[1].r = 1.4; /* reaches 1.186 + 0.762 of a flat of 2.2; with 2.0 it would be 1.694 + 0.762 */
  ok(outline_from_corners(&o, c, 4));
  c[1].r = 2.0;
  g_assert_cmpint(outline_from_corners(&before, c, 4), ==, FAULT_RANGE);
  c[1].r = NAN;
  g_assert_cmpint(outline_from_corners(&before, c, 4), ==, FAULT_NOT_FINITE);
  c[1].r = -0.1;
  g_assert_cmpint(outline_from_corners(&before, c, 4), ==, FAULT_RANGE);
  c[1] = (Corner){-1.5, 0, 0};
  g_assert_cmpint(outline_from_corners(&before, c, 4), ==, FAULT_DEGENERATE);
  g_assert_cmpint(outline_from_corners(&before, c, 1), ==, FAULT_DEGENERATE);
  g_assert_cmpfloat_with_epsilon(outline_length(&before), expect, 2e-6); /* untouched */
  /* legs used up to the last bit: no sliver is left */
  double r = 1 / tan(G_PI / 4);
  Corner square[4] = {{0, 0, 0}, {0, 1, r}, {2, 1, r}, {2, 0, 0}};
  ok(outline_from_corners(&o, square, 4));
  g_assert_cmpuint(outline_pieces(&o), ==, 6);
  g_assert_cmpfloat_with_epsilon(outline_length(&o), G_PI, 1e-5);
  outline_clear(&o);
  outline_clear(&before);
}

static void test_nearest(void)
{
  Outline o;
  circle(&o, point(0, 0), 2);
  GRand *rand = g_rand_new_with_seed(2385);
  for (int i = 0; i < 500; i++) {
    Point p = point(g_rand_double_range(rand, -5, 5), g_rand_double_range(rand, -5, 5));
    double distance, t = outline_nearest(&o, p, &distance);
    g_assert_cmpfloat_with_epsilon(distance, fabs(point_length(p) - 2), 2e-6);
    g_assert_cmpfloat_with_epsilon(point_distance(outline_at(&o, t), p), distance, 1e-12);
  }
  outline_clear(&o);
  mixed(&o);
  for (int i = 0; i < 200; i++) { /* against 2000 samples a piece */
    Point p = point(g_rand_double_range(rand, -4, 4), g_rand_double_range(rand, -1, 4));
    double distance, best = INFINITY;
    (void)outline_nearest(&o, p, &distance);
    for (size_t k = 0; k <= 2000 * outline_pieces(&o); k++)
      best = fmin(best, point_distance(outline_at(&o, (double)k / 2000), p));
    g_assert_cmpfloat(distance, <=, best + 1e-12);
    g_assert_cmpfloat(distance, >, best - 1e-3);
  }
  g_rand_free(rand);
  outline_clear(&o);
}

static void test_flatten(void)
{
  Outline o;
  mixed(&o);
  for (double tolerance = 0.1; tolerance > 1e-6; tolerance /= 10) {
    Polyline line = {0};
    ok(outline_flatten(&o, tolerance, &line));
    g_assert_cmpfloat(line.s[0], ==, 0);
    g_assert_cmpfloat_with_epsilon(line.s[line.n - 1], outline_length(&o), 1e-10);
    g_assert_cmpfloat_with_epsilon(line.t[line.n - 1], (double)outline_pieces(&o), 1e-12);
    for (size_t i = 0; i + 1 < line.n; i++) {
      near_point(line.at[i], outline_at(&o, line.t[i]), 1e-12);
      g_assert_cmpfloat(line.t[i], <, line.t[i + 1]);
      Point chord = point_sub(line.at[i + 1], line.at[i]);
      for (int k = 1; k < 8; k++) {
        Point p = outline_at(&o, line.t[i] + (line.t[i + 1] - line.t[i]) * k / 8);
        double off = fabs(point_cross(point_sub(p, line.at[i]), chord)) / point_length(chord);
        g_assert_cmpfloat(off, <=, tolerance * (1 + 1e-9));
      }
    }
    polyline_clear(&line);
    polyline_clear(&line);
  }
  polyline_clear(NULL);
  outline_clear(&o);
}

/* Largest distance of sampled places of a from b. */
static double apart(const Outline *a, const Outline *b)
{
  double worst = 0;
  for (size_t k = 0; k <= 50 * outline_pieces(a); k++) {
    double d;
    (void)outline_nearest(b, outline_at(a, (double)k / 50), &d);
    worst = fmax(worst, d);
  }
  return worst;
}

static void test_split(void)
{
  Outline o, was;
  mixed(&was);
  GRand *rand = g_rand_new_with_seed(41);
  for (int i = 0; i < 100; i++) {
    outline_init(&o);
    ok(outline_copy(&o, &was));
    double t = g_rand_double_range(rand, 0, (double)outline_pieces(&o));
    Point at = outline_at(&o, t);
    size_t knot;
    ok(outline_split(&o, t, &knot));
    near_point(o.knot[knot].at, at, 3e-7);
    g_assert_cmpuint(o.n, <=, was.n + 1);
    g_assert_cmpfloat_with_epsilon(outline_length(&o), outline_length(&was), 1e-6);
    g_assert_cmpfloat(apart(&o, &was), <, 1e-6);
    outline_clear(&o);
  }
  outline_init(&o);
  ok(outline_copy(&o, &was));
  size_t knot;
  ok(outline_split(&o, 2, &knot));
  g_assert_cmpuint(knot, ==, 2);
  ok(outline_split(&o, (double)outline_pieces(&o), &knot));
  g_assert_cmpuint(knot, ==, o.n - 1);
  g_assert_cmpuint(o.n, ==, was.n);
  ok(outline_split(&o, 0.5, &knot)); /* a straight piece stays straight */
  g_assert_cmpuint(knot, ==, 1);
  near_point(o.knot[1].out, o.knot[1].at, 0);
  near_point(o.knot[1].in, o.knot[1].at, 0);
  outline_clear(&o);
  outline_clear(&was);
  circle(&o, point(0, 0), 1);
  ok(outline_split(&o, 11.5, &knot));
  g_assert_cmpuint(knot, ==, 12);
  g_assert_true(o.closed);
  g_assert_cmpuint(o.n, ==, 13);
  g_assert_cmpfloat_with_epsilon(outline_area(&o), G_PI, 2e-6);
  ok(outline_split(&o, 13, &knot));
  g_assert_cmpuint(knot, ==, 0);
  g_rand_free(rand);
  outline_clear(&o);
}

/* The largest change of direction at a knot, rad. */
static double worst_kink(const Outline *o)
{
  double worst = 0;
  for (size_t i = 1; i < outline_pieces(o); i++) {
    Point a, b;
    outline_derivatives(o, (double)i - 1e-9, &a, NULL);
    outline_derivatives(o, (double)i + 1e-9, &b, NULL);
    worst = fmax(worst, fabs(atan2(point_cross(a, b), point_dot(a, b))));
  }
  return worst;
}

static void test_replace(void)
{
  Outline o, same, stretch;
  mixed(&o);
  outline_init(&same);
  ok(outline_copy(&same, &o));
  outline_init(&stretch);
  ok(outline_append_part(&stretch, &o, 1.3, 3.4)); /* its own stretch: nothing moves */
  ok(outline_replace(&same, 1.3, 3.4, &stretch));
  g_assert_cmpfloat_with_epsilon(outline_length(&same), outline_length(&o), 1e-6);
  g_assert_cmpfloat(apart(&same, &o), <, 1e-6);
  outline_clear(&stretch);
  outline_clear(&same);
  outline_clear(&o);

  outline_init(&o); /* a stretch 0.1 beside: joined without a kink, the rest kept */
  ok(outline_move_to(&o, point(0, 0)));
  ok(outline_line_to(&o, point(10, 0)));
  ok(outline_move_to(&stretch, point(4, 0.1)));
  ok(outline_line_to(&stretch, point(6, 0.1)));
  ok(outline_replace(&o, 0.4, 0.6, &stretch));
  g_assert_cmpfloat(worst_kink(&o), <, 1e-6);
  double d;
  (void)outline_nearest(&o, point(5, 0.1), &d);
  g_assert_cmpfloat(d, <, 1e-9);
  (void)outline_nearest(&o, point(3.5, 0), &d);
  g_assert_cmpfloat(d, <, 1e-9);
  near_point(outline_at(&o, (double)outline_pieces(&o)), point(10, 0), 0);
  ok(outline_check(&o));
  Outline kept;
  outline_init(&kept);
  ok(outline_copy(&kept, &o));
  g_assert_cmpint(outline_replace(&o, 1, 0.5, &stretch), ==, FAULT_RANGE);
  g_assert_cmpint(outline_replace(&o, NAN, 0.5, &stretch), ==, FAULT_NOT_FINITE);
  stretch.n = 1;
  g_assert_cmpint(outline_replace(&o, 0, 0.5, &stretch), ==, FAULT_DEGENERATE);
  stretch.n = 2;
  g_assert_true(outline_equal(&o, &kept, 0));
  ok(outline_replace(&o, 0, (double)outline_pieces(&o), &stretch)); /* the whole line */
  g_assert_true(outline_equal(&o, &stretch, 0));
  outline_clear(&stretch);
  outline_clear(&kept);
  outline_clear(&o);
}

static void test_mirror(void)
{
  Outline o, m;
  mixed(&o);
  outline_init(&m);
  ok(outline_copy(&m, &o));
  outline_mirror(&m, 0.25);
  near_point(outline_at(&m, 0), point(0.5 - 3.7, 0), 1e-12);
  double pieces = (double)outline_pieces(&o);
  for (int i = 0; i <= 100; i++) {
    Point p = outline_at(&o, pieces * i / 100), q = outline_at(&m, pieces * (100 - i) / 100);
    near_point(q, point(0.5 - p.x, p.y), 1e-12);
  }
  outline_mirror(&m, 0.25);
  g_assert_true(outline_equal(&m, &o, 1e-12));
  outline_transform(&m, (const double[6]){0, 2, -2, 0, 1, 3}); /* quarter turn, twice the size */
  near_point(outline_at(&m, 0), point(1, -3), 1e-12);
  g_assert_cmpfloat_with_epsilon(outline_length(&m), 2 * outline_length(&o), 1e-9);
  outline_clear(&m);
  circle(&m, point(1, 1), 1);
  outline_mirror(&m, 4);
  g_assert_cmpfloat_with_epsilon(outline_area(&m), G_PI, 2e-6); /* still counter-clockwise */
  outline_clear(&m);
  outline_clear(&o);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/outline/circle", test_circle);
  g_test_add_func("/outline/arc", test_arc);
  g_test_add_func("/outline/garbage", test_garbage);
  g_test_add_func("/outline/corners", test_corners);
  g_test_add_func("/outline/nearest", test_nearest);
  g_test_add_func("/outline/flatten", test_flatten);
  g_test_add_func("/outline/split", test_split);
  g_test_add_func("/outline/replace", test_replace);
  g_test_add_func("/outline/mirror", test_mirror);
  return g_test_run();
}
