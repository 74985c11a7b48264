/* test_shape.c - starters, propositions and moves: each keeps what it promises.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  Source of the table: practice exercises and demo cases of the trade notes (invented;
 * their figures were computed from the corners and are given to 0.01 mm and 1 degree). */
#include <glib.h>
#include "outline/form.h"
#include "outline/shape.h"
#include "base/tolerance.h"

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)
#define DEGREE (G_PI / 180)
#define BODY 5.25

static const Neighbours around = {{BODY, 5}, {8, 10.5}, {8, 7.5}};

typedef struct {
  const char *name;
  Corner corner[8];
  size_t n;
  double roof, radius, lean[2];
} Row;

/* clang-format off */
static const Row rows[] = {
    {"1.1 start", {{-1.5, 0, 0}, {0, 2.8, 0.2}, {1.5, 0, 0}}, 3, 2.58, 0.20, {28, 28}},
    {"1.1 answer", {{-1.5, 0, 0}, {-1.1, 2.4, 0.9}, {1.1, 2.4, 0.9}, {1.5, 0, 0}}, 4, 2.40, 0.90, {9, 9}},
    {"1.2 A", {{-1.4, 0, 0}, {0, 2.6, 0.15}, {1.4, 0, 0}}, 3, 2.43, 0.15, {28, 28}},
    {"1.2 C", {{-0.6, 0, 0}, {-0.45, 1.3, 0.4}, {0.45, 1.3, 0.4}, {0.6, 0, 0}}, 4, 1.30, 0.40, {7, 7}},
    {"1.4 start", {{-2, 0, 0}, {-0.9, 2.3, 0.3}, {0.4, 2.4, 0.5}, {1.1, 0, 0}}, 4, 2.37, 0.30, {26, 16}},
    {"1.5 46/47", {{-1.4, 0, 0}, {0, 2.7, 0.25}, {1.4, 0, 0}}, 3, 2.41, 0.25, {27, 27}},
    {"1.6 answer", {{-1.2, 0, 0}, {-0.9, 1.7, 0.7}, {0.9, 1.7, 0.7}, {1.2, 0, 0}}, 4, 1.70, 0.70, {10, 10}},
    {"2.2 sharp", {{-1.4, 0, 0}, {0, 2.56, 0.25}, {1.4, 0, 0}}, 3, 2.29, 0.25, {29, 29}},
    {"2.5 start", {{-1.1, 0, 0}, {-0.8, 2.2, 0.15}, {0.8, 2.2, 0.15}, {1.1, 0, 0}}, 4, 2.20, 0.15, {8, 8}},
    {"groove answer", {{-1.5, 0, 0}, {0, 1, 1}, {1.5, 0, 0}}, 3, 0.80, 1.00, {56, 56}},
    {"26/27 crooked", {{-1.7, 0, 0}, {-0.6, 2.4, 0.35}, {1, 2.4, 0.8}, {1.3, 0, 0}}, 4, 2.40, 0.35, {25, 7}},
    {"26/27 aside", {{-1.6, 0, 0}, {-0.2, 2.2, 0.2}, {1.2, 0, 0}}, 3, 2.03, 0.20, {32, 32}},
    {"36/37", {{-1.6, 0, 0}, {-0.5, 2.9, 0.35}, {0.5, 2.9, 0.35}, {1.6, 0, 0}}, 4, 2.90, 0.35, {21, 21}},
    {"demo 45/46", {{-1.45, 0, 0}, {-1.05, 2, 0.95}, {1.05, 2, 0.95}, {1.45, 0, 0}}, 4, 2.00, 0.95, {11, 11}},
    {"demo 34/35", {{-1.4, 0, 0}, {0, 2.9, 0.2}, {1.4, 0, 0}}, 3, 2.64, 0.20, {26, 26}},
    {"demo 12/11", {{-0.8, 0, 0}, {-0.65, 1.9, 0.45}, {0.65, 1.9, 0.45}, {0.8, 0, 0}}, 4, 1.90, 0.45, {5, 5}},
    {"demo 46/47", {{-1.2, 0, 0}, {-0.8, 2.3, 0.35}, {0.8, 2.3, 0.35}, {1.2, 0, 0}}, 4, 2.30, 0.35, {10, 10}},
    {"demo 15/16", {{-1.8, 0, 0}, {-0.8, 2, 0.35}, {0.7, 2.1, 0.6}, {1.1, 0, 0}}, 4, 2.07, 0.35, {27, 11}},
};
/* clang-format on */

static Outline row_outline(const Row *row)
{
  Outline o;
  outline_init(&o);
  ok(shape_gingival(row->corner, row->n, &around, &o));
  return o;
}

/* Read off the geometry alone, not by form.c. */
static double top_of(const Outline *o)
{
  double top = -INFINITY;
  Polyline line = {0};
  ok(outline_flatten(o, 1e-6, &line));
  for (size_t i = 0; i < line.n; i++)
    top = fmax(top, line.at[i].y);
  polyline_clear(&line);
  return top;
}

static double smallest_radius(const Outline *o, double above)
{
  double most = 1e-9;
  for (size_t k = 0; k < 64 * outline_pieces(o); k++) {
    double t = ((double)k + 0.5) / 64;
    if (outline_at(o, t).y > above)
      most = fmax(most, fabs(outline_curvature(o, t)));
  }
  return 1 / most;
}

/* The largest change of direction at a knot between the feet, rad. */
static double worst_kink(const Outline *o)
{
  double worst = 0;
  for (size_t i = 2; i + 2 < outline_pieces(o); i++) {
    Point a, b;
    outline_derivatives(o, (double)i - 1e-9, &a, NULL);
    outline_derivatives(o, (double)i + 1e-9, &b, NULL);
    worst = fmax(worst, fabs(atan2(point_cross(a, b), point_dot(a, b))));
  }
  return worst;
}

static bool has_knot(const Outline *o, Point p)
{
  for (size_t i = 0; i < o->n; i++)
    if (point_distance(o->knot[i].at, p) < 1e-6)
      return true;
  return false;
}

/* Bodies and feet of a moved embrasure, and that it is a sound line. */
static void check_feet(const Outline *o, const Row *row)
{
  ok(outline_check(o));
  ok(outline_find_crossing(o, NULL));
  const Corner *l = &row->corner[0], *r = &row->corner[row->n - 1];
  g_assert_true(has_knot(o, point(l->x, l->y)));
  g_assert_true(has_knot(o, point(r->x, r->y)));
  Point a = outline_at(o, 0), b = outline_at(o, (double)outline_pieces(o));
  g_assert_cmpfloat(a.x, ==, -BODY);
  g_assert_cmpfloat(b.x, ==, 5);
  g_assert_cmpfloat(a.y, ==, 0);
  g_assert_cmpfloat(b.y, ==, 0);
}

/* No undercut: 5 degrees (practice exercise 1.1), or what the steeper leg of the start has. */
static void check_leans(const Outline *o, const Row *row)
{
  const Corner *c = row->corner;
  double start = fmin(atan2(c[1].x - c[0].x, c[1].y),
                      atan2(c[row->n - 1].x - c[row->n - 2].x, c[row->n - 2].y));
  double least = fmin(5, start / DEGREE) - 0.02;
  Point d;
  double left = outline_nearest(o, point(row->corner[0].x, 0), NULL);
  double right = outline_nearest(o, point(row->corner[row->n - 1].x, 0), NULL);
  outline_derivatives(o, left + 1e-6, &d, NULL);
  g_assert_cmpfloat(atan2(d.x, d.y) / DEGREE, >, least);
  outline_derivatives(o, right - 1e-6, &d, NULL);
  g_assert_cmpfloat(atan2(d.x, -d.y) / DEGREE, >, least);
}

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
  Point side; /* 90 degrees included: each side at 45 */
  outline_derivatives(&o, 1.5, &side, NULL);
  g_assert_cmpfloat_with_epsilon(atan2(side.y, side.x) / DEGREE, -45, 1e-9);
  /* a deep groove between short units: steeper, but still the groove asked for */
  const Neighbours narrow = {{2, 8}, {10, 10}, {9, 9}};
  ok(shape_occlusal(4, 0.5, 90, &narrow, &o));
  ok(outline_find_crossing(&o, NULL));
  outline_derivatives(&o, 1.5, &side, NULL);
  g_assert_cmpfloat(atan2(side.y, side.x) / DEGREE, <, -60);
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

static void test_round_roof(void)
{
  int done = 0;
  for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
    Outline o = row_outline(&rows[i]), made;
    outline_init(&made);
    double roof = top_of(&o);
    for (double radius = 0.1; radius < 3; radius += 0.05) {
      Fault fault = shape_round_roof(&o, radius, &made);
      g_assert_true(fault == FAULT_NONE || fault == FAULT_RANGE);
      if (fault)
        continue;
      done++;
      check_feet(&made, &rows[i]);
      check_leans(&made, &rows[i]);
      g_assert_cmpfloat_with_epsilon(top_of(&made), roof, 1e-4);
      g_assert_cmpfloat(worst_kink(&made), <, 1e-6);
      g_assert_cmpfloat_with_epsilon(smallest_radius(&made, 0.6 * roof), radius, 3e-3 * radius);
    }
    outline_clear(&o);
    outline_clear(&made);
  }
  g_assert_cmpint(done, >, 200);
  /* exercise 1.1: from the V to a roof of at least 0.80, feet and roof kept */
  Outline o = row_outline(&rows[0]);
  ok(shape_round_roof(&o, 0.8, &o)); /* in place */
  check_feet(&o, &rows[0]);
  Outline same;
  outline_init(&same);
  ok(outline_copy(&same, &o));
  const double absurd[] = {2.4, 50, 0, -1, NAN, INFINITY};
  for (size_t i = 0; i < G_N_ELEMENTS(absurd); i++)
    g_assert_cmpint(shape_round_roof(&o, absurd[i], &o), ==, FAULT_RANGE);
  g_assert_true(outline_equal(&o, &same, 0));
  outline_clear(&same);
  outline_clear(&o);
}

/* The room that the reading promises is the room that the move uses, where both sides are alike;
 * for a lopsided or very open one the reading may promise more than one arc over its middle can
 * take. */
static void test_room_to_round(void)
{
  for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
    Outline o = row_outline(&rows[i]), groove, made;
    outline_init(&groove);
    outline_init(&made);
    ok(shape_occlusal(6, 0.5, 60, &around, &groove));
    Form form;
    ok(form_read(&o, &groove, NULL, NULL, NULL, &form, NULL));
    double off_middle =
        fabs(form.roof.x - (rows[i].corner[0].x + rows[i].corner[rows[i].n - 1].x) / 2);
    double uneven = fabs(form.leg_lean_left_deg - form.leg_lean_right_deg);
    if (form.room_to_round > 0.05 && off_middle < 0.05 && uneven < 10 &&
        form.leg_lean_left_deg < 50)
      ok(shape_round_roof(&o, form.roof_radius.value + 0.98 * form.room_to_round, &made));
    outline_clear(&o);
    outline_clear(&groove);
    outline_clear(&made);
  }
}

static void test_move_roof(void)
{
  int done = 0;
  for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
    Outline o = row_outline(&rows[i]), made;
    outline_init(&made);
    for (double y = 0.4; y < 3.5; y += 0.1) {
      Fault fault = shape_move_roof(&o, y, &made);
      g_assert_true(fault == FAULT_NONE || fault == FAULT_RANGE);
      if (fault)
        continue;
      done++;
      check_feet(&made, &rows[i]);
      check_leans(&made, &rows[i]);
      g_assert_cmpfloat_with_epsilon(top_of(&made), y, 1e-4);
      g_assert_cmpfloat(worst_kink(&made), <, 1e-6);
      g_assert_cmpfloat_with_epsilon(smallest_radius(&made, 0.6 * y), rows[i].radius,
                                     0.01 * rows[i].radius);
    }
    /* 0.2 lower is possible everywhere */
    ok(shape_move_roof(&o, rows[i].roof - 0.2, &made));
    outline_clear(&o);
    outline_clear(&made);
  }
  g_assert_cmpint(done, >, 200);
  Outline o = row_outline(&rows[0]);
  g_assert_cmpint(shape_move_roof(&o, NAN, &o), ==, FAULT_NOT_FINITE);
  g_assert_cmpint(shape_move_roof(&o, -1, &o), ==, FAULT_RANGE);
  g_assert_cmpint(shape_move_roof(&o, 1e9, &o), ==, FAULT_RANGE);
  outline_clear(&o);
}

static void test_mirror_leg(void)
{
  for (size_t i = 0; i < G_N_ELEMENTS(rows); i++)
    for (int keep = -1; keep <= 1; keep += 2) {
      Outline o = row_outline(&rows[i]), made;
      outline_init(&made);
      if (shape_mirror_leg(&o, keep, &made) == FAULT_NONE) {
        ok(outline_check(&made));
        ok(outline_find_crossing(&made, NULL));
        g_assert_cmpfloat(worst_kink(&made), <, 2e-3);
        double top = top_of(&o), axis, low = INFINITY, high = -INFINITY;
        g_assert_cmpfloat_with_epsilon(top_of(&made), top, 1e-5);
        for (size_t k = 0; k <= 500 * outline_pieces(&made); k++) {
          Point p = outline_at(&made, (double)k / 500);
          if (p.y > top - 1e-4)
            low = fmin(low, p.x), high = fmax(high, p.x);
        }
        axis = (low + high) / 2;
        double kept = keep < 0 ? rows[i].corner[0].x : rows[i].corner[rows[i].n - 1].x;
        g_assert_true(has_knot(&made, point(kept, 0)));
        double d, t0 = outline_nearest(&made, point(kept, 0), NULL);
        for (int k = 0; k <= 40; k++) { /* every place of the kept leg has its image */
          double t = t0 + ((double)outline_pieces(&made) / 2 - t0) * k / 40;
          Point p = outline_at(&made, t);
          (void)outline_nearest(&made, point(2 * axis - p.x, p.y), &d);
          g_assert_cmpfloat(d, <, 2e-3);
          (void)outline_nearest(&o, p, &d);
          if ((p.x - axis) * keep > 0)
            g_assert_cmpfloat(d, <, 1e-6);
        }
      }
      outline_clear(&o);
      outline_clear(&made);
    }
  Outline o = row_outline(&rows[0]);
  ok(shape_mirror_leg(&o, -1, &o));
  g_assert_true(has_knot(&o, point(1.5, 0)));
  g_assert_cmpint(shape_mirror_leg(&o, 0, &o), ==, FAULT_RANGE);
  outline_clear(&o);
}

static void test_widen(void)
{
  for (int sign = -1; sign <= 1; sign += 2) {
    Outline plan, made;
    outline_init(&plan);
    outline_init(&made);
    ok(shape_plan(3.2, 1.2, 90, sign, &around, &plan));
    for (double by = -0.5; by < 1.5; by += 0.25) {
      ok(shape_widen(&plan, by, &made));
      double d;
      (void)outline_nearest(&made, point(0, sign * (1.6 + by)), &d);
      g_assert_cmpfloat(d, <, 1e-3);
      double pieces = (double)outline_pieces(&plan);
      g_assert_cmpfloat(outline_at(&made, 0).x, ==, -BODY);
      g_assert_cmpfloat_with_epsilon(outline_at(&made, pieces).y, sign * 5.25, 1e-9);
    }
    g_assert_cmpint(shape_widen(&plan, 4, &made), ==, FAULT_RANGE);
    g_assert_cmpint(shape_widen(&plan, -1.6, &made), ==, FAULT_RANGE);
    g_assert_cmpint(shape_widen(&plan, NAN, &made), ==, FAULT_NOT_FINITE);
    outline_clear(&plan);
    ok(outline_move_to(&plan, point(-3, 2)));
    ok(outline_line_to(&plan, point(3, 2)));
    g_assert_cmpint(shape_widen(&plan, 0.3, &made), ==, FAULT_RANGE); /* no neck to widen */
    outline_clear(&plan);
    outline_clear(&made);
  }
}

static void test_best_roof(void)
{
  for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
    Outline o = row_outline(&rows[i]), made;
    outline_init(&made);
    double roof = top_of(&o), left = rows[i].corner[0].x, right = rows[i].corner[rows[i].n - 1].x;
    g_test_message("%s", rows[i].name);
    ok(shape_best_roof(&o, 0.3, &made));
    check_feet(&made, &rows[i]);
    check_leans(&made, &rows[i]);
    g_assert_cmpfloat_with_epsilon(top_of(&made), roof, 1e-4);
    g_assert_cmpfloat(worst_kink(&made), <, 1e-6);
    g_assert_cmpfloat(smallest_radius(&made, 0.02), >, 0.3 * (1 - 3e-3));
    double last = 1e9; /* convex; the radius falls from the apex to the leg */
    for (size_t k = 0; k <= 40 * outline_pieces(&made); k++) {
      double t = (double)k / 40;
      Point p = outline_at(&made, t);
      if (p.y < 0.02)
        continue;
      g_assert_cmpfloat(p.x, >=, left - 1e-9);
      g_assert_cmpfloat(p.x, <=, right + 1e-9);
      double bend = -outline_curvature(&made, t);
      g_assert_cmpfloat(bend, >, -1e-6);
      if (bend > 1e-6 && p.x > 0.6 * right && roof > 1.5 && 1 / bend > 0.301) {
        g_assert_cmpfloat(1 / bend, <, last * 1.03);
        last = 1 / bend;
      }
    }
    outline_clear(&o);
    outline_clear(&made);
  }
  /* R(theta) = c exp(-3 theta / theta_e) where the floor does not rule: read from the line itself
   */
  Outline o = row_outline(&rows[13]), made;
  outline_init(&made);
  ok(shape_best_roof(&o, 0.05, &made));
  Point d;
  double apex = outline_nearest(&made, point(0, 2), NULL);
  double r0 = -1 / outline_curvature(&made, apex + 0.01);
  int read = 0;
  double end = 85 * DEGREE, t = apex + 0.01;
  outline_derivatives(&made, t, &d, NULL);
  double theta0 = -atan2(d.y, d.x);
  for (; t < (double)outline_pieces(&made); t += 0.1) {
    outline_derivatives(&made, t, &d, NULL);
    double theta = -atan2(d.y, d.x), r = -1 / outline_curvature(&made, t);
    if (theta > 0.95 * end || theta < theta0)
      break;
    g_assert_cmpfloat_with_epsilon(log(r0 / r), 3 * (theta - theta0) / end, 0.02);
    read++;
  }
  g_assert_cmpint(read, >, 50);
  g_assert_cmpint(shape_best_roof(&o, 1.5, &made), ==, FAULT_RANGE); /* wider than the room */
  g_assert_cmpint(shape_best_roof(&o, NAN, &made), ==, FAULT_RANGE);
  g_assert_cmpint(shape_best_roof(&o, 0, &made), ==, FAULT_RANGE);
  outline_clear(&made);
  outline_clear(&o);
}

static void test_disc_mark(void)
{
  for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
    Outline o = row_outline(&rows[i]), made;
    outline_init(&made);
    double pieces = (double)outline_pieces(&o);
    for (double t = 0.1; t < pieces; t += 0.31)
      for (int k = 0; k < 4; k++) {
        static const double depth[] = {0.2, 0.05, 0.3, 0.1}, edge[] = {0.04, 0.15, 0.1, 0.1};
        Fault fault = shape_disc_mark(&o, t, depth[k], edge[k], &made);
        g_assert_true(fault == FAULT_NONE || fault == FAULT_RANGE);
        if (fault)
          continue;
        ok(outline_check(&made));
        ok(outline_find_crossing(&made, NULL));
        Point at = outline_at(&o, t), end = outline_at(&o, pieces);
        g_assert_cmpfloat(point_distance(outline_at(&made, 0), outline_at(&o, 0)), ==, 0);
        g_assert_cmpfloat(point_distance(outline_at(&made, (double)outline_pieces(&made)), end), <,
                          1e-9);
        if (t == floor(t))
          continue;
        Point along, second; /* the bottom of the cut: `depth` into the material */
        outline_derivatives(&o, t, &along, &second);
        if (fabs(outline_curvature(&o, t)) * edge[k] < 1e-6 && t - floor(t) > 0.2 &&
            t - floor(t) < 0.8) {
          Point in = point_scale(point(-along.y, along.x), depth[k] / point_length(along));
          double d;
          (void)outline_nearest(&made, point_add(at, in), &d);
          g_assert_cmpfloat(d, <, 1e-3 + depth[k] * 0.02);
        }
      }
    outline_clear(&o);
    outline_clear(&made);
  }
  Outline o = row_outline(&rows[1]), made; /* on the flat of the 1.1 answer, 0.2 deep, edge 0.04 */
  outline_init(&made);
  ok(shape_disc_mark(&o, outline_nearest(&o, point(0.1, 2.4), NULL), 0.2, 0.04, &made));
  g_assert_cmpfloat_with_epsilon(top_of(&made), 2.6, 1e-5);
  g_assert_cmpfloat_with_epsilon(smallest_radius(&made, 2.45), 0.04, 1e-3 * 0.04 * 5);
  /* beginning exactly on a knot: nothing is lost (length = old - mouth + walls + edge) */
  double mouth = 0.04 * cos(15 * DEGREE) + (0.2 - 0.04 * (1 - sin(15 * DEGREE))) * tan(15 * DEGREE);
  double wall = (0.2 - 0.04 * (1 - sin(15 * DEGREE))) / cos(15 * DEGREE);
  double expect = outline_length(&o) - 2 * mouth + 2 * wall + 0.04 * 150 * DEGREE;
  g_assert_cmpfloat_with_epsilon(outline_length(&made), expect, 1e-5);
  size_t knot = 0;
  while (!(fabs(o.knot[knot].at.y - 2.4) < 1e-6))
    knot++;
  double flat = point_distance(o.knot[knot].at, o.knot[knot + 1].at);
  ok(shape_disc_mark(&o, (double)knot + mouth / flat, 0.2, 0.04, &made));
  g_assert_cmpfloat_with_epsilon(outline_length(&made), expect, 1e-5);
  g_assert_cmpint(shape_disc_mark(&o, 0, 0.2, 0.04, &made), ==, FAULT_RANGE);
  g_assert_cmpint(shape_disc_mark(&o, 1e9, 0.2, 0.04, &made), ==, FAULT_RANGE);
  g_assert_cmpint(shape_disc_mark(&o, NAN, 0.2, 0.04, &made), ==, FAULT_RANGE);
  g_assert_cmpint(shape_disc_mark(&o, 3, NAN, 0.04, &made), ==, FAULT_RANGE);
  g_assert_cmpint(shape_disc_mark(&o, 3, 0.2, 0, &made), ==, FAULT_RANGE);
  outline_clear(&o);
  outline_clear(&made);
}

static void test_no_embrasure(void)
{
  Outline flat, made, closed;
  outline_init(&flat);
  outline_init(&made);
  outline_init(&closed);
  ok(outline_move_to(&flat, point(-3, 0)));
  ok(outline_line_to(&flat, point(3, 0)));
  g_assert_cmpint(shape_round_roof(&flat, 0.5, &made), ==, FAULT_RANGE);
  g_assert_cmpint(shape_move_roof(&flat, 2, &made), ==, FAULT_RANGE);
  g_assert_cmpint(shape_best_roof(&flat, 0.3, &made), ==, FAULT_RANGE);
  g_assert_cmpint(shape_mirror_leg(&flat, 1, &made), ==, FAULT_RANGE);
  g_assert_cmpfloat(shape_plan_radius(&flat), ==, 0.8);
  g_assert_cmpint(shape_round_roof(&made, 0.5, &made), ==, FAULT_DEGENERATE); /* nothing drawn */
  g_assert_cmpint(shape_disc_mark(&made, 0, 0.2, 0.04, &made), ==, FAULT_DEGENERATE);
  g_assert_cmpint(shape_widen(&made, 0.2, &made), ==, FAULT_DEGENERATE);
  ok(outline_move_to(&closed, point(2, 0)));
  ok(outline_arc_to(&closed, point(0, 0), 2 * G_PI));
  ok(outline_close(&closed));
  g_assert_cmpint(shape_round_roof(&closed, 0.5, &made), ==, FAULT_RANGE);
  g_assert_cmpint(shape_disc_mark(&closed, 1, 0.2, 0.04, &made), ==, FAULT_RANGE);
  g_assert_cmpuint(made.n, ==, 0);
  outline_clear(&flat);
  outline_clear(&closed);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/shape/gingival", test_gingival);
  g_test_add_func("/shape/occlusal", test_occlusal);
  g_test_add_func("/shape/plan", test_plan);
  g_test_add_func("/shape/starters", test_starters);
  g_test_add_func("/shape/round-roof", test_round_roof);
  g_test_add_func("/shape/room-to-round", test_room_to_round);
  g_test_add_func("/shape/move-roof", test_move_roof);
  g_test_add_func("/shape/mirror-leg", test_mirror_leg);
  g_test_add_func("/shape/widen", test_widen);
  g_test_add_func("/shape/best-roof", test_best_roof);
  g_test_add_func("/shape/disc-mark", test_disc_mark);
  g_test_add_func("/shape/no-embrasure", test_no_embrasure);
  return g_test_run();
}
