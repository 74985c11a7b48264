/* test_walk.c - steps along a drawn line, how it bends where one stands, and its landmarks.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, degrees.  Expected values: geometry of circle, parabola and polygon. */
#include "outline/walk.h"
#include "connector_shapes.h"
#include "proof.h"

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)

static const Source drawn_arc = {"an arc drawn with that radius", EXACT};

/* A half circle over two straight legs: foot -0.635, -2 .. 0.635, -2. */
static void arch_draw(Outline *arch)
{
  outline_init(arch);
  ok(outline_move_to(arch, point(-0.635, -2)));
  ok(outline_line_to(arch, point(-0.635, 0)));
  ok(outline_arc_to(arch, point(0, 0), -G_PI));
  ok(outline_line_to(arch, point(0.635, -2)));
}

static void test_steps(void)
{
  Outline arch;
  arch_draw(&arch);
  double t = 0, to, length = 4 + G_PI * 0.635;
  ok(walk_step(&arch, t, 2.3, &t)); /* 0.3 mm up the arc: by 0.3 / r rad */
  Point at = outline_at(&arch, t);
  const Source turn = {"arc length over radius is the angle", EXACT};
  proof_row("0.3 mm along an arc of 0.635 mm: angle, rad", turn, 0.3 / 0.635,
            G_PI - atan2(at.y, at.x), 1e-4);
  int steps = 0;
  for (t = 0; outline_at(&arch, t).x < 0.635 - 1e-9 || outline_at(&arch, t).y > -2 + 1e-9; t = to) {
    ok(walk_step(&arch, t, 0.1, &to));
    g_assert_cmpfloat(to, >, t);
    g_assert_cmpint(++steps, <, 100);
  }
  proof_row("steps of 0.1 mm over the arch", turn, ceil(length / 0.1), steps, 1e-6);
  ok(walk_step(&arch, t, 0.1, &to)); /* held at the end */
  g_assert_cmpfloat(to, ==, t);
  for (int i = 0; i < 10; i++)
    ok(walk_step(&arch, to, -0.1, &to));
  for (int i = 0; i < 50; i++)
    ok(walk_step(&arch, to, 0.02, &to));
  g_assert_cmpfloat_with_epsilon(to, t, 1e-6); /* there and back */
  ok(walk_step(&arch, t, -99, &to));
  g_assert_cmpfloat(to, ==, 0);
  g_assert_cmpint(walk_step(&arch, NAN, 0.1, &to), ==, FAULT_NOT_FINITE);
  g_assert_cmpint(walk_step(&arch, 0, INFINITY, &to), ==, FAULT_NOT_FINITE);
  outline_clear(&arch);
  g_assert_cmpint(walk_step(&arch, 0, 0.1, &to), ==, FAULT_DEGENERATE);
}

static void test_bend(void)
{
  Outline arch;
  WalkBend bend;
  double t;
  arch_draw(&arch);
  ok(walk_step(&arch, 0, 2 + 0.635 * G_PI / 2, &t));
  ok(walk_bend(&arch, t, &bend));
  g_assert_cmpint(bend.kind, ==, BEND_HOLLOW);
  proof_row("radius where one stands on an arc, mm", drawn_arc, 0.635, bend.radius.value, 0.2);
  g_assert_cmpfloat(bend.radius.low, <=, bend.radius.value);
  g_assert_cmpfloat(bend.radius.high, <, 0.64);
  ok(walk_bend(&arch, 0.5, &bend));
  g_assert_cmpint(bend.kind, ==, BEND_STRAIGHT);
  ok(walk_step(&arch, 0, 2.005, &t)); /* beside the leg: the hand may stand on either */
  ok(walk_bend(&arch, t, &bend));
  g_assert_cmpfloat(bend.radius.low, <, 0.636);
  g_assert_cmpfloat(bend.radius.high, >, 1e6);
  outline_reverse(&arch);
  ok(walk_bend(&arch, (double)outline_pieces(&arch) / 2, &bend));
  g_assert_cmpint(bend.kind, ==, BEND_BULGING);
  outline_clear(&arch);

  ok(outline_move_to(&arch, point(-1, 0.5))); /* y = x^2 / 2 as a cubic */
  ok(outline_curve_to(&arch, point(-1.0 / 3, -1.0 / 6), point(1.0 / 3, -1.0 / 6), point(1, 0.5)));
  const Source parabola = {"curvature of y = x^2 / 2: (1 + x^2)^-1.5", EXACT};
  ok(walk_bend(&arch, 0.5, &bend));
  proof_row("radius at the vertex of a parabola, mm", parabola, 1, bend.radius.value, 1e-6);
  ok(walk_bend(&arch, 0.9, &bend));
  proof_row("radius beside it, x = 0.8, mm", parabola, pow(1.64, 1.5), bend.radius.value, 1e-6);
  g_assert_cmpint(bend.kind, ==, BEND_BULGING);
  outline_clear(&arch);

  const Point tent[] = {{-1, 0}, {0, 1}, {1, 0}};
  ok(outline_from_points(&arch, tent, 3, false));
  ok(walk_bend(&arch, 1, &bend));
  g_assert_cmpint(bend.kind, ==, BEND_CORNER);
  const Source corner = {"diagonals of a square", EXACT};
  proof_row("corner of a tent, degrees", corner, 90, bend.corner_deg, 1e-6);
  g_assert_true(isnan(bend.radius.value));
  ok(walk_bend(&arch, 0, &bend)); /* the end is no corner */
  g_assert_cmpint(bend.kind, ==, BEND_STRAIGHT);
  g_assert_cmpint(walk_bend(&arch, NAN, &bend), ==, FAULT_NOT_FINITE);
  outline_clear(&arch);
}

static void test_landmarks(void)
{
  Connector4 c = {0};
  connector_draw(&c, roof_shape(0.5, 0, 30), 3.2, 0.8);
  Form form;
  Point where;
  ok(form_read(&c.gingival, &c.occlusal, &c.buccal, &c.lingual, NULL, &form, &where));
  Landmark mark[LANDMARK_N];
  Point hot = point_add(form.roof, point(0.2, -0.04));
  size_t n = walk_landmarks(&c.gingival, &form, hot, mark);
  g_assert_cmpuint(n, ==, LANDMARK_N);
  unsigned seen = 0;
  for (size_t i = 0; i < n; i++) {
    seen |= 1u << mark[i].kind;
    if (i)
      g_assert_cmpfloat(mark[i].t, >=, mark[i - 1].t);
    Point at = outline_at(&c.gingival, mark[i].t);
    if (mark[i].kind == LANDMARK_ROOF)
      g_assert_cmpfloat(point_distance(at, form.roof), <, 1e-3);
    if (mark[i].kind == LANDMARK_HOT_SPOT)
      g_assert_cmpfloat(point_distance(at, hot), <, 0.05);
  }
  g_assert_cmpuint(seen, ==, (1u << LANDMARK_N) - 1);
  g_assert_cmpint(mark[0].kind, ==, LANDMARK_FOOT_LEFT);
  g_assert_cmpint(mark[1].kind, ==, LANDMARK_LEG_LEFT);
  g_assert_cmpint(mark[n - 1].kind, ==, LANDMARK_FOOT_RIGHT);
  g_assert_cmpuint(walk_landmarks(&c.gingival, &form, point(NAN, NAN), mark), ==, LANDMARK_N - 1);
  Point up = point(form.roof.x, form.roof.y + 2); /* the hot spot of the groove is not on it */
  g_assert_cmpuint(walk_landmarks(&c.gingival, &form, up, mark), ==, LANDMARK_N - 1);
  Outline none;
  outline_init(&none);
  g_assert_cmpuint(walk_landmarks(&none, &form, hot, mark), ==, 0);
  connector4_clear(&c);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/walk/steps", test_steps);
  g_test_add_func("/walk/bend", test_bend);
  g_test_add_func("/walk/landmarks", test_landmarks);
  return g_test_run();
}
