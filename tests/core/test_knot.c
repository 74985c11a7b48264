/* test_knot.c - knots moved, smoothed, sharpened, dropped.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm. */
#include "outline/knot.h"
#include "shape_rows.h"

static Outline curve(void)
{
  Outline o = {0};
  ok(outline_move_to(&o, point(0, 0)));
  ok(outline_curve_to(&o, point(1, 0.4), point(1.4, 2), point(2.385, 2.1)));
  ok(outline_curve_to(&o, point(3.2, 2.2), point(4, 1), point(4.7, 0.9)));
  ok(outline_line_to(&o, point(6, 0.2)));
  return o;
}

static double furthest(const Outline *a, const Outline *b)
{
  double most = 0;
  for (int i = 0; i <= 400; i++) {
    double d;
    (void)outline_nearest(b, outline_at(a, (double)outline_pieces(a) * i / 400), &d);
    most = fmax(most, d);
  }
  return most;
}

/* A knot put in anywhere and taken out again leaves the very same line. */
static void test_drop_undoes_split(void)
{
  for (size_t r = 0; r < G_N_ELEMENTS(rows); r++) {
    Outline o = row_outline(&rows[r]), same;
    outline_init(&same);
    ok(outline_copy(&same, &o));
    for (double t = 0.13; t < (double)outline_pieces(&same); t += 0.217) {
      size_t i, n = o.n;
      ok(outline_split(&o, t, &i));
      if (o.n == n)
        continue; /* there is a knot */
      ok(knot_drop(&o, i));
      g_assert_true(outline_equal(&o, &same, 1e-9));
    }
    outline_clear(&same);
    outline_clear(&o);
  }
  Outline o = curve();
  g_assert_cmpint(knot_drop(&o, 0), ==, FAULT_DEGENERATE);
  g_assert_cmpint(knot_drop(&o, 3), ==, FAULT_DEGENERATE);
  g_assert_cmpint(knot_drop(&o, 9), ==, FAULT_RANGE);
  ok(knot_drop(&o, 2)); /* beside a straight piece */
  ok(outline_check(&o));
  g_assert_cmpuint(o.n, ==, 3);
  g_assert_cmpint(knot_drop(&o, 1), ==, FAULT_DEGENERATE); /* too few would stay */
  outline_clear(&o);
}

static void test_parts(void)
{
  Outline o = curve();
  g_assert_false(knot_has(&o, 0, KNOT_IN));
  g_assert_true(knot_has(&o, 0, KNOT_OUT));
  g_assert_false(knot_has(&o, 3, KNOT_OUT));
  g_assert_false(knot_has(&o, 4, KNOT_ITSELF));
  Point third = knot_part_at(&o, 2, KNOT_OUT); /* a straight piece */
  g_assert_cmpfloat(point_distance(third, point(4.7 + 1.3 / 3, 0.9 - 0.7 / 3)), <, 1e-12);
  g_assert_true(isnan(knot_part_at(&o, 7, KNOT_ITSELF).x));
  outline_clear(&o);
}

static void test_move(void)
{
  Outline o = curve();
  ok(knot_move(&o, 1, KNOT_ITSELF, point(2.5, 2)));
  g_assert_cmpfloat(point_distance(o.knot[1].in, point(1.4 + 0.115, 1.9)), <, 1e-12);
  g_assert_cmpfloat(point_distance(o.knot[1].out, point(3.2 + 0.115, 2.1)), <, 1e-12);
  g_assert_cmpint(knot_move(&o, 0, KNOT_IN, point(1, 1)), ==, FAULT_RANGE);
  g_assert_cmpint(knot_move(&o, 1, KNOT_ITSELF, point(NAN, 1)), ==, FAULT_NOT_FINITE);
  g_assert_cmpint(knot_move(&o, 1, KNOT_OUT, point(1, 1e6)), ==, FAULT_RANGE);
  g_assert_cmpint(knot_move(&o, 1, KNOT_OUT, o.knot[1].at), ==, FAULT_DEGENERATE);
  /* a corner's tangents are free of each other */
  Point in = o.knot[2].in;
  g_assert_false(knot_smooth(&o, 2));
  ok(knot_move(&o, 2, KNOT_OUT, point(5, 1.5)));
  g_assert_cmpfloat(point_distance(o.knot[2].in, in), ==, 0);
  g_assert_cmpfloat(point_distance(knot_part_at(&o, 3, KNOT_IN), point(6 - 1.3 / 3, 0.2 + 0.7 / 3)),
                    <, 1e-12); /* the far end of the straight piece stays where it was */
  /* those of a smooth one stay in line */
  ok(knot_make_smooth(&o, 1));
  double length = point_distance(o.knot[1].at, o.knot[1].in);
  ok(knot_move(&o, 1, KNOT_OUT, point(2.5, 3)));
  g_assert_true(knot_smooth(&o, 1));
  g_assert_cmpfloat(point_distance(o.knot[1].in, point(2.5, 2 - length)), <, 1e-12);
  outline_clear(&o);
}

static void test_smooth_and_sharp(void)
{
  Outline o = curve(), was = curve();
  g_assert_false(knot_smooth(&o, 2));
  ok(knot_make_smooth(&o, 2));
  g_assert_true(knot_smooth(&o, 2));
  Point a, b; /* the direction is the same from both sides */
  outline_derivatives(&o, 2 - 1e-9, &a, NULL);
  outline_derivatives(&o, 2 + 1e-9, &b, NULL);
  g_assert_cmpfloat(fabs(atan2(point_cross(a, b), point_dot(a, b))), <, 1e-6);
  g_assert_cmpfloat(furthest(&o, &was), <, 0.1);
  g_assert_cmpfloat(furthest(&o, &was), >, 1e-4);
  ok(knot_make_sharp(&o, 1));
  g_assert_false(knot_smooth(&o, 1));
  g_assert_cmpfloat(point_distance(o.knot[1].in, point(2.385 * 2 / 3, 2.1 * 2 / 3)), <, 1e-12);
  /* ends have one side only */
  g_assert_cmpint(knot_make_smooth(&o, 0), ==, FAULT_RANGE);
  g_assert_cmpint(knot_make_sharp(&o, 3), ==, FAULT_RANGE);
  g_assert_cmpint(knot_make_sharp(&o, 11), ==, FAULT_RANGE);
  /* a line that turns back on itself has no side to be smooth to */
  Outline back = {0};
  ok(outline_move_to(&back, point(0, 0)));
  ok(outline_line_to(&back, point(2, 0)));
  ok(outline_line_to(&back, point(1, 0)));
  g_assert_cmpint(knot_make_smooth(&back, 1), ==, FAULT_DEGENERATE);
  outline_clear(&back);
  outline_clear(&o);
  outline_clear(&was);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/knot/drop", test_drop_undoes_split);
  g_test_add_func("/knot/parts", test_parts);
  g_test_add_func("/knot/move", test_move);
  g_test_add_func("/knot/smooth-sharp", test_smooth_and_sharp);
  return g_test_run();
}
