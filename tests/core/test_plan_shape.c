/* test_plan_shape.c - plan outlines moved, mirrored, and refused where no body can follow.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm. */
#include "mechanics/plan_shape.h"
#include "connector_shapes.h"
#include "outline/knot.h"
#include <stdint.h>
#include <string.h>

#define ok(call) g_assert_cmpint((int)(call), ==, FAULT_NONE)

static Fault checked(const Connector4 *c, Point *where, const char **reason)
{
  LoftInput input = connector_input(c);
  *reason = "";
  return plan_check(&input, where, reason);
}

static size_t knot_at(const Outline *o, double x, double y)
{
  double away;
  size_t i = knot_near(o, point(x, y), 5, &away);
  g_assert_cmpuint(i, <, o->n);
  g_assert_cmpfloat_with_epsilon(away, point_distance(o->knot[i].at, point(x, y)), 1e-12);
  return i;
}

static void test_near(void)
{
  Connector4 c;
  connector_draw(&c, roof_shape(0.6, 0, 0), 3.2, 1.0);
  const Outline *o = &c.buccal;
  for (size_t i = 0; i < o->n; i++) {
    Point at = point_add(o->knot[i].at, point(0.01, -0.01));
    g_assert_cmpuint(knot_near(o, at, 0.05, NULL), ==, i);
    g_assert_cmpuint(knot_near(o, at, 0.001, NULL), ==, SIZE_MAX);
  }
  connector4_clear(&c);
}

/* Both sides are drawn alike; an end keeps its x, a knot takes its tangents along. */
static void test_moves(void)
{
  Connector4 c;
  Outline image;
  connector_draw(&c, roof_shape(0.6, 0, 0), 3.2, 1.0);
  outline_init(&image);
  ok(plan_mirror(&c.buccal, &image));
  g_assert_true(outline_equal(&image, &c.lingual, 1e-9));
  ok(plan_mirror(&image, &image));
  g_assert_true(outline_equal(&image, &c.buccal, 1e-9));
  Knot was = image.knot[2];
  ok(plan_move_knot(&image, 2, point_add(was.at, point(0.3, -0.2))));
  g_assert_cmpfloat_with_epsilon(image.knot[2].out.x, was.out.x + 0.3, 1e-12);
  g_assert_cmpfloat_with_epsilon(image.knot[2].in.y, was.in.y - 0.2, 1e-12);
  ok(plan_move_knot(&image, 0, point(-5, 3)));
  g_assert_cmpfloat(image.knot[0].at.x, ==, -8);
  g_assert_cmpfloat(image.knot[0].at.y, ==, 3);
  ok(plan_move_knot(&image, image.n - 1, point(5, 3)));
  g_assert_cmpfloat(image.knot[image.n - 1].at.x, ==, 8);
  g_assert_cmpint((int)plan_move_knot(&image, image.n, point(0, 0)), ==, FAULT_RANGE);
  g_assert_cmpint((int)plan_move_knot(&image, 1, point(NAN, 0)), ==, FAULT_NOT_FINITE);
  outline_clear(&image);
  connector4_clear(&c);
}

static void test_refuses(void)
{
  /* the knot nearest to `from` goes to `to` */
  static const struct {
    Point from, to;
    Fault fault;
    double x; /* where it is told, to 0.5 mm */
    const char *reason;
  } bad[] = {
      {{0, 1.6}, {0, 0.05}, FAULT_NO_NECK, 0, "closer than 0.15 mm"},
      {{8, 4}, {8, -1}, FAULT_NO_NECK, 8, "closer than 0.15 mm"},
      {{3.11, 4}, {-0.2, 4}, FAULT_FOLD, -0.2, "turns back here"},
      {{3.11, 4}, {-6, 3}, FAULT_CROSSING, -1.7, "crosses itself"},
  };
  for (size_t i = 0; i < G_N_ELEMENTS(bad); i++) {
    Connector4 c;
    Point where;
    const char *reason;
    connector_draw(&c, roof_shape(0.6, 0, 0), 3.2, 1.0);
    g_assert_cmpint((int)checked(&c, &where, &reason), ==, FAULT_NONE);
    ok(plan_move_knot(&c.buccal, knot_at(&c.buccal, bad[i].from.x, bad[i].from.y), bad[i].to));
    g_assert_cmpint((int)checked(&c, &where, &reason), ==, (int)bad[i].fault);
    g_test_message("%zu: %.2f %.2f %s", i, where.x, where.y, reason);
    g_assert_nonnull(strstr(reason, bad[i].reason));
    g_assert_cmpfloat_with_epsilon(where.x, bad[i].x, 0.5);
    g_assert_cmpfloat(where.y, >, -1.1); /* of the cheek side */
    /* the same on the tongue side */
    ok(plan_mirror(&c.buccal, &c.lingual));
    connector4_clear(&c);
    connector_draw(&c, roof_shape(0.6, 0, 0), 3.2, 1.0);
    Point from = point(bad[i].from.x, -bad[i].from.y), to = point(bad[i].to.x, -bad[i].to.y);
    ok(plan_move_knot(&c.lingual, knot_at(&c.lingual, from.x, from.y), to));
    g_assert_cmpint((int)checked(&c, &where, &reason), ==, (int)bad[i].fault);
    g_assert_cmpfloat_with_epsilon(where.x, bad[i].x, 0.5);
    connector4_clear(&c);
  }
}

/* No neck between gum side and groove: said as such, at the neck. */
static void test_no_neck(void)
{
  Connector4 c;
  Point where;
  const char *reason;
  connector_draw(&c, roof_shape(0.6, 0, 0), 3.2, 1.0);
  outline_transform(&c.gingival, (const double[6]){1, 0, 0, 1, 0, 3.8});
  Fault fault = checked(&c, &where, &reason);
  g_assert_cmpint((int)fault, ==, FAULT_NO_NECK);
  g_assert_cmpstr(reason, ==, fault_text(fault));
  g_assert_cmpfloat_with_epsilon(where.x, 0, 1);
  connector4_clear(&c);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/plan-shape/near", test_near);
  g_test_add_func("/plan-shape/moves", test_moves);
  g_test_add_func("/plan-shape/refuses", test_refuses);
  g_test_add_func("/plan-shape/no-neck", test_no_neck);
  return g_test_run();
}
