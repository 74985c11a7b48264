/* test_path.c - SVG path data in and out.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Grammar and arcs: W3C SVG 1.1, chapter 8 and appendix F.6 (published). */
#include <glib.h>
#include <string.h>
#include "outline/outline.h"

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)

static void same_path(const char *d, const char *expect)
{
  Outline o;
  size_t bad = 12345;
  char text[2000];
  outline_init(&o);
  Fault fault = outline_from_path(&o, d, &bad);
  if (fault)
    g_error("\"%s\": fault %s at %zu", d, fault_name(fault), bad);
  g_assert_cmpuint(outline_to_path(&o, text, sizeof text), ==, strlen(text));
  g_assert_cmpstr(text, ==, expect);
  outline_clear(&o);
}

static void test_commands(void)
{
  same_path("M1 2L3 4", "M 1 2 L 3 4");
  same_path("m1 2l3 4", "M 1 2 L 4 6");
  same_path("M1 2 3 4 5 6", "M 1 2 L 3 4 L 5 6"); /* more pairs after M are lines */
  same_path("m1 2 3 4 5 6", "M 1 2 L 4 6 L 9 12");
  same_path("M1 2H5V7", "M 1 2 L 5 2 L 5 7");
  same_path("M1 2h5v7h1 2", "M 1 2 L 6 2 L 6 9 L 7 9 L 9 9");
  same_path("M0 0C1 2 3 4 5 6", "M 0 0 C 1 2 3 4 5 6");
  same_path("M1 1c1 2 3 4 5 6 1 1 2 2 3 0", "M 1 1 C 2 3 4 5 6 7 C 7 8 8 9 9 7");
  same_path("M0 0C1 2 3 5 5 6S7 8 9 9", "M 0 0 C 1 2 3 5 5 6 C 7 7 7 8 9 9");
  same_path("M0 0C1 2 3 5 5 6s2 2 4 3", "M 0 0 C 1 2 3 5 5 6 C 7 7 7 8 9 9");
  same_path("M1 1S4 5 6 1", "M 1 1 C 1 1 4 5 6 1"); /* no curve before: the point itself */
  same_path("M0 0Q3 3 6 0", "M 0 0 C 2 2 4 2 6 0");
  same_path("M1 1q3 3 6 0", "M 1 1 C 3 3 5 3 7 1");
  same_path("M0 0Q3 3 6 0T12 0", "M 0 0 C 2 2 4 2 6 0 C 8 -2 10 -2 12 0");
  same_path("M0 0Q3 3 6 0t6 0 6 0", "M 0 0 C 2 2 4 2 6 0 C 8 -2 10 -2 12 0 C 14 2 16 2 18 0");
  same_path("M0 0C1 1 2 1 3 0T6 0", "M 0 0 C 1 1 2 1 3 0 C 3 0 4 0 6 0"); /* T after C: no mirror */
  same_path("M0 0L4 0L4 3Z", "M 0 0 L 4 0 L 4 3 Z");
  same_path("M0 0L4 0L4 3L0 0z", "M 0 0 L 4 0 L 4 3 Z"); /* back at the start: merged */
  same_path("M0 0L4 0C5 1 5 2 4 3C2 3 1 1 0 0Z", "M 0 0 L 4 0 C 5 1 5 2 4 3 C 2 3 1 1 0 0 Z");
  same_path("M0 0L1 1L1 1H1L2 0", "M 0 0 L 1 1 L 2 0"); /* repeats draw nothing */
}

/* Examples of the text of SVG 1.1 (second edition), chapter 8 (from memory). */
static void test_published(void)
{
  same_path("M 100 100 L 200 200", "M 100 100 L 200 200"); /* 8.3.1: four ways to write one */
  same_path("M100 100L200 200", "M 100 100 L 200 200");
  same_path("M 100 200 L 200 100 -100 -200", "M 100 200 L 200 100 L -100 -200");
  same_path("M 100 200 L 200 100 L -100 -200", "M 100 200 L 200 100 L -100 -200");
  same_path("M 100 100 L 300 100 L 200 300 z", "M 100 100 L 300 100 L 200 300 Z"); /* triangle01 */
  same_path("M100,200 C100,100 250,100 250,200\n S400,300 400,200",                /* cubic01 */
            "M 100 200 C 100 100 250 100 250 200 C 250 300 400 300 400 200");
  same_path("M200,300 Q400,50 600,300 T1000,300", /* quad01: its mirrored point is 800, 550 */
            "M 200 300 C 333.333333 133.333333 466.666667 133.333333 600 300 C 733.333333 "
            "466.666667 866.666667 466.666667 1000 300");
  same_path("M 100-200L0 0", "M 100 -200 L 0 0"); /* 8.3.9: a number ends where the next begins */
  same_path("M 0.6.5L1 1", "M 0.6 0.5 L 1 1");
  same_path("M1.5.5-1e3-2", "M 1.5 0.5 L -1000 -2");
  same_path("M0 0l1e2-2.5e-1.5.5", "M 0 0 L 100 -0.25 L 100.5 0.25");
  Outline glued, apart; /* the flags of an arc are one character each */
  outline_init(&glued);
  outline_init(&apart);
  ok(outline_from_path(&glued, "M0 0a1 1 0 00.5.5", NULL));
  ok(outline_from_path(&apart, "M 0 0 a 1 1 0 0 0 0.5 0.5", NULL));
  g_assert_true(outline_equal(&glued, &apart, 0));
  ok(outline_from_path(&glued, "M0 0a1,1,0,01-.5.5", NULL));
  ok(outline_from_path(&apart, "M 0 0 a 1 1 0 0 1 -0.5 0.5", NULL));
  g_assert_true(outline_equal(&glued, &apart, 0));
  outline_clear(&glued);
  outline_clear(&apart);
}

static void test_numbers(void)
{
  same_path("M1e-3.5-2-3", "M 0.001 0.5 L -2 -3");
  same_path("M.5.25-.75+1", "M 0.5 0.25 L -0.75 1");
  same_path("M 1.,2.\n\t3. , 4.", "M 1 2 L 3 4");
  same_path("M+1E+2-1e2 0 0", "M 100 -100 L 0 0");
  same_path("M000.1 -0 1 1", "M 0.1 0 L 1 1");
  same_path("M0.0000004 0 1 1", "M 0 0 L 1 1");
  same_path("M123456.789 0.1 0 123456789", "M 123456.789 0.1 L 0 123456789");
  same_path("M0.1234567 1 2 3", "M 0.123457 1 L 2 3");
  same_path("M0.3333333333333333333333333333 1e-400 2 3", "M 0.333333 0 L 2 3");
  same_path("M100000000000000000000000000000e-29 0 2 3", "M 1 0 L 2 3");
  Outline o; /* decimals are read to the nearest double */
  outline_init(&o);
  ok(outline_from_path(&o, "M0.1 2.385 1.45e-3 -17.000001", NULL));
  g_assert_cmpfloat(o.knot[0].at.x, ==, 0.1);
  g_assert_cmpfloat(o.knot[0].at.y, ==, 2.385);
  g_assert_cmpfloat(o.knot[1].at.x, ==, 1.45e-3);
  g_assert_cmpfloat(o.knot[1].at.y, ==, -17.000001);
  outline_clear(&o);
}

/* All points at (x - cx)^2 / rx^2 + ... = 1 of an ellipse turned by phi. */
static void on_ellipse(const Outline *o, Point c, double rx, double ry, double phi)
{
  for (size_t k = 0; k <= 20 * outline_pieces(o); k++) {
    Point d = point_sub(outline_at(o, (double)k / 20), c);
    double u = (cos(phi) * d.x + sin(phi) * d.y) / rx, v = (-sin(phi) * d.x + cos(phi) * d.y) / ry;
    g_assert_cmpfloat_with_epsilon(hypot(u, v), 1, 1e-6);
  }
}

static void test_arcs(void)
{
  Outline o;
  outline_init(&o);
  /* the four arcs between two points, F.6: unit circle from (1, 0) to (0, 1), y up here */
  const struct {
    const char *flags;
    Point centre;
    double turn;
  } four[] = {{"01", {0, 0}, G_PI / 2},
              {"00", {1, 1}, -G_PI / 2},
              {"11", {1, 1}, 1.5 * G_PI},
              {"10", {0, 0}, -1.5 * G_PI}};
  for (size_t i = 0; i < G_N_ELEMENTS(four); i++) {
    char d[64];
    g_snprintf(d, sizeof d, "M1 0A1 1 0 %s0 1", four[i].flags); /* flags glued to the number */
    ok(outline_from_path(&o, d, NULL));
    on_ellipse(&o, four[i].centre, 1, 1, 0);
    g_assert_cmpfloat_with_epsilon(outline_length(&o), fabs(four[i].turn), 1e-5);
    g_assert_cmpfloat(outline_curvature(&o, 0.5) * four[i].turn, >, 0);
  }
  /* F.6.6: radii too small are scaled until they just reach: half a circle on the chord */
  ok(outline_from_path(&o, "M0 0a1 1 0 01 6 8", NULL));
  on_ellipse(&o, point(3, 4), 5, 5, 0);
  g_assert_cmpfloat_with_epsilon(outline_length(&o), 5 * G_PI, 1e-4);
  ok(outline_from_path(&o, "M650 325 a25,25 -30 0,1 50,-25", NULL)); /* arcs01 of the W3C text */
  on_ellipse(&o, point(675, 312.5), hypot(25, 12.5), hypot(25, 12.5), 0);
  /* scaled ellipse keeps its ratio: 2 : 1, chord 8 along its long axis, turned by 30 degrees */
  double c = cos(G_PI / 6), s = sin(G_PI / 6);
  char d[200];
  g_snprintf(d, sizeof d, "M0 0A-1 .5 30 0 1 %.12f %.12f", 8 * c, 8 * s); /* negative radius: |r| */
  ok(outline_from_path(&o, d, NULL));
  on_ellipse(&o, point(4 * c, 4 * s), 4, 2, G_PI / 6);
  ok(outline_from_path(&o, "M3 0A3 2 0 0 1 0 2A3 2 360 0 1 -3 0A3 2 0 1 1 3 0z", NULL));
  on_ellipse(&o, point(0, 0), 3, 2, 0);
  g_assert_cmpfloat_with_epsilon(outline_area(&o), 6 * G_PI, 2e-5);
  /* W3C arcs01: "M300,200 h-150 a150,150 0 1,0 150,-150 z": three quarters of a disc */
  ok(outline_from_path(&o, "M300,200 h-150 a150,150 0 1,0 150,-150 z", NULL));
  g_assert_cmpfloat_with_epsilon(fabs(outline_area(&o)), 0.75 * G_PI * 150 * 150, 0.1);
  same_path("M0 0A0 5 0 0 1 3 4", "M 0 0 L 3 4");     /* no radius: a straight line */
  same_path("M0 0A5 5 0 0 1 0 0L1 1", "M 0 0 L 1 1"); /* no way to go: nothing */
  same_path("M0 0A1e-30 5 0 0 1 3 4", "M 0 0 L 3 4");
  ok(outline_from_path(&o, "M0 0A1e9 1e9 77 0 0 3 4", NULL)); /* hardly bent */
  g_assert_cmpfloat_with_epsilon(outline_length(&o), 5, 1e-6);
  g_assert_cmpint(outline_from_path(&o, "M0 0A1e9 1e9 77 1 0 3 4", NULL), ==, FAULT_RANGE);
  ok(outline_from_path(&o, "M0 0a1 1 0 01 2 3 1 1 0 112 3", NULL)); /* glued flags, two arcs */
  g_assert_cmpfloat_with_epsilon(o.knot[o.n - 1].at.x, 4, 1e-12);
  outline_clear(&o);
}

static void test_garbage(void)
{
  static const struct {
    const char *d;
    size_t at;
  } bad[] = {
      {"", 0},
      {"   ", 3},
      {"L1 2", 0},
      {"M", 1},
      {"M1", 2},
      {"M1 x", 3},
      {"M1 2 3", 6},
      {"M1 2L3 4M5 6L7 8", 8}, /* one subpath */
      {"M1 2L3 4 5 6ZL1 1", 13},
      {"M1 2L3 4 5 6Z Z", 14},
      {"M1 2L3 4B", 8},
      {"M1 2L3,,4", 7},
      {"M1 2L3 4,", 9},
      {"M1 2L3 4,L5 6", 9},
      {"M,1 2L3 4", 1},
      {"M1 2L3 --4", 7},
      {"M1 2L3 .", 7},
      {"M1 2L3 e5", 7},
      {"M1 2L3 4e", 8},
      {"M1 2Lnan 4", 5},
      {"M1 2L3 inf", 7},
      {"M1 2L3 -Infinity", 7},
      {"M1 2L3 1e999", 7},
      {"M1 2L3 -1e10", 7},
      {"M1 2L3 0x10", 8},
      {"M0 0A1 1 0 2 0 3 4", 11},
      {"M0 0A1 1 0 -1 0 3 4", 11},
      {"M0 0A1 1 0 0 7 3 4", 13},
      {"M0 0A1 1 0 0 1 3", 16},
      {"M1 2L3 4\xc3\xa9", 8},
      {"M1 2l999999999 0l999999999 0", 17},
      {"M1 2C1 2 3 4 5", 14},
  };
  Outline o;
  outline_init(&o);
  ok(outline_from_path(&o, "M0 0L1 0", NULL));
  for (size_t i = 0; i < G_N_ELEMENTS(bad); i++) {
    size_t at = 999;
    Fault fault = outline_from_path(&o, bad[i].d, &at);
    if (fault != FAULT_RANGE || at != bad[i].at)
      g_error("\"%s\": %s at %zu, expected %zu", bad[i].d, fault_name(fault), at, bad[i].at);
    g_assert_cmpuint(o.n, ==, 2); /* untouched */
  }
  g_assert_cmpint(outline_from_path(&o, "M1 1", NULL), ==, FAULT_DEGENERATE);
  g_assert_cmpint(outline_from_path(&o, "M1 1L1 1", NULL), ==, FAULT_DEGENERATE);
  g_assert_cmpint(outline_from_path(&o, "M1 1L2 2Z", NULL), ==, FAULT_DEGENERATE);
  g_assert_cmpint(outline_from_path(&o, NULL, NULL), ==, FAULT_RANGE);
  outline_clear(&o);
}

/* Random bytes of the grammar: a fault or a sound outline, never a crash. */
static void test_noise(void)
{
  static const char letters[] = "MmLlHhVvCcSsQqTtAaZz0123456789.,-+eE \n01010101";
  GRand *rand = g_rand_new_with_seed(5);
  int read = 0;
  for (int round = 0; round < 20000; round++) {
    char d[40] = "M0 0L1 1";
    int n = g_rand_int_range(rand, 9, 39);
    for (int i = 8; i < n; i++)
      d[i] = letters[g_rand_int_range(rand, 0, (int)sizeof letters - 1)];
    Outline o;
    size_t at = 0;
    outline_init(&o);
    if (outline_from_path(&o, d, &at) == FAULT_NONE) {
      read++;
      g_assert_cmpuint(o.n, >=, 2);
      g_assert_true(isfinite(outline_length(&o)));
    } else {
      g_assert_cmpuint(at, <=, strlen(d));
    }
    outline_clear(&o);
  }
  g_assert_cmpint(read, >, 100);
  g_rand_free(rand);
}

static void test_round_trip(void)
{
  Outline o, back;
  char text[4000], small[12];
  outline_init(&o);
  outline_init(&back);
  ok(outline_move_to(&o, point(-7, 0)));
  ok(outline_line_to(&o, point(-1.45, 0)));
  ok(outline_curve_to(&o, point(-1.234567, 1), point(-1, 2), point(0, 2.0000004)));
  ok(outline_arc_to(&o, point(0, 1), -1.2));
  ok(outline_line_to(&o, point(3, -1e-7)));
  size_t n = outline_to_path(&o, text, sizeof text);
  ok(outline_from_path(&back, text, NULL));
  g_assert_true(outline_equal(&o, &back, 1e-6));
  g_assert_null(strstr(text, "-0 "));
  g_assert_cmpuint(outline_to_path(&o, NULL, 0), ==, n);
  g_assert_cmpuint(outline_to_path(&o, small, sizeof small), ==, n);
  g_assert_cmpuint(strlen(small), ==, sizeof small - 1);
  g_assert_true(strncmp(small, text, sizeof small - 1) == 0);
  outline_clear(&o);
  ok(outline_move_to(&o, point(2, 0)));
  ok(outline_arc_to(&o, point(0, 0), 2 * G_PI));
  ok(outline_close(&o));
  (void)outline_to_path(&o, text, sizeof text);
  ok(outline_from_path(&back, text, NULL));
  g_assert_true(outline_equal(&o, &back, 1e-6));
  o.knot[1].at.x = NAN; /* nothing rather than a lie */
  g_assert_cmpuint(outline_to_path(&o, text, sizeof text), ==, 0);
  g_assert_cmpstr(text, ==, "");
  outline_clear(&o);
  outline_clear(&back);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/path/commands", test_commands);
  g_test_add_func("/path/published", test_published);
  g_test_add_func("/path/numbers", test_numbers);
  g_test_add_func("/path/arcs", test_arcs);
  g_test_add_func("/path/garbage", test_garbage);
  g_test_add_func("/path/noise", test_noise);
  g_test_add_func("/path/round-trip", test_round_trip);
  return g_test_run();
}
