/* fuzz_plane.c - spoiled shapes through the plane answer: a fault or a finite number, never a
 * crash. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Seeded; meant for the build with sanitizers. */
#include "../core/connector_shapes.h"
#include "mechanics/plane.h"

#define ROUNDS 200

/* Random corners and curves between two upright ends: about half of them cross themselves. */
static Fault silhouette_scribble(GRand *random, Outline *o)
{
  int n = g_rand_int_range(random, 3, 14);
  Fault fault = outline_move_to(o, point(-5, 0));
  for (int i = 0; i < n && !fault; i++) {
    double x = -4 + 8.0 * i / n + g_rand_double_range(random, -0.8, 0.8),
           y = g_rand_double_range(random, -1, 2);
    if (g_rand_boolean(random))
      fault = outline_line_to(o, point(x, y));
    else
      fault = outline_curve_to(o, point(x - 0.3, g_rand_double_range(random, -2, 3)),
                               point(x + 0.4, g_rand_double_range(random, -2, 3)), point(x, y));
  }
  const Point end[] = {{5, 0}, {5, 3}, {0, g_rand_double_range(random, 1, 4)}, {-5, 3}};
  for (int i = 0; i < 4 && !fault; i++)
    fault = outline_line_to(o, end[i]);
  return fault ? fault : outline_close(o);
}

/* Either a fault or a field of finite numbers, never both; gives the field up and says whether
 * there was one. */
static bool answer_check(Fault fault, Field *field)
{
  Peak peak;
  g_assert_cmpint(fault, !=, FAULT_MEMORY);
  g_assert_true((field != NULL) == (fault == FAULT_NONE));
  if (!field)
    return false;
  g_assert_cmpint(field_peak(field, (NeckLoad){1, 0.1}, &peak), ==, FAULT_NONE);
  g_assert_true(isfinite(peak.mpa) && isfinite(peak.mean_mpa) && isfinite(peak.band_percent));
  for (size_t i = 0; i < field->n_surface; i++)
    g_assert_true(isfinite(field->surface[i].area) && field->surface[i].area >= 0);
  field_unref(field);
  return true;
}

static void test_silhouettes(void)
{
  GRand *random = g_rand_new_with_seed(41);
  PlaneWork *work = NULL;
  int answers = 0;
  g_assert_cmpint(plane_work_new(&work), ==, FAULT_NONE);
  for (int i = 0; i < ROUNDS; i++) {
    Outline o;
    Field *field = NULL;
    PlaneReading reading;
    Point where;
    PlaneSettings settings = {205000, 0.31, g_rand_double_range(random, 2, 12)};
    outline_init(&o);
    Fault fault = silhouette_scribble(random, &o);
    if (!fault)
      fault = plane_silhouette(work, &o, g_rand_double_range(random, 0.1, 4), &settings, &field,
                               &reading, &where);
    answers += answer_check(fault, field);
    outline_clear(&o);
  }
  g_assert_cmpint(answers, >, ROUNDS / 20);
  plane_work_free(work);
  g_rand_free(random);
}

static void knots_spoil(GRand *random, Outline *o)
{
  for (size_t i = 1; i + 1 < o->n; i++) {
    if (g_rand_int_range(random, 0, 4))
      continue;
    Point by = {g_rand_double_range(random, -1.2, 1.2), g_rand_double_range(random, -1.2, 1.2)};
    o->knot[i].at = point_add(o->knot[i].at, by);
    o->knot[i].in = point_add(o->knot[i].in, by);
    o->knot[i].out = point_add(o->knot[i].out, by);
  }
}

static void test_connectors(void)
{
  GRand *random = g_rand_new_with_seed(42);
  PlaneWork *work = NULL;
  int answers = 0;
  g_assert_cmpint(plane_work_new(&work), ==, FAULT_NONE);
  for (int i = 0; i < ROUNDS; i++) {
    Connector4 c;
    Field *field = NULL;
    PlaneReading reading;
    Point where;
    PlaneSettings settings = {205000, 0.31, PLANE_FINENESS};
    connector_random(random, &c);
    knots_spoil(random, &c.gingival);
    if (g_rand_boolean(random))
      outline_transform(&c.buccal, (const double[6]){1, 0, 0, g_rand_double(random), 0, 0});
    LoftInput input = connector_input(&c);
    input.neck_x = g_rand_double_range(random, -1, 1);
    Fault fault = plane_connector(work, &input, &settings, &field, &reading, &where);
    answers += answer_check(fault, field);
    connector4_clear(&c);
  }
  g_assert_cmpint(answers, >, ROUNDS / 20);
  plane_work_free(work);
  g_rand_free(random);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/fuzz/plane-silhouettes", test_silhouettes);
  g_test_add_func("/fuzz/plane-connectors", test_connectors);
  return g_test_run();
}
