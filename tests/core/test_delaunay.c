/* test_delaunay.c - triangulation and plane mesh: area, shape, exactness, refusals.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib.h>
#include "mechanics/plane_element.h"

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)

static double triangle_area(Point a, Point b, Point c)
{
  return point_cross(point_sub(b, a), point_sub(c, a)) / 2;
}

static double inside_area(const Delaunay *mesh, size_t *count)
{
  double sum = 0;
  *count = 0;
  for (size_t i = 0; i < mesh->n_triangle; i++) {
    const Triangle *t = &mesh->triangle[i];
    if (!t->inside)
      continue;
    double area = triangle_area(mesh->at[t->v[0]], mesh->at[t->v[1]], mesh->at[t->v[2]]);
    g_assert_cmpfloat(area, >=, 0);
    sum += area;
    ++*count;
  }
  return sum;
}

/* Neighbours know each other, and no free edge is worth turning. */
static void check_sound(const Delaunay *mesh)
{
  for (size_t i = 0; i < mesh->n_triangle; i++)
    for (int k = 0; k < 3; k++) {
      const Triangle *t = &mesh->triangle[i];
      if (t->n[k] < 0)
        continue;
      const Triangle *u = &mesh->triangle[t->n[k]];
      int j = u->n[0] == (int32_t)i ? 0 : u->n[1] == (int32_t)i ? 1 : 2;
      g_assert_cmpint(u->n[j], ==, (int32_t)i);
      g_assert_cmpint(u->v[(j + 1) % 3], ==, t->v[(k + 2) % 3]);
      g_assert_cmpint(u->v[(j + 2) % 3], ==, t->v[(k + 1) % 3]);
      g_assert_cmpint(u->fixed[j], ==, t->fixed[k]);
      if (t->fixed[k] || !t->inside)
        continue;
      Point d = mesh->at[u->v[j]];
      double sum[3][3];
      for (int c = 0; c < 3; c++) {
        Point p = point_sub(mesh->at[t->v[c]], d);
        sum[c][0] = p.x, sum[c][1] = p.y, sum[c][2] = point_dot(p, p);
      }
      double in = sum[0][2] * (sum[1][0] * sum[2][1] - sum[2][0] * sum[1][1]) +
                  sum[1][2] * (sum[2][0] * sum[0][1] - sum[0][0] * sum[2][1]) +
                  sum[2][2] * (sum[0][0] * sum[1][1] - sum[1][0] * sum[0][1]);
      double size = fmax(sum[0][2], fmax(sum[1][2], sum[2][2]));
      g_assert_cmpfloat(in, <, 1e-6 * size * size); /* up to the grid */
    }
}

static void test_polygon(void)
{
  /* A comb: long thin teeth that need forced edges. */
  Point at[64];
  size_t n = 0;
  for (int i = 0; i < 16; i++) {
    at[n++] = point(0.3 * i, i % 2 ? 0.01 : 3);
    at[n++] = point(0.3 * i + 0.02, i % 2 ? 0.01 : 3);
  }
  at[n++] = point(5, -0.5);
  at[n++] = point(-0.5, -0.5);
  for (size_t i = 0; i < n / 2; i++) { /* as drawn it runs clockwise */
    Point swap = at[i];
    at[i] = at[n - 1 - i];
    at[n - 1 - i] = swap;
  }
  double area = 0;
  for (size_t i = 0; i < n; i++)
    area += point_cross(at[i], at[(i + 1) % n]) / 2;
  g_assert_cmpfloat(area, >, 0);
  Delaunay mesh = {0};
  Point where;
  size_t count;
  ok(delaunay_polygon(&mesh, at, n, &where));
  g_assert_cmpfloat_with_epsilon(inside_area(&mesh, &count), area, 1e-9);
  g_assert_cmpuint(count, ==, n - 2); /* Euler */
  check_sound(&mesh);
  delaunay_clear(&mesh);
}

static void test_refusals(void)
{
  Delaunay mesh = {0};
  Point where = {0, 0};
  const Point bow[] = {{0, 0}, {2, 2}, {2, 0}, {0, 2}};
  g_assert_cmpint(delaunay_polygon(&mesh, bow, 4, &where), ==, FAULT_CROSSING);
  const Point touch[] = {{0, 0}, {4, 0}, {4, 2}, {2, 0}, {0, 2}}; /* a corner on an edge */
  g_assert_cmpint(delaunay_polygon(&mesh, touch, 5, &where), ==, FAULT_CROSSING);
  const Point twice[] = {{0, 0}, {1, 0}, {1, 0}, {0, 1}};
  g_assert_cmpint(delaunay_polygon(&mesh, twice, 4, &where), ==, FAULT_DEGENERATE);
  g_assert_cmpfloat(where.x, ==, 1);
  const Point nan[] = {{0, 0}, {1, 0}, {NAN, 1}};
  g_assert_cmpint(delaunay_polygon(&mesh, nan, 3, &where), ==, FAULT_NOT_FINITE);
  const Point same[] = {{1, 1}, {1, 1}, {1, 1}};
  g_assert_cmpint(delaunay_polygon(&mesh, same, 3, &where), ==, FAULT_DEGENERATE);
  g_assert_cmpint(delaunay_polygon(&mesh, bow, 2, &where), ==, FAULT_RANGE);
  const Point square[] = {{0, 0}, {1, 0}, {1, 1}, {0, 1}}; /* four on a circle, and used again */
  size_t count;
  ok(delaunay_polygon(&mesh, square, 4, &where));
  g_assert_cmpfloat_with_epsilon(inside_area(&mesh, &count), 1, 1e-12);
  delaunay_clear(&mesh);
}

/* A closed wavy line around the origin: radius 3 with random waves, never crossing itself. */
static void wavy(GRand *random, Outline *o)
{
  const int n = 40;
  double amplitude[8], phase[8];
  for (int k = 0; k < 8; k++) {
    amplitude[k] = g_rand_double_range(random, 0, 1.6) / (k + 2);
    phase[k] = g_rand_double_range(random, 0, 2 * G_PI);
  }
  Point at[40];
  for (int i = 0; i < n; i++) {
    double angle = 2 * G_PI * i / n, r = 3;
    for (int k = 0; k < 8; k++)
      r += amplitude[k] * sin((k + 2) * angle + phase[k]);
    r = fmax(r, 0.5);
    at[i] = point(r * cos(angle), r * sin(angle));
  }
  outline_init(o);
  ok(outline_move_to(o, at[0]));
  for (int i = 0; i < n; i++) { /* through the points, handles along the neighbours' chord */
    Point a = at[(i + n - 1) % n], b = at[i], c = at[(i + 1) % n], d = at[(i + 2) % n];
    ok(outline_curve_to(o, point_add(b, point_scale(point_sub(c, a), 1.0 / 6)),
                        point_sub(c, point_scale(point_sub(d, b), 1.0 / 6)), c));
  }
  ok(outline_close(o));
}

/* 400 seeded shapes: every mesh fills its outline with sound elements. */
static void test_random(void)
{
  GRand *random = g_rand_new_with_seed(20261);
  PlaneMesh mesh = {0};
  double worst_angle = 180, worst_area = 0;
  size_t lean = 0, all = 0;
  for (int round = 0; round < 400; round++) {
    Outline o;
    Point where;
    wavy(random, &o);
    ok(outline_find_crossing(&o, &where));
    ok(plane_mesh_make(&mesh, &o, round % 2 ? 6 : 10, &where));
    double area = 0;
    for (size_t e = 0; e < mesh.n_element; e++) {
      for (int g = 0; g < TRIANGLE_GAUSS; g++) {
        TrianglePoint p = triangle_point(&mesh, &mesh.element[e], g);
        g_assert_cmpfloat(p.area, >, 0);
        area += p.area;
      }
      double least = 180;
      for (int k = 0; k < 3; k++) {
        Point a = mesh.at[mesh.element[e].node[k]], b = mesh.at[mesh.element[e].node[(k + 1) % 3]],
              c = mesh.at[mesh.element[e].node[(k + 2) % 3]];
        Point u = point_sub(b, a), v = point_sub(c, a);
        least = fmin(least, atan2(point_cross(u, v), point_dot(u, v)) * 180 / G_PI);
      }
      worst_angle = fmin(worst_angle, least);
      lean += least < 20;
      all++;
    }
    worst_area = fmax(worst_area, fabs(area / outline_area(&o) - 1));
    if (round % 20 == 0)
      check_sound(&mesh.triangles);
    outline_clear(&o);
  }
  g_test_message("smallest angle %.1f; %zu of %zu below 20 degrees; area "
                 "to %.1e",
                 worst_angle, lean, all, worst_area);
  g_assert_cmpfloat(worst_angle, >, 10);
  g_assert_cmpuint(lean * 500, <, all);
  g_assert_cmpfloat(worst_area, <, 2e-4);
  plane_mesh_clear(&mesh);
  g_rand_free(random);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/delaunay/polygon", test_polygon);
  g_test_add_func("/delaunay/refusals", test_refusals);
  g_test_add_func("/delaunay/random-outlines", test_random);
  return g_test_run();
}
