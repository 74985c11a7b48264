/* test_curvature.c - sharp places and the curvature comb of lines with known radii.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm, curvature 1/mm.  The truth is the trade notation itself: straight lines and given
 * radii. */
#include <glib.h>
#include "outline/form.h"

static void test_sharp_places(void)
{
  Outline outline = {0};
  Corner corner[5] = {{0, 0, 0}, {2, 0, 0.25}, {2, 3, 0.7}, {5, 3, 0}, {5, 6, 0}};
  SharpPlace place[3];
  size_t n = 0;
  g_assert_cmpint(outline_from_corners(&outline, corner, 5), ==, FAULT_NONE);
  g_assert_cmpint(sharp_places_find(&outline, 0.6, place, 3, &n), ==, FAULT_NONE);
  g_assert_cmpuint(n, ==, 3);
  g_assert_cmpfloat(place[0].kappa, >, 1000); /* the sharp left corner */
  g_assert_cmpfloat_with_epsilon(place[0].at.x, 5, 1e-3);
  g_assert_cmpfloat_with_epsilon(place[1].kappa, 4, 0.04);
  g_assert_cmpfloat_with_epsilon(place[2].kappa, -1 / 0.7, 0.015);
  g_assert_cmpfloat(place[2].error, <, 0.02);
  g_assert_cmpint(sharp_places_find(&outline, 0.6, place, 1, &n), ==, FAULT_ROOM);
  g_assert_cmpuint(n, ==, 3);
  g_assert_cmpfloat(place[0].kappa, >, 1000);
  g_assert_cmpint(sharp_places_find(&outline, 2, place, 3, &n), ==, FAULT_NONE);
  g_assert_cmpuint(n, ==, 0);
  g_assert_cmpint(sharp_places_find(&outline, NAN, place, 3, &n), ==, FAULT_RANGE);
  outline_clear(&outline);
}

static void test_comb(void)
{
  Outline outline = {0};
  Corner corner[3] = {{0, 0, 0}, {2, 0, 1}, {2, 3, 0}};
  Point at[41], normal[41];
  double kappa[41];
  g_assert_cmpint(outline_from_corners(&outline, corner, 3), ==, FAULT_NONE);
  g_assert_cmpint(curvature_comb(&outline, 41, at, normal, kappa), ==, FAULT_NONE);
  double length = 1 + M_PI / 2 + 2;
  for (int i = 0; i < 41; i++) {
    double s = length * i / 40;
    if (fabs(s - 1) < 0.05 || fabs(s - 1 - M_PI / 2) < 0.05)
      continue;
    bool arc = s > 1 && s < 1 + M_PI / 2;
    g_assert_cmpfloat_with_epsilon(kappa[i], arc ? 1 : 0, 0.003);
    if (arc) {
      g_assert_cmpfloat_with_epsilon(at[i].x, 1 + sin(s - 1), 1e-4);
      g_assert_cmpfloat_with_epsilon(normal[i].x, -sin(s - 1), 1e-3);
    }
  }
  g_assert_cmpint(curvature_comb(&outline, 1, at, normal, kappa), ==, FAULT_RANGE);
  outline_clear(&outline);
}

int main(int argc, char *argv[])
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/curvature/sharp-places", test_sharp_places);
  g_test_add_func("/curvature/comb", test_comb);
  return g_test_run();
}
