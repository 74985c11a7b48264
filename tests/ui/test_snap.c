/* test_snap.c - what a dragged place comes to rest on.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm. */
#include "ui/canvas/snap.h"
#include <glib.h>
#include <math.h>
#include <stdint.h>

#define REACH 0.08
#define ok(call) g_assert_cmpint(call, ==, 0)

static Outline line_make(void)
{
  Outline o = {0};
  const Point at[] = {{-3.03, 0.03}, {-1.47, 0.03}, {-0.33, 2.36}, {1.22, 0.03}, {3.47, 0.03}};
  ok(outline_from_points(&o, at, G_N_ELEMENTS(at), false));
  return o;
}

static SnapTargets targets_make(const Outline *line)
{
  return (SnapTargets){.line = {line, NULL},
                       .except = 2,
                       .axis_x = 0.137,
                       .cutter = {0.4, 1.2},
                       .cutter_radius = 0.45};
}

static void at_is(Snap snap, double x, double y)
{
  g_assert_cmpfloat_with_epsilon(snap.at.x, x, 1e-12);
  g_assert_cmpfloat_with_epsilon(snap.at.y, y, 1e-12);
}

static void test_grid(void)
{
  Outline line = line_make();
  SnapTargets t = targets_make(&line);
  SnapSettings s = snap_settings_default();
  Snap snap = snap_place(&s, &t, point(-2.04, 3.27), REACH);
  at_is(snap, -2.0, 3.3);
  g_assert_cmpstr(snap.word[0], ==, "grid");
  g_assert_cmpstr(snap.word[1], ==, "grid");
  s.grid_mm = 0.5;
  snap = snap_place(&s, &t, point(-2.04, 3.27), REACH); /* one number near, one not */
  at_is(snap, -2.0, 3.27);
  g_assert_cmpstr(snap.word[0], ==, "grid");
  g_assert_null(snap.word[1]);
  s.kind[SNAP_GRID] = false;
  snap = snap_place(&s, &t, point(-2.04, 3.27), REACH);
  at_is(snap, -2.04, 3.27);
  g_assert_null(snap.word[0]);
  outline_clear(&line);
}

static void test_knots(void)
{
  Outline line = line_make();
  SnapTargets t = targets_make(&line);
  SnapSettings s = snap_settings_default();
  Snap snap = snap_place(&s, &t, point(1.26, 3.33), REACH);
  at_is(snap, 1.22, 3.3); /* the knot before the grid */
  g_assert_cmpstr(snap.word[0], ==, "in line with a knot");
  g_assert_cmpstr(snap.word[1], ==, "grid");
  g_assert_cmpfloat(snap.from[0].x, ==, 1.22);
  snap = snap_place(&s, &t, point(-2.45, 0.06), REACH);
  g_assert_cmpfloat(snap.at.y, ==, 0.03);
  g_assert_cmpstr(snap.word[1], ==, "level with a knot");
  /* the dragged one is no aim for itself */
  snap = snap_place(&s, &t, point(-0.34, 2.37), REACH);
  g_assert_cmpstr(snap.word[0], ==, "grid");
  /* two knots are never made one */
  snap = snap_place(&s, &t, point(1.22, 0.03), REACH);
  g_assert_cmpstr(snap.word[0], ==, "in line with a knot");
  /* a mirror image: 2 * 0.137 - 1.22 */
  snap = snap_place(&s, &t, point(-0.93, 0.06), REACH);
  at_is(snap, 2 * 0.137 - 1.22, 0.03);
  g_assert_cmpstr(snap.word[0], ==, "mirrors a knot");
  s.kind[SNAP_AXIS] = false;
  g_assert_cmpstr(snap_place(&s, &t, point(-0.93, 0.06), REACH).word[0], ==, "grid");
  outline_clear(&line);
}

static void test_axis_and_cutter(void)
{
  Outline line = line_make();
  SnapTargets t = targets_make(&line);
  SnapSettings s = snap_settings_default();
  Snap snap = snap_place(&s, &t, point(0.17, 3.0), REACH);
  at_is(snap, 0.137, 3.0); /* the axis before the grid */
  g_assert_cmpstr(snap.word[0], ==, "on the axis");
  for (double a = 0.1; a < 6.2; a += 0.23) /* anywhere round the cutter, inside and outside */
    for (double off = -0.07; off < 0.08; off += 0.035) {
      Point p = point(0.4 + (0.45 + off) * cos(a), 1.2 + (0.45 + off) * sin(a));
      snap = snap_place(&s, &t, p, REACH);
      g_assert_cmpstr(snap.word[0], ==, "cutter radius");
      g_assert_cmpfloat_with_epsilon(point_distance(snap.at, t.cutter), 0.45, 1e-12);
      g_assert_cmpfloat(point_distance(snap.at, p), <=, REACH);
    }
  s.kind[SNAP_CUTTER] = false;
  g_assert_cmpstr(snap_place(&s, &t, point(0.84, 1.2), REACH).word[0], ==, "grid");
  s.kind[SNAP_CUTTER] = true;
  t.cutter_radius = 0; /* no cutter on the drawing */
  t.axis_x = NAN;      /* and no axis              */
  snap = snap_place(&s, &t, point(0.17, 1.22), REACH);
  at_is(snap, 0.2, 1.2);
  outline_clear(&line);
}

static void test_measuring(void)
{
  Outline line = line_make();
  SnapTargets t = targets_make(&line);
  SnapSettings s = snap_settings_default();
  t.onto = true;
  t.except = SIZE_MAX;
  Snap snap = snap_place(&s, &t, point(-0.31, 2.38), REACH);
  at_is(snap, -0.33, 2.36);
  g_assert_cmpstr(snap.word[0], ==, "on a knot");
  g_assert_true(snap.on_line);
  snap = snap_place(&s, &t, point(-2.2, 0.0), REACH);
  at_is(snap, -2.2, 0.03);
  g_assert_cmpstr(snap.word[0], ==, "on the line");
  g_assert_true(snap.on_line);
  g_assert_false(snap_place(&s, &t, point(-2.2, 1.0), REACH).on_line);
  outline_clear(&line);
}

static void test_end_of_a_stroke(void)
{
  Outline line = line_make();
  SnapTargets t = targets_make(&line);
  SnapSettings s = snap_settings_default();
  const Point none = {NAN, NAN};
  Snap snap = snap_end(&s, &t, none, point(-1.44, 0.05), 0.6, REACH);
  at_is(snap, -1.47, 0.03); /* a knot, also the one that was chosen before */
  g_assert_cmpstr(snap.word[0], ==, "on a knot");
  at_is(snap_end(&s, &t, none, point(-0.36, 2.33), 0.6, REACH), -0.33, 2.36);
  snap = snap_end(&s, &t, none, point(-2.23, 0.4), 0.6, REACH); /* a foot: down to the line */
  at_is(snap, -2.2, 0.03);
  g_assert_cmpstr(snap.word[0], ==, "on the line");
  g_assert_cmpstr(snap.word[1], ==, "grid");
  snap = snap_end(&s, &t, point(-2.2, 0.03), point(2.44, -0.2), 0.6, REACH);
  at_is(snap, 2 * 0.137 + 2.2, 0.03); /* as far from the axis as the first foot, before the grid */
  g_assert_cmpstr(snap.word[0], ==, "mirrors the other end");
  g_assert_null(snap.word[1]);
  /* on a steep leg the grid across would lead far along it: the nearest place */
  Point leg = outline_at(&line, 2.4);
  snap = snap_end(&s, &t, none, leg, 0.6, REACH);
  g_assert_cmpfloat(point_distance(snap.at, leg), <=, 2 * REACH);
  double off;
  outline_nearest(&line, snap.at, &off);
  g_assert_cmpfloat(off, <, 1e-9);
  /* too far from the line, or nothing wanted: no place */
  g_assert_true(isnan(snap_end(&s, &t, none, point(-2.2, 0.7), 0.6, REACH).at.x));
  s.kind[SNAP_GRID] = s.kind[SNAP_KNOTS] = s.kind[SNAP_AXIS] = false;
  snap = snap_end(&s, &t, point(-2.2, 0.03), point(2.44, -0.2), 0.6, REACH);
  at_is(snap, 2.44, 0.03);
  s.on = false;
  snap = snap_end(&s, &t, none, point(-1.44, 0.05), 0.6, REACH);
  g_assert_true(isnan(snap.at.x) && !snap.word[0] && !snap.word[1]);
  outline_clear(&line);
}

/* Suspended, or out of reach of all, nothing moves. */
static void test_off(void)
{
  Outline line = line_make();
  SnapTargets t = targets_make(&line);
  SnapSettings s = snap_settings_default();
  s.on = false;
  GRand *rand = g_rand_new_with_seed(3);
  for (int i = 0; i < 500; i++) {
    Point p = point(g_rand_double_range(rand, -4, 4), g_rand_double_range(rand, 0, 4));
    Snap snap = snap_place(&s, &t, p, REACH);
    g_assert_true(snap.at.x == p.x && snap.at.y == p.y && !snap.word[0] && !snap.word[1]);
    s.on = true; /* and switched on it never moves further than it reaches, each way */
    snap = snap_place(&s, &t, p, REACH);
    g_assert_cmpfloat(fmax(fabs(snap.at.x - p.x), fabs(snap.at.y - p.y)), <=, REACH + 1e-12);
    s.on = false;
  }
  g_rand_free(rand);
  outline_clear(&line);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/snap/grid", test_grid);
  g_test_add_func("/snap/knots", test_knots);
  g_test_add_func("/snap/axis-and-cutter", test_axis_and_cutter);
  g_test_add_func("/snap/measuring", test_measuring);
  g_test_add_func("/snap/end-of-a-stroke", test_end_of_a_stroke);
  g_test_add_func("/snap/off", test_off);
  return g_test_run();
}
