/* test_shape_moves.c - moves: each keeps what it promises.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  Sources: shape_rows.h. */
#include "outline/form.h"
#include "shape_rows.h"

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

/* The room that the reading promises is the room that the move uses. */
static void test_room_to_round(void)
{
  int rounded = 0;
  for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
    Outline o = row_outline(&rows[i]), groove, made;
    outline_init(&groove);
    outline_init(&made);
    ok(shape_occlusal(6, 0.5, 60, &around, &groove));
    Form form;
    ok(form_read(&o, &groove, NULL, NULL, NULL, &form, NULL));
    double radius = form.roof_radius.value + 0.98 * form.room_to_round;
    g_test_message("%s: %.3f of %.3f", rows[i].name, radius, form.room_to_round);
    if (form.room_to_round > 0.05) {
      Fault fault = shape_round_roof(&o, radius, &made);
      if (fault)
        g_error("%s: no roof of %.3f", rows[i].name, radius);
      rounded++;
    }
    outline_clear(&o);
    outline_clear(&groove);
    outline_clear(&made);
  }
  g_assert_cmpint(rounded, >, 12);
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
  g_test_add_func("/shape-moves/round-roof", test_round_roof);
  g_test_add_func("/shape-moves/room-to-round", test_room_to_round);
  g_test_add_func("/shape-moves/move-roof", test_move_roof);
  g_test_add_func("/shape-moves/mirror-leg", test_mirror_leg);
  g_test_add_func("/shape-moves/widen", test_widen);
  g_test_add_func("/shape-moves/best-roof", test_best_roof);
  g_test_add_func("/shape-moves/disc-mark", test_disc_mark);
  g_test_add_func("/shape-moves/no-embrasure", test_no_embrasure);
  return g_test_run();
}
