/* test_measure.c - distances, angles and circles against exact geometry.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, degrees. */
#include "outline/measure.h"
#include "outline/outline.h"
#include "proof.h"
#include <glib.h>

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)
static const Source triangle = {"Euclid, Elements I.47 and III.31: triangle 3-4-5", EXACT};
static const Source inscribed = {"law of sines: R = abc / 4K, triangle 13-14-15", EXACT};
static const Source drawn_arc = {"circle the arc was drawn with", EXACT};

static void test_way(void)
{
  MeasuredWay way;
  MeasuredPlace p[2] = {{point(1, 2), 0}, {point(4, 6), 0}};
  ok(measure_way(p, &way));
  proof_row("distance of two places, mm", triangle, 5, way.distance.value, 1e-10);
  proof_row("angle from level, degrees", triangle, 53.130102354156, way.angle_deg.value, 1e-9);
  g_assert_cmpfloat(way.along.value, ==, 3);
  g_assert_cmpfloat(way.up.value, ==, 4);
  g_assert_cmpfloat(way.distance.high - way.distance.low, ==, 0);
  p[0].within = 0.03, p[1].within = 0.01;
  ok(measure_way(p, &way));
  g_assert_cmpfloat_with_epsilon(way.distance.low, 4.96, 1e-12);
  g_assert_cmpfloat_with_epsilon(way.distance.high, 5.04, 1e-12);
  /* every pair of places inside the bands is inside the band of the answer */
  GRand *rand = g_rand_new_with_seed(20);
  for (int i = 0; i < 2000; i++) {
    Point q[2];
    for (int k = 0; k < 2; k++) {
      double a = g_rand_double_range(rand, 0, 2 * G_PI), r = p[k].within * g_rand_double(rand);
      q[k] = point_add(p[k].at, point(r * cos(a), r * sin(a)));
    }
    double d = point_distance(q[0], q[1]),
           angle = atan2(q[1].y - q[0].y, q[1].x - q[0].x) * 180 / G_PI;
    g_assert_true(d >= way.distance.low && d <= way.distance.high);
    g_assert_true(angle >= way.angle_deg.low && angle <= way.angle_deg.high);
  }
  g_rand_free(rand);
  p[1].at = p[0].at; /* no direction */
  ok(measure_way(p, &way));
  g_assert_cmpfloat(way.angle_deg.high - way.angle_deg.low, ==, 360);
  p[1].at.x = NAN;
  g_assert_cmpint(measure_way(p, &way), ==, FAULT_NOT_FINITE);
  p[1] = (MeasuredPlace){point(0, 0), -1};
  g_assert_cmpint(measure_way(p, &way), ==, FAULT_RANGE);
}

static void test_circle(void)
{
  MeasuredCircle circle;
  MeasuredPlace p[3] = {{point(3, 0), 0}, {point(0, 0), 0}, {point(0, 4), 0}};
  ok(measure_circle(p, &circle));
  proof_row("circle through a right triangle: radius, mm", triangle, 2.5, circle.radius.value,
            1e-10);
  proof_row("angle in the half circle, degrees", triangle, 90, circle.corner_deg.value, 1e-10);
  g_assert_cmpfloat(point_distance(circle.centre, point(1.5, 2)), <, 1e-12);
  const MeasuredPlace q[3] = {{point(0, 0), 0}, {point(14, 0), 0}, {point(5, 12), 0}};
  ok(measure_circle(q, &circle));
  proof_row("circle through three places: radius, mm", inscribed, 8.125, circle.radius.value,
            1e-10);
  Outline arc = {0}; /* three places taken on a drawn arc */
  ok(outline_move_to(&arc, point(0.785 - 0.635, 2.1)));
  ok(outline_arc_to(&arc, point(0.785, 2.1), -G_PI));
  const MeasuredPlace on[3] = {
      {outline_at(&arc, 0.7), 0.01}, {outline_at(&arc, 2.9), 0.01}, {outline_at(&arc, 5.2), 0.01}};
  ok(measure_circle(on, &circle));
  proof_row("roof measured by three places: radius, mm", drawn_arc, 0.635, circle.radius.value,
            1e-3);
  g_assert_cmpfloat(circle.radius.low, <, 0.630);
  g_assert_cmpfloat(circle.radius.high, >, 0.640);
  g_assert_cmpfloat(circle.radius.high, <, 0.68);
  outline_clear(&arc);
}

static void test_circle_band(void)
{
  const MeasuredPlace p[3] = {{point(0, 0), 0.02}, {point(1, 0.7), 0.01}, {point(2.2, 0.1), 0.03}};
  MeasuredCircle circle;
  ok(measure_circle(p, &circle));
  GRand *rand = g_rand_new_with_seed(7);
  double least = INFINITY, most = 0;
  for (int i = 0; i < 4000; i++) {
    MeasuredPlace q[3];
    MeasuredCircle near;
    for (int k = 0; k < 3; k++) {
      double a = g_rand_double_range(rand, 0, 2 * G_PI);
      q[k] =
          (MeasuredPlace){point_add(p[k].at, point(p[k].within * cos(a), p[k].within * sin(a))), 0};
    }
    ok(measure_circle(q, &near));
    least = fmin(least, near.radius.value);
    most = fmax(most, near.radius.value);
  }
  g_rand_free(rand);
  double half = (circle.radius.high - circle.radius.low) / 2;
  g_assert_cmpfloat(least, >=, circle.radius.low - 0.1 * half); /* to first order */
  g_assert_cmpfloat(most, <=, circle.radius.high + 0.1 * half);
  g_assert_cmpfloat(most - least, >, half); /* and no wider than need be */
}

static void test_no_circle(void)
{
  MeasuredCircle circle = {.radius = {7, 7, 7}};
  MeasuredPlace p[3] = {{point(0, 0), 0.01}, {point(1, 0.005), 0.01}, {point(2, 0), 0.01}};
  g_assert_cmpint(measure_circle(p, &circle), ==, FAULT_DEGENERATE); /* may be a line */
  p[1].at = point(0.01, 0.01);
  g_assert_cmpint(measure_circle(p, &circle), ==, FAULT_DEGENERATE); /* may be one place */
  p[1].at = point(NAN, 0);
  g_assert_cmpint(measure_circle(p, &circle), ==, FAULT_NOT_FINITE);
  g_assert_cmpfloat(circle.radius.value, ==, 7); /* untouched */
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/measure/way", test_way);
  g_test_add_func("/measure/circle", test_circle);
  g_test_add_func("/measure/circle-band", test_circle_band);
  g_test_add_func("/measure/no-circle", test_no_circle);
  return g_test_run();
}
