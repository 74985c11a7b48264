/* test_room.c - the room of an embrasure, roofs drawn into it, parts of a way, by random rooms.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  What room_check says is held against plain geometry of many points. */
#include "outline/form.h"
#include "outline/room.h"
#include "shape_rows.h"

static Outline path(const char *d)
{
  Outline o;
  size_t bad;
  outline_init(&o);
  ok(outline_from_path(&o, d, &bad));
  return o;
}

static RoomBreach breach(const Room *room, const Outline *o, const Outline *occlusal, Point *where)
{
  RoomBreach found = ROOM_BREACH_N;
  ok(room_check(room, o, occlusal, &found, where));
  return found;
}

static void test_around(void)
{
  for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
    Outline o = row_outline(&rows[i]);
    Room room;
    room_init(&room);
    ok(room_around(&o, &room));
    g_test_message("%s", rows[i].name);
    g_assert_false(room.drawn);
    g_assert_cmpfloat_with_epsilon(room.top, top_of(&o), 2e-4);
    g_assert_cmpint(breach(&room, &o, NULL, NULL), ==, ROOM_KEPT); /* it stands in its own room */
    room.radius_least = 1.02 * smallest_radius(&o, 0.1);
    Point where;
    g_assert_cmpint(breach(&room, &o, NULL, &where), ==, ROOM_SHARP);
    g_assert_cmpfloat(where.y, >, 0.05);
    room.radius_least = 0;
    Point centre;
    double gap;
    ok(gap_circle_find(&o, NULL, &centre, &gap));
    room.brush_mm = gap - 0.01;
    g_assert_cmpint(breach(&room, &o, NULL, NULL), ==, ROOM_KEPT);
    room.brush_mm = gap + 0.01;
    g_assert_cmpint(breach(&room, &o, NULL, NULL), ==, ROOM_BRUSH);
    room_clear(&room);
    outline_clear(&o);
  }
}

static void test_drawn(void)
{
  Outline o = row_outline(&rows[14]); /* V, feet 1.4, roof 2.64 */
  Outline line = path("M -1.8 0.3 L -1.2 2.8 L 1.2 2.8 L 1.8 0.3");
  Room room;
  room_init(&room);
  ok(room_drawn(&line, &o, &room));
  g_assert_true(room.drawn);
  g_assert_cmpfloat(room.top, ==, 2.8);
  g_assert_cmpfloat(room.wall[0].x, ==, -1.8); /* brought down to the feet */
  g_assert_cmpfloat(room.wall[0].y, ==, 0);
  g_assert_cmpfloat_with_epsilon(room_ceiling(&room, 0), 2.8, 1e-9);
  g_assert_cmpfloat_with_epsilon(room_ceiling(&room, 1.5), 0.3 + 2.5 / 2, 1e-9);
  g_assert_true(isnan(room_ceiling(&room, 2)));
  g_assert_cmpint(breach(&room, &o, NULL, NULL), ==, ROOM_KEPT);
  outline_clear(&line);
  line = path("M -1 0 L -1 2.8 L 1 2.8 L 1 0"); /* the feet of the V stand outside */
  ok(room_drawn(&line, &o, &room));
  g_assert_cmpint(breach(&room, &o, NULL, NULL), ==, ROOM_LEFT);
  outline_clear(&line);
  line = path("M -1.6 0 L -1.6 2.8 L -0.05 2.8 L 0 1.5 L 0.05 2.8 L 1.6 2.8 L 1.6 0"); /* a tooth */
  ok(room_drawn(&line, &o, &room));
  g_assert_cmpint(breach(&room, &o, NULL, NULL), ==, ROOM_LEFT);
  outline_clear(&line);
  static const char *const bad[] = {"M -1 0 L 1 0.1", "M -0.1 0 L 0 3 L 0.1 0",
                                    "M -9 0 L -9 3 L 1 3 L 1 0", "M -1 0 L 1 2 L -1 2 L 1 0"};
  for (size_t i = 0; i < G_N_ELEMENTS(bad); i++) {
    line = path(bad[i]);
    g_assert_cmpint(room_drawn(&line, &o, &room), !=, FAULT_NONE);
    outline_clear(&line);
  }
  g_assert_cmpfloat(room.top, ==, 2.8); /* untouched */
  Outline wavy = path("M -5.25 0 L -1.4 0 L -1.2 1.5 C -0.8 2 -0.6 1.2 0 1.6 L 1.4 0 L 5 0");
  line = path("M -2 0 L -2 3 L 2 3 L 2 0");
  ok(room_drawn(&line, &o, &room));
  g_assert_cmpint(breach(&room, &wavy, NULL, NULL), ==, ROOM_WAVY);
  outline_clear(&wavy);
  outline_clear(&line);
  room_clear(&room);
  outline_clear(&o);
}

static void test_neck(void)
{
  Outline o = row_outline(&rows[13]), groove; /* roof 2 */
  Room room;
  outline_init(&groove);
  room_init(&room);
  ok(shape_occlusal(6, 0.8, 60, &around, &groove));
  ok(room_around(&o, &room));
  room.neck_least = 3.99;
  g_assert_cmpint(breach(&room, &o, &groove, NULL), ==, ROOM_KEPT);
  room.neck_least = 4.01;
  g_assert_cmpint(breach(&room, &o, &groove, NULL), ==, ROOM_NECK);
  room_clear(&room);
  outline_clear(&groove);
  outline_clear(&o);
}

/* A convex room: from the left foot over points of an arch to the right foot. */
static Outline random_room(GRand *random, bool curved)
{
  double left = g_rand_double_range(random, 0.7, 2.5),
         right = g_rand_double_range(random, 0.7, 2.5),
         high = g_rand_double_range(random, 1.2, 3.5), in = g_rand_double_range(random, 0, 0.6);
  Outline line;
  outline_init(&line);
  ok(outline_move_to(&line, point(-left, 0)));
  ok(outline_line_to(&line, point(-left * (1 - in / 2), high * 0.6)));
  if (curved)
    ok(outline_curve_to(&line, point(-left * (1 - in), high), point(right * (1 - in), high),
                        point(right * (1 - in / 2), high * 0.6)));
  else {
    ok(outline_line_to(&line, point(-left * (1 - in) * 0.8, high)));
    ok(outline_line_to(&line, point(right * (1 - in) * 0.8, high)));
    ok(outline_line_to(&line, point(right * (1 - in / 2), high * 0.6)));
  }
  ok(outline_line_to(&line, point(right, 0)));
  return line;
}

/* Even-odd, by itself. */
static bool holds(const Outline *line, Point p)
{
  int crossings = 0;
  Point before = outline_at(line, 0);
  for (size_t k = 1; k <= 100 * outline_pieces(line); k++) {
    Point at = outline_at(line, (double)k / 100);
    if ((before.y > p.y) != (at.y > p.y) &&
        before.x + (p.y - before.y) * (at.x - before.x) / (at.y - before.y) > p.x)
      crossings++;
    before = at;
  }
  return crossings % 2 == 1;
}

static RoofHalf random_half(GRand *random, double least)
{
  return (RoofHalf){.decay = g_rand_double_range(random, 0, 7),
                    .bow = g_rand_double_range(random, -3, 6),
                    .floor = fmax(least, g_rand_double_range(random, 0.1, 0.5)),
                    .lean = g_rand_double_range(random, 0, 0.6)};
}

static void test_random_rooms(void)
{
  GRand *random = g_rand_new_with_seed(20240611);
  int drawn = 0;
  for (int n = 0; n < 400; n++) {
    Outline start = row_outline(&rows[n % (int)G_N_ELEMENTS(rows)]), made, line;
    Room room;
    outline_init(&made);
    room_init(&room);
    line = random_room(random, n % 2);
    ok(room_drawn(&line, &start, &room));
    room.radius_least = g_rand_double_range(random, 0.1, 0.4);
    RoofHalf half[2] = {random_half(random, room.radius_least),
                        random_half(random, room.radius_least)};
    Point apex = {g_rand_double_range(random, -0.3, 0.3), g_rand_double_range(random, 1, 4)};
    if (!room_fill(&room, &start, apex, half, &made)) {
      drawn++;
      Point where;
      g_assert_cmpint(breach(&room, &made, NULL, &where), ==, ROOM_KEPT);
      ok(outline_find_crossing(&made, NULL));
      double top = top_of(&made);
      g_assert_cmpfloat(top, <=, fmin(apex.y, room.top) + 1e-4);
      for (double t = 0; t < (double)outline_pieces(&made); t += 0.1) {
        Point p = outline_at(&made, t), inward = point(p.x * (1 - 4e-3), p.y - 4e-3);
        if (p.y > 0.06)
          g_assert_true(holds(&line, inward));
      }
      g_assert_cmpfloat(smallest_radius(&made, 0.06), >, room.radius_least * 0.985);
    }
    room_clear(&room);
    outline_clear(&line);
    outline_clear(&made);
    outline_clear(&start);
  }
  g_test_message("%d of 400 could be drawn", drawn);
  g_assert_cmpint(drawn, >, 150); /* under a slope there is no level apex */
  g_rand_free(random);
}

/* A part of the way between two outlines of one convex room keeps to the room. */
static void test_blend(void)
{
  GRand *random = g_rand_new_with_seed(7);
  int tried = 0;
  for (int n = 0; n < 60; n++) {
    Outline start = row_outline(&rows[n % (int)G_N_ELEMENTS(rows)]), best, part;
    Room room;
    outline_init(&best);
    outline_init(&part);
    room_init(&room);
    ok(room_around(&start, &room));
    RoofHalf half[2] = {{3, 0, 0.3, room.lean_least[0]}, {3, 0, 0.3, room.lean_least[1]}};
    half[0].decay = half[1].decay = g_rand_double_range(random, 0, 5);
    Point apex = {(room.wall[0].x + room.wall[3].x) / 2, room.top};
    if (!room_fill(&room, &start, apex, half, &best)) {
      tried++;
      ok(outline_blend(&start, &best, 0, &part));
      g_assert_true(outline_equal(&part, &start, 0));
      ok(outline_blend(&start, &best, 1, &part));
      g_assert_true(outline_equal(&part, &best, 0));
      double away = -1, all = 0;
      for (double t = 0; t < (double)outline_pieces(&best); t += 0.2) {
        double gap;
        outline_nearest(&start, outline_at(&best, t), &gap);
        all = fmax(all, gap);
      }
      for (double share = 0.1; share < 1; share += 0.4) {
        Point where = {0, 0};
        ok(outline_blend(&start, &best, share, &part));
        check_feet(&part, &rows[n % (int)G_N_ELEMENTS(rows)]);
        RoomBreach found = breach(&room, &part, NULL, &where);
        if (found != ROOM_WAVY) /* a start with a flat between two arcs may wave a little */
          g_assert_cmpint(found, ==, ROOM_KEPT);
        double most = 0, distance;
        for (double t = 0; t < (double)outline_pieces(&part); t += 0.2) {
          outline_nearest(&start, outline_at(&part, t), &distance);
          most = fmax(most, distance);
        }
        g_assert_cmpfloat(most, >=, away - 1e-3); /* ever further away ... */
        g_assert_cmpfloat(most, <,
                          2 * share * all + 5e-3); /* ... by about its part (pairs lie wider) */
        away = most;
      }
    }
    room_clear(&room);
    outline_clear(&start);
    outline_clear(&best);
    outline_clear(&part);
  }
  g_assert_cmpint(tried, >, 40);
  Outline o = row_outline(&rows[0]), part;
  outline_init(&part);
  g_assert_cmpint(outline_blend(&o, &o, 1.5, &part), ==, FAULT_RANGE);
  g_assert_cmpint(outline_blend(&o, &o, NAN, &part), ==, FAULT_RANGE);
  outline_clear(&o);
  g_rand_free(random);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/room/around", test_around);
  g_test_add_func("/room/drawn", test_drawn);
  g_test_add_func("/room/neck", test_neck);
  g_test_add_func("/room/random", test_random_rooms);
  g_test_add_func("/room/blend", test_blend);
  return g_test_run();
}
