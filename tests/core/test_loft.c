/* test_loft.c - parts of outlines, ribs, pairing, symmetry, refusals.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  Expected values are the closed forms of circle and line. */
#include "connector_shapes.h"
#include "base/tolerance.h"

static Loft *loft_of(const Connector4 *c)
{
  LoftInput input = connector_input(c);
  Loft *loft = NULL;
  Point where;
  g_assert_cmpint(loft_new(&input, &loft, &where), ==, FAULT_NONE);
  return loft;
}

static void test_parts(void)
{
  Connector4 c;
  connector_draw(&c, roof_shape(0.6, 0, 0), 3.2, 1.0);
  Loft *loft = loft_of(&c);
  double root = sqrt(0.5);
  for (int side = -1; side <= 1; side += 2) {
    Rib neck = loft_rib(loft, side, 0), arc = loft_rib(loft, side, 1),
        foot = loft_rib(loft, side, 2);
    g_assert_cmpfloat_with_epsilon(neck.gingival.y, -2, 1e-6);
    g_assert_cmpfloat_with_epsilon(neck.buccal, 1.6, 1e-6);
    g_assert_cmpfloat_with_epsilon(arc.gingival.x, side * 0.6, 2e-4);
    g_assert_cmpfloat_with_epsilon(arc.gingival.y, -2.6, 2e-3);
    g_assert_cmpfloat_with_epsilon(arc.x_plan, side * root, 2e-3);
    g_assert_cmpfloat_with_epsilon(arc.occlusal.x, side * 0.5 * root, 2e-3);
    g_assert_cmpfloat_with_epsilon(foot.gingival.y, -4.5, 1e-6);
    g_assert_cmpfloat_with_epsilon(foot.gingival.x, side * 0.6, 1e-6);
    g_assert_cmpfloat_with_epsilon(loft_rib(loft, side, 3).gingival.x, side * 8, 1e-6);
    /* half way round the arc is half its length */
    g_assert_cmpfloat_with_epsilon(loft_rib(loft, side, 0.5).gingival.x, side * 0.6 * root, 1e-3);
    g_assert_cmpfloat_with_epsilon(loft_gingival_length(loft, side, 0, 1), 0.6 * G_PI / 2, 2e-3);
    g_assert_cmpfloat_with_epsilon(loft_gingival_radius(loft, side), 0.6, 0.006);
    g_assert_cmpfloat_with_epsilon(loft_occlusal_radius(loft, side), 0.5, 0.005);
    g_assert_cmpfloat_with_epsilon(loft_gingival_turn(loft, side, 0.5), G_PI / 4, 0.003);
    g_assert_cmpfloat(neck.roundness, ==, 2);
    g_assert_cmpfloat(foot.roundness, ==, 4);
  }
  g_assert_cmpfloat_with_epsilon(loft_y0(loft), 0, 1e-9);
  g_assert_false(loft_repaired(loft));
  g_assert_true(loft_mirror_x(loft));
  g_assert_true(loft_mirror_z(loft));
  loft_free(loft);
  connector4_clear(&c);
}

static void test_points(void)
{
  Rib rib = {.s = 1,
             .gingival = {0.5, -2},
             .occlusal = {0.4, 1.5},
             .x_plan = 0.7,
             .buccal = 1.2,
             .lingual = 1.0,
             .roundness = 2,
             .grow = {1, 1, 1, 1}};
  Vec3 low = loft_place(&rib, 0.1, -1, 0, false), side = loft_place(&rib, 0.1, 0, -1, false);
  g_assert_cmpfloat_with_epsilon(low.x, 0.5, 1e-12);
  g_assert_cmpfloat_with_epsilon(low.y, -2, 1e-12);
  g_assert_cmpfloat_with_epsilon(low.z, 0, 1e-12);
  g_assert_cmpfloat_with_epsilon(side.x, 0.7, 1e-12);
  g_assert_cmpfloat_with_epsilon(side.z, -1.0, 1e-12);
  g_assert_cmpfloat_with_epsilon(loft_place(&rib, 0.1, 0, -1, true).z, -1.1, 1e-12);
  /* 3-4-5: 0.6 up leaves 0.8 of the width */
  double reach = rib_reach(&rib, -0.6, 0.8, 1);
  g_assert_cmpfloat_with_epsilon(reach, 1, 1e-12);
  Vec3 p = loft_place(&rib, 0.1, reach * 0.6, reach * 0.8, false);
  g_assert_cmpfloat_with_epsilon(p.z, 0.96, 1e-12);
  g_assert_cmpfloat_with_epsilon(p.x, 0.7 * 0.64 + 0.4 * 0.36, 1e-12);
}

/* Every rib keeps the drawn outlines, whatever the pairing. */
static void test_outlines_kept(void)
{
  static const NotchShape shape[] = {{-2, -1, 0.3, 0, 60, 20, 2.5, 5, 6},
                                     {-2, -1, 0.9, 0.3, 20, 20, 2.5, 6, 6}};
  for (size_t k = 0; k < G_N_ELEMENTS(shape); k++) {
    Connector4 c;
    connector_draw(&c, shape[k], 3.2, 0.8);
    Loft *loft = loft_of(&c);
    g_assert_cmpint(loft_repaired(loft), ==, k == 1);
    for (int side = -1; side <= 1; side += 2) {
      double before = -1e9;
      for (int i = 0; i <= 30; i++) {
        Rib rib = loft_rib(loft, side, i / 10.0);
        double off;
        outline_nearest(&c.gingival, rib.gingival, &off);
        g_assert_cmpfloat(off, <, 1e-4);
        outline_nearest(&c.occlusal, rib.occlusal, &off);
        g_assert_cmpfloat(off, <, 1e-4);
        outline_nearest(&c.buccal, point(rib.x_plan, rib.buccal), &off);
        g_assert_cmpfloat(off, <, 1e-4);
        g_assert_cmpfloat(side * rib.x_plan, >, before);
        before = side * rib.x_plan;
      }
    }
    g_assert_cmpint(loft_mirror_x(loft), ==, k == 1);
    loft_free(loft);
    connector4_clear(&c);
  }
}

/* Corners of the trade notation: a flat of 1.05 - r tan(turn / 2), then the corner's arc, then the
 * leg. */
static void test_corners(void)
{
  static const Corner corner[] = {{-3.5, 0, 0},  {-1.4, 0, 0}, {-1, 2.2, 0.6},
                                  {1, 2.2, 0.6}, {1.4, 0, 0},  {3.5, 0, 0}};
  Connector4 c;
  connector_draw(&c, roof_shape(0.6, 0, 0), 3.2, 1.6);
  outline_clear(&c.gingival);
  outline_init(&c.gingival);
  g_assert_cmpint(outline_from_corners(&c.gingival, corner, G_N_ELEMENTS(corner)), ==, FAULT_NONE);
  double up[6] = {1, 0, 0, 1, 0, 4}; /* neck from 2.2 to 6 */
  outline_transform(&c.occlusal, up);
  Loft *loft = loft_of(&c);
  double turn = atan2(2.2, 0.4), flat = 1 - 0.6 * tan(turn / 2);
  g_assert_cmpfloat_with_epsilon(loft_gingival_length(loft, 1, 0, 1), flat + 0.6 * turn, 3e-3);
  g_assert_cmpfloat_with_epsilon(loft_gingival_radius(loft, 1), 0.6, 0.006);
  g_assert_cmpfloat_with_epsilon(loft_rib(loft, 1, 2).gingival.x, 1.4, 1e-6);
  g_assert_cmpfloat_with_epsilon(loft_rib(loft, 1, 3).gingival.x, 3.5,
                                 1e-6); /* all cut to the shortest */
  g_assert_cmpfloat_with_epsilon(loft_rib(loft, 1, 3).occlusal.x, 3.5, 1e-6);
  g_assert_cmpfloat_with_epsilon(loft_y0(loft), 4.1, 1e-9);
  loft_free(loft);
  connector4_clear(&c);
}

static void test_sides(void)
{
  Connector4 c;
  connector_draw(&c, roof_shape(0.6, 0, 0), 3.2, 1.0);
  double out[6] = {1, 0, 0, 1, 0, 0.25};
  outline_transform(&c.buccal, out);
  Loft *loft = loft_of(&c);
  g_assert_cmpfloat_with_epsilon(loft_side_difference(loft), 0.25, 1e-6);
  g_assert_false(loft_mirror_z(loft));
  g_assert_true(loft_mirror_x(loft));
  loft_free(loft);
  connector4_clear(&c);
}

static void expect(Connector4 *c, double neck_x, double roundness, Fault fault)
{
  LoftInput input = connector_input(c);
  input.neck_x = neck_x;
  input.roundness_neck = roundness;
  Loft *loft = NULL;
  Point where = {NAN, NAN};
  g_assert_cmpint(loft_new(&input, &loft, &where), ==, fault);
  g_assert_null(loft);
  if (fault == FAULT_FOLD)
    g_assert_true(point_finite(where));
}

static void test_refusals(void)
{
  Connector4 c;
  connector_draw(&c, roof_shape(0.6, 0, 0), 3.2, 1.0);
  expect(&c, NAN, 2, FAULT_NOT_FINITE);
  expect(&c, 0, INFINITY, FAULT_NOT_FINITE);
  expect(&c, 0, 0.5, FAULT_RANGE);
  expect(&c, 20, 2, FAULT_NO_NECK);
  expect(&c, 8, 2, FAULT_NO_NECK); /* nothing left beyond the end */
  double down[6] = {1, 0, 0, 1, 0, -3.8};
  outline_transform(&c.occlusal, down); /* 0.2 mm left */
  expect(&c, 0, 2, FAULT_NO_NECK);
  outline_clear(&c.occlusal);
  outline_init(&c.occlusal);
  expect(&c, 0, 2, FAULT_DEGENERATE);
  connector4_clear(&c);
  loft_free(NULL);
}

/* A roof that overhangs its legs far: no pairing can stand. */
static void test_fold(void)
{
  static const Point at[] = {{-8, -4.5}, {-0.4, -4.5}, {-1.8, -2},
                             {1.8, -2},  {0.4, -4.5},  {8, -4.5}};
  Connector4 c;
  connector_draw(&c, roof_shape(0.6, 0, 0), 3.2, 1.0);
  outline_clear(&c.gingival);
  outline_init(&c.gingival);
  g_assert_cmpint(outline_from_points(&c.gingival, at, G_N_ELEMENTS(at), false), ==, FAULT_NONE);
  expect(&c, 0, 2, FAULT_FOLD);
  connector4_clear(&c);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/loft/parts", test_parts);
  g_test_add_func("/loft/points", test_points);
  g_test_add_func("/loft/outlines-kept", test_outlines_kept);
  g_test_add_func("/loft/corners", test_corners);
  g_test_add_func("/loft/sides", test_sides);
  g_test_add_func("/loft/refusals", test_refusals);
  g_test_add_func("/loft/fold", test_fold);
  return g_test_run();
}
