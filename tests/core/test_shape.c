/* test_shape.c - starters and propositions.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  Sources: shape_rows.h. */
#include "shape_rows.h"

static void test_gingival(void)
{
  for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
    const Row *row = &rows[i];
    Outline o = row_outline(row);
    g_test_message("%s", row->name);
    check_feet(&o, row);
    g_assert_cmpfloat_with_epsilon(top_of(&o), row->roof, 0.0051);
    g_assert_cmpfloat_with_epsilon(smallest_radius(&o, 0.6 * row->roof), row->radius, 0.0051);
    Point d;
    outline_derivatives(&o, 1.001, &d, NULL);
    g_assert_cmpfloat_with_epsilon(atan2(d.x, d.y) / DEGREE, row->lean[0], 0.51);
    outline_derivatives(&o, (double)outline_pieces(&o) - 1.001, &d, NULL);
    g_assert_cmpfloat_with_epsilon(atan2(d.x, -d.y) / DEGREE, row->lean[1], 0.51);
    g_assert_cmpfloat(worst_kink(&o), <, 1e-6);
    outline_clear(&o);
  }
  Outline o;
  outline_init(&o);
  Corner wide[3] = {{-5.5, 0, 0}, {0, 2, 0.2}, {1, 0, 0}};
  g_assert_cmpint(shape_gingival(wide, 3, &around, &o), ==, FAULT_RANGE);
  wide[0].x = NAN;
  g_assert_cmpint(shape_gingival(wide, 3, &around, &o), ==, FAULT_RANGE);
  g_assert_cmpint(shape_gingival(wide, 0, &around, &o), ==, FAULT_RANGE);
  g_assert_cmpuint(o.n, ==, 0);
}

/* Steepest fall of an outline, degrees. */
static double steepest(const Outline *o)
{
  double least = 0;
  for (double t = 0.01; t < (double)outline_pieces(o); t += 0.01) {
    Point along;
    outline_derivatives(o, t, &along, NULL);
    least = fmin(least, atan2(along.y, along.x) / DEGREE);
  }
  return least;
}

static void test_occlusal(void)
{
  Outline o;
  outline_init(&o);
  const Neighbours roomy = {{8, 8}, {10, 10}, {8, 7.5}};
  ok(shape_occlusal(6.1, 0.9, 90, &roomy, &o));
  ok(outline_find_crossing(&o, NULL));
  double d, t = outline_nearest(&o, point(0, 6.1), &d);
  g_assert_cmpfloat(d, <, 1e-6);
  g_assert_cmpfloat_with_epsilon(outline_curvature(&o, t), 1 / 0.9, 2e-3 / 0.9);
  g_assert_cmpfloat(outline_at(&o, 0).x, ==, -8);
  g_assert_cmpfloat_with_epsilon(outline_at(&o, 0).y, 8, 1e-12);
  g_assert_cmpfloat_with_epsilon(outline_at(&o, (double)outline_pieces(&o)).y, 7.5, 1e-12);
  g_assert_cmpfloat_with_epsilon(steepest(&o), -45, 1e-3);         /* 90 degrees included */
  for (double u = 0.01; u < (double)outline_pieces(&o); u += 0.01) /* shoulders without an edge */
    g_assert_cmpfloat(fabs(outline_curvature(&o, u)), <, 1 / 0.6);
  /* a deep groove between short units: steeper, but still the groove asked for */
  const Neighbours narrow = {{2, 8}, {10, 10}, {9, 9}};
  ok(shape_occlusal(4, 0.5, 90, &narrow, &o));
  ok(outline_find_crossing(&o, NULL));
  g_assert_cmpfloat(steepest(&o), <, -60);
  (void)outline_nearest(&o, point(0, 4), &d);
  g_assert_cmpfloat(d, <, 1e-6);
  g_assert_cmpint(shape_occlusal(NAN, 0.5, 90, &around, &o), ==, FAULT_RANGE);
  g_assert_cmpint(shape_occlusal(4, 0, 90, &around, &o), ==, FAULT_RANGE);
  g_assert_cmpint(shape_occlusal(4, 0.5, 400, &around, &o), ==, FAULT_RANGE);
  outline_clear(&o);
}

static void test_plan(void)
{
  Outline buccal, lingual;
  outline_init(&buccal);
  outline_init(&lingual);
  ok(shape_plan(3.3, 1.2, 90, 1, &around, &buccal));
  ok(shape_plan(3.3, 1.2, 90, -1, &around, &lingual));
  double d;
  (void)outline_nearest(&buccal, point(0, 1.65), &d);
  g_assert_cmpfloat(d, <, 1e-6);
  for (int i = 0; i <= 20; i++) {
    Point p = outline_at(&buccal, 0.3 * i), q = outline_at(&lingual, 0.3 * i);
    g_assert_cmpfloat(p.x, ==, q.x);
    g_assert_cmpfloat(p.y, ==, -q.y);
  }
  g_assert_cmpfloat_with_epsilon(outline_at(&buccal, 0).y, 4, 1e-12);
  ok(shape_plan(8.5, 1.2, 90, 1, &around, &buccal)); /* a neck wider than the unit: body follows */
  g_assert_cmpfloat_with_epsilon(outline_at(&buccal, 0).y, 4.45, 1e-12);
  g_assert_cmpint(shape_plan(3.3, 1.2, 90, 0, &around, &buccal), ==, FAULT_RANGE);
  g_assert_cmpint(shape_plan(INFINITY, 1.2, 90, 1, &around, &buccal), ==, FAULT_RANGE);
  for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) { /* plan arc as wide as the roof arc */
    Outline o = row_outline(&rows[i]);
    double r = shape_plan_radius(&o), reach = 0;
    for (size_t k = 2; k + 1 < outline_pieces(&o); k++)
      reach = fmax(reach, fabs(o.knot[k].at.x));
    g_assert_cmpfloat(r, >=, 0.8);
    g_assert_cmpfloat(r, <=, 2.5);
    g_assert_cmpfloat(r * sin(45 * DEGREE), >=, fmin(reach, 2.5 * sin(45 * DEGREE)) - 1e-9);
    g_assert_cmpfloat(r, <=, fmax(0.8, 1.06 * reach / sin(45 * DEGREE)));
    outline_clear(&o);
  }
  outline_clear(&buccal);
  outline_clear(&lingual);
}

static void test_starters(void)
{
  Outline o;
  outline_init(&o);
  for (double foot = 0.4; foot < 2.1; foot += 0.3)
    for (double roof = 0.5; roof < 3.2; roof += 0.3) {
      Row row = {.corner = {{-foot, 0, 0}, {foot, 0, 0}}, .n = 2};
      ok(shape_starter_u(foot, roof, &around, &o));
      check_feet(&o, &row);
      g_assert_cmpfloat_with_epsilon(top_of(&o), roof, 1e-5);
      g_assert_cmpfloat(worst_kink(&o), <, 1e-6);
      double u = smallest_radius(&o, 0.6 * roof);
      if (roof < 3 * foot && roof > foot) { /* 10 degrees of lean, the legs allow no more */
        double half = foot - roof * tan(10 * DEGREE);
        if (half < 0.9 * roof / cos(10 * DEGREE) && 0.4 * foot / roof > tan(10 * DEGREE))
          g_assert_cmpfloat_with_epsilon(u, half / tan(40 * DEGREE), 2e-3 * u);
      }
      if (roof > 0.8 && foot > 0.5) {
        ok(shape_starter_v(foot, roof, &around, &o));
        check_feet(&o, &row);
        g_assert_cmpfloat_with_epsilon(top_of(&o), roof, 1e-5);
        g_assert_cmpfloat_with_epsilon(smallest_radius(&o, 0.6 * roof), 0.2, 1e-3);
      }
    }
  g_assert_cmpint(shape_starter_u(NAN, 2, &around, &o), ==, FAULT_RANGE);
  g_assert_cmpint(shape_starter_v(1, INFINITY, &around, &o), ==, FAULT_RANGE);
  g_assert_cmpint(shape_starter_v(0, 2, &around, &o), ==, FAULT_RANGE);
  outline_clear(&o);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/shape/gingival", test_gingival);
  g_test_add_func("/shape/occlusal", test_occlusal);
  g_test_add_func("/shape/plan", test_plan);
  g_test_add_func("/shape/starters", test_starters);
  return g_test_run();
}
