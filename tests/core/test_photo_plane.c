/* test_photo_plane.c - perspective by four points, scale by marks, and how well it is known.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib.h>
#include "base/random.h"
#include "outline/photo_plane.h"
#include "proof.h"

static const Source square_map = {"map of the unit square to the quadrilateral (0,0) (1,0) (2,2) "
                                  "(0,1): x' = 2x/(3-x-y)... solved by hand from its four corners",
                                  EXACT};
static const Source made = {"photo made from a known plane and a known lens", EXACT};

/* Unit square to (0,0) (1,0) (2,2) (0,1).  By hand: h6 = h7 = -1/3, h0 = h4 = 2/3: the corner (1,
 * 1) goes to (2/3) / (1/3) = 2, (1, 0) to (2/3) / (2/3) = 1. */
static void test_known_homography(void)
{
  const Point from[4] = {{0, 0}, {1, 0}, {1, 1}, {0, 1}}, to[4] = {{0, 0}, {1, 0}, {2, 2}, {0, 1}};
  PlaneMap map, back;
  g_assert_cmpint(plane_map_quad(from, to, &map), ==, FAULT_NONE);
  proof_row("homography of a unit square, h6 / h8", square_map, -1.0 / 3, map.m[6] / map.m[8],
            1e-9);
  proof_row("homography of a unit square, h7 / h8", square_map, -1.0 / 3, map.m[7] / map.m[8],
            1e-9);
  proof_row("homography of a unit square, h0 / h8", square_map, 2.0 / 3, map.m[0] / map.m[8], 1e-9);
  proof_row("homography of a unit square, h4 / h8", square_map, 2.0 / 3, map.m[4] / map.m[8], 1e-9);
  g_assert_cmpint(plane_map_invert(&map, &back), ==, FAULT_NONE);
  Point p = plane_map_at(&back, plane_map_at(&map, point(0.3, 0.6)));
  g_assert_cmpfloat(point_distance(p, point(0.3, 0.6)), <, 1e-12);
}

/* A camera 150 mm off that looks at the plane from the side: mm to px. */
static Point seen(Point mm)
{
  const double tilt = 0.35, turn = 0.2, away = 150, focal = 9000;
  double x = mm.x * cos(turn) - mm.y * sin(turn), y = mm.x * sin(turn) + mm.y * cos(turn),
         z = away + x * sin(tilt);
  return point(2000 + focal * x * cos(tilt) / z, 1500 - focal * y / z);
}

static PhotoPlane plane_new(void)
{
  PhotoPlane p;
  photo_plane_init(&p, 4000, 3000, 20, point(0, 4));
  return p;
}

static void corners_of(double w, double h, Point corner[4])
{
  const Point mm[4] = {{-w / 2, h / 2}, {w / 2, h / 2}, {w / 2, -h / 2}, {-w / 2, -h / 2}};
  for (int i = 0; i < 4; i++)
    corner[i] = seen(mm[i]);
}

static double measured(const PhotoPlane *p, Point a_mm, Point b_mm)
{
  PlaneMap map;
  g_assert_cmpint(photo_map(p, &map), ==, FAULT_NONE);
  return point_distance(plane_map_at(&map, seen(a_mm)), plane_map_at(&map, seen(b_mm)));
}

static void test_straighten_by_size(void)
{
  PhotoPlane p = plane_new();
  Point corner[4], swap;
  corners_of(12, 8, corner);
  swap = corner[0], corner[0] = corner[2], corner[2] = swap; /* marked in any order */
  g_assert_cmpint(photo_set_corners(&p, corner, 12, 8, 0.02, point(0, 0), NULL), ==, FAULT_NONE);
  proof_row("straightened photo, distance across the rectangle, mm", made, hypot(12, 8),
            measured(&p, point(-6, 4), point(6, -4)), 1e-7);
  proof_row("straightened photo, distance outside of it, mm", made, 10,
            measured(&p, point(3, 7), point(9, -1)), 1e-7);
  double mm_px, percent;
  g_assert_cmpint(photo_scale(&p, &mm_px, &percent), ==, FAULT_NONE);
  g_assert_cmpfloat(percent, >, 0.2);
  g_assert_cmpfloat(percent, <, 3);
}

static void test_straighten_by_ratio_then_scale(void)
{
  PhotoPlane p = plane_new();
  Point corner[4];
  double mm_px, percent;
  corners_of(12, 8, corner);
  g_assert_cmpint(photo_set_corners(&p, corner, 3, 2, NAN, point(0, 0), NULL), ==, FAULT_NONE);
  g_assert_cmpint(photo_scale(&p, &mm_px, &percent), ==, FAULT_UNSCALED);
  const Point mark[2] = {seen(point(-1, 2)), seen(point(2, -2))};
  PlaneMap carry;
  g_assert_cmpint(photo_set_marks(&p, mark, 2, 5, 0.02, NAN, point(0, 0), &carry), ==, FAULT_NONE);
  proof_row("straightened by ratio, scaled by two marks, another distance, mm", made, 10,
            measured(&p, point(3, 7), point(9, -1)), 1e-6);
}

/* Ticks of a ruler, each off by a known scatter: the error that is said is the error that is. */
static void test_ruler(void)
{
  uint64_t state = 11;
  int inside = 0, draws = 200;
  double spread = 0, said = 0;
  for (int d = 0; d < draws; d++) {
    PhotoPlane p = plane_new();
    Point mark[11];
    for (int i = 0; i < 11; i++) {
      double noise[2];
      for (int k = 0; k < 2; k++) {
        noise[k] = -6;
        for (int j = 0; j < 12; j++)
          noise[k] += random_unit(&state);
      }
      mark[i] = point(500 + 80 * i + 2 * noise[0], 700 + 60 * i + 2 * noise[1]);
    }
    double mm_px, percent;
    g_assert_cmpint(photo_set_marks(&p, mark, 11, 0.5, 0, 0.5, point(0, 0), NULL), ==, FAULT_NONE);
    g_assert_cmpint(photo_scale(&p, &mm_px, &percent), ==, FAULT_NONE);
    double off = 100 * (mm_px / 0.005 - 1); /* 100 px are 0.5 mm */
    spread += off * off / draws;
    said += percent / draws;
    inside += fabs(off) <= 1.645 * percent;
  }
  /* least squares: sigma / (step sqrt(sum (i - mean)^2)), sigma 2 px, sum 110 */
  proof_row("scale by 11 ticks off by 2 px, scatter in percent",
            (Source){"variance of the slope of a straight line", EXACT},
            100 * 2 / (100 * sqrt(110)), sqrt(spread), 15);
  g_test_message("scatter %.3f %%, said %.3f %%, %d of %d inside", sqrt(spread), said, inside,
                 draws);
  g_assert_cmpfloat(said, >, 0.8 * sqrt(spread));
  g_assert_cmpfloat(said, <, 2.0 * sqrt(spread));
  g_assert_cmpint(inside, >=, draws * 85 / 100);
}

static void test_two_marks_error(void)
{
  PhotoPlane p = plane_new();
  const Point mark[2] = {{1000, 1500}, {1600, 1500}};
  double mm_px, percent;
  g_assert_cmpint(photo_scale(&p, &mm_px, &percent), ==, FAULT_UNSCALED);
  g_assert_cmpint(photo_set_marks(&p, mark, 2, 3, 0.03, 3, point(0, 0), NULL), ==, FAULT_NONE);
  g_assert_cmpint(photo_scale(&p, &mm_px, &percent), ==, FAULT_NONE);
  proof_row("scale by two marks, mm a px", made, 0.005, mm_px, 1e-9);
  /* 1 % of the distance; 3 px of 600 at each end: (0.5^2 + 0.5^2)^0.5 = 0.71 % */
  proof_row("its error, percent", (Source){"independent errors add in squares", EXACT},
            sqrt(1 + 0.5), percent, 1);
}

static void test_degenerate(void)
{
  PhotoPlane p = plane_new(), before = p;
  const Point line[4] = {{0, 0}, {100, 100}, {200, 200}, {50, 400}},
              dent[4] = {{0, 0}, {400, 0}, {180, 60}, {0, 400}},
              same[4] = {{5, 5}, {5, 5}, {5, 5}, {5, 5}},
              good[4] = {{0, 0}, {9, 0}, {9, 9}, {0, 9}};
  g_assert_cmpint(photo_set_corners(&p, line, 1, 1, NAN, point(0, 0), NULL), ==, FAULT_DEGENERATE);
  g_assert_cmpint(photo_set_corners(&p, dent, 1, 1, NAN, point(0, 0), NULL), ==, FAULT_DEGENERATE);
  g_assert_cmpint(photo_set_corners(&p, same, 1, 1, NAN, point(0, 0), NULL), !=, FAULT_NONE);
  g_assert_cmpint(photo_set_corners(&p, good, 0, 1, NAN, point(0, 0), NULL), ==, FAULT_RANGE);
  g_assert_cmpint(photo_set_corners(&p, good, NAN, 1, NAN, point(0, 0), NULL), ==, FAULT_RANGE);
  const Point twice[2] = {{5, 5}, {5, 5}}, uneven[4] = {{0, 0}, {100, 0}, {350, 0}, {400, 0}};
  g_assert_cmpint(photo_set_marks(&p, twice, 2, 1, 0, NAN, point(0, 0), NULL), ==,
                  FAULT_DEGENERATE);
  g_assert_cmpint(photo_set_marks(&p, uneven, 4, 1, 0, NAN, point(0, 0), NULL), ==,
                  FAULT_DEGENERATE);
  g_assert_cmpint(photo_set_marks(&p, uneven, 1, 1, 0, NAN, point(0, 0), NULL), ==, FAULT_RANGE);
  g_assert_cmpint(photo_set_marks(&p, good, 2, -1, 0, NAN, point(0, 0), NULL), ==, FAULT_RANGE);
  g_assert_true(memcmp(&p, &before, sizeof p) == 0); /* nothing was changed */
}

/* What lay under the neck lies there still, and a traced line goes with the photo. */
static void test_changes_keep_still(void)
{
  PhotoPlane p = plane_new();
  PlaneMap before, after, carry, back;
  Point still = {0.4, 2.5}, corner[4];
  g_assert_cmpint(photo_map(&p, &before), ==, FAULT_NONE);
  g_assert_cmpint(plane_map_invert(&before, &back), ==, FAULT_NONE);
  Point px = plane_map_at(&back, still), other = {2300, 1200};
  corners_of(12, 8, corner);
  g_assert_cmpint(photo_set_corners(&p, corner, 3, 2, NAN, still, &carry), ==, FAULT_NONE);
  g_assert_cmpint(photo_map(&p, &after), ==, FAULT_NONE);
  g_assert_cmpfloat(point_distance(plane_map_at(&after, px), still), <, 1e-9);
  Outline line;
  outline_init(&line);
  Point ends[2] = {plane_map_at(&before, px), plane_map_at(&before, other)};
  g_assert_cmpint(outline_from_points(&line, ends, 2, false), ==, FAULT_NONE);
  g_assert_cmpint(outline_carry(&line, &carry), ==, FAULT_NONE);
  g_assert_cmpfloat(point_distance(line.knot[1].at, plane_map_at(&after, other)), <, 1e-9);
  outline_clear(&line);
  photo_turn(&p, 30, still);
  photo_zoom(&p, 1.7, still);
  g_assert_cmpint(photo_map(&p, &after), ==, FAULT_NONE);
  g_assert_cmpfloat(point_distance(plane_map_at(&after, px), still), <, 1e-9);
  g_assert_cmpint(photo_straighten_off(&p, still, NULL), ==, FAULT_NONE);
  g_assert_cmpint(photo_map(&p, &after), ==, FAULT_NONE);
  g_assert_cmpfloat(point_distance(plane_map_at(&after, px), still), <, 1e-9);
  /* with a scale, the zoom by hand is no more */
  const Point mark[2] = {{1000, 1500}, {1600, 1500}};
  g_assert_cmpint(photo_set_marks(&p, mark, 2, 3, 0, NAN, still, NULL), ==, FAULT_NONE);
  PhotoPlane scaled = p;
  photo_zoom(&p, 2, still);
  g_assert_true(memcmp(&p, &scaled, sizeof p) == 0);
  g_assert_cmpint(photo_scale_off(&p, still, NULL), ==, FAULT_NONE);
  g_assert_cmpfloat(fabs(p.zoom - 0.005), <, 1e-9); /* goes on as large as it was */
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/photo-plane/known-homography", test_known_homography);
  g_test_add_func("/photo-plane/straighten-by-size", test_straighten_by_size);
  g_test_add_func("/photo-plane/straighten-by-ratio", test_straighten_by_ratio_then_scale);
  g_test_add_func("/photo-plane/ruler", test_ruler);
  g_test_add_func("/photo-plane/two-marks", test_two_marks_error);
  g_test_add_func("/photo-plane/degenerate", test_degenerate);
  g_test_add_func("/photo-plane/keeps-still", test_changes_keep_still);
  return g_test_run();
}
