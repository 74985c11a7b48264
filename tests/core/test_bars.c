/* test_bars.c - strength tests: forces to strengths, bad values named, outliers marked.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * N, mm, MPa. */
#include "strength/bars.h"
#include "base/random.h"
#include "proof.h"
#include "strength/weibull.h"

static const Source iso = {"ISO 6872, computed from its formulas", FROM_MEMORY},
                    c1161 = {"ASTM C1161 bar B, computed from its formulas", FROM_MEMORY};

static const BarSetup three = {BAR_THREE_POINT, 40, 0, 0.25},
                      quarter = {BAR_FOUR_POINT_QUARTER, 40, 20, 0.25},
                      third = {BAR_FOUR_POINT_THIRD, 40, 40 / 3.0, 0.25};

static void test_strengths(void)
{
  const Bar bar = {1000, 4, 3, 45};
  proof_row("bar 4 x 3, 1000 N, span 40, four-point-1/4", c1161, 833.33,
            bar_strength(&quarter, &bar), 1e-3);
  proof_row("bar 4 x 3, 1000 N, span 40, three-point", c1161, 1666.67, bar_strength(&three, &bar),
            1e-3);
  proof_row("bar 4 x 3, 1000 N, span 40, four-point-1/3", c1161, 1111.11,
            bar_strength(&third, &bar), 1e-3);
  const BarSetup short_span = {BAR_THREE_POINT, 14, 0, 0.25};
  proof_row("bar 4 x 1.5, 600 N, span 14, three-point", iso, 1400,
            bar_strength(&short_span, &(Bar){600, 4, 1.5, 0}), 1e-9);
  /* the printed 0.2387 is 3/4pi less 0.014 % */
  static const double disc[][3] = {{0.25, 12, 1107.5}, {0.30, 15, 1113.9}, {0.32, 14, 1136.2}};
  for (size_t i = 0; i < G_N_ELEMENTS(disc); i++) {
    BarSetup setup = {BAR_DISC, 10, 1.4, disc[i][0]};
    g_autofree char *what =
        g_strdup_printf("disc of %g mm, 1000 N, Poisson %g", disc[i][1], disc[i][0]);
    proof_row(what, iso, disc[i][2], bar_strength(&setup, &(Bar){1000, disc[i][1], 1.2, 0}), 0.02);
  }
}

static void test_setups(void)
{
  for (BarTest test = BAR_THREE_POINT; test <= BAR_DISC; test++) {
    BarSetup setup = bar_setup_default(test);
    g_assert_cmpint(bar_setup_check(&setup), ==, FAULT_NONE);
    setup.span = NAN;
    g_assert_cmpint(bar_setup_check(&setup), ==, FAULT_NOT_FINITE);
    setup.span = -20;
    g_assert_cmpint(bar_setup_check(&setup), ==, FAULT_RANGE);
    setup.span = 2000;
    g_assert_cmpint(bar_setup_check(&setup), ==, FAULT_RANGE);
  }
  BarSetup wrong = quarter;
  wrong.inner = 13; /* of the third-point test */
  g_assert_cmpint(bar_setup_check(&wrong), ==, FAULT_RANGE);
  wrong = three;
  wrong.inner = 10;
  g_assert_cmpint(bar_setup_check(&wrong), ==, FAULT_RANGE);
  wrong = bar_setup_default(BAR_DISC);
  wrong.inner = wrong.span; /* piston as large as the circle */
  g_assert_cmpint(bar_setup_check(&wrong), ==, FAULT_RANGE);
}

enum { ROOM = 64 };
static double strength[ROOM], work[ROOM];
static BarFault fault[ROOM];

static void expect(const BarSetup *setup, Bar bar, BarFault wanted)
{
  g_assert_cmpuint(bars_strengths(setup, &bar, 1, work, strength, fault), ==, !wanted);
  g_assert_cmpint(fault[0], ==, wanted);
  g_assert_true(isnan(strength[0]) == (wanted != BAR_GOOD));
  Phrase phrase = bar_fault_phrase(fault[0], setup, &bar);
  g_assert_true((phrase.text != NULL) == (wanted != BAR_GOOD));
  if (phrase.text) {
    char words[400];
    g_assert_cmpuint(phrase_format(&phrase, NULL, NULL, words, sizeof words), <, sizeof words);
    g_assert_null(strchr(words, '{'));
    g_assert_cmpuint(strlen(bar_fault_name(fault[0])), >, 0);
  }
}

static void test_bad_values(void)
{
  expect(&quarter, (Bar){1000, 4, 3, 45}, BAR_GOOD);
  expect(&quarter, (Bar){1000, 4, 3, 0}, BAR_GOOD); /* length not measured */
  expect(&quarter, (Bar){-1000, 4, 3, 45}, BAR_FORCE);
  expect(&quarter, (Bar){0, 4, 3, 45}, BAR_FORCE);
  expect(&quarter, (Bar){NAN, 4, 3, 45}, BAR_FORCE);
  expect(&quarter, (Bar){INFINITY, 4, 3, 45}, BAR_FORCE);
  expect(&quarter, (Bar){1000, 0.4, 3, 45}, BAR_WIDTH);  /* cm */
  expect(&quarter, (Bar){1000, 4000, 3, 45}, BAR_WIDTH); /* um */
  expect(&quarter, (Bar){1000, NAN, 3, 45}, BAR_WIDTH);
  expect(&quarter, (Bar){1000, 4, -3, 45}, BAR_THICKNESS);
  expect(&quarter, (Bar){1000, 4, 30, 45}, BAR_THICKNESS);
  expect(&quarter, (Bar){1000, 4, 3, 35}, BAR_SHORT);
  expect(&quarter, (Bar){1000, 4, 3, -45}, BAR_SHORT);
  expect(&(BarSetup){BAR_THREE_POINT, 12, 0, 0.25}, (Bar){1000, 8, 7, 0}, BAR_STOUT);
  expect(&quarter, (Bar){3, 4, 3, 45}, BAR_ABSURD);
  expect(&quarter, (Bar){20000, 4, 3, 45}, BAR_ABSURD);
  BarSetup disc = bar_setup_default(BAR_DISC);
  expect(&disc, (Bar){700, 12, 1.2, 0}, BAR_GOOD);
  expect(&disc, (Bar){700, 10, 1.2, 0}, BAR_SHORT);
  /* 1 N makes 4.2 MPa: 900 can only be the strength itself */
  expect(&(BarSetup){BAR_THREE_POINT, 16, 0, 0.25}, (Bar){900, 4, 1.2, 0}, BAR_LOOKS_MPA);
}

/* One strength pasted between forces is found; the others stay. */
static void test_mixed_units(void)
{
  const BarSetup setup = {BAR_THREE_POINT, 16, 0, 0.25};
  Bar bar[12];
  for (int i = 0; i < 12; i++)
    bar[i] = (Bar){150 + 7.3 * i, 4, 1.2, 0}; /* 625 to 960 MPa */
  bar[7].force_n = 812;
  g_assert_cmpuint(bars_strengths(&setup, bar, 12, work, strength, fault), ==, 11);
  for (int i = 0; i < 12; i++)
    g_assert_cmpint(fault[i], ==, i == 7 ? BAR_LOOKS_MPA : BAR_GOOD);
  /* four-point, where 1 N makes 0.23 MPa: a strength of 800 would read as 187 */
  const BarSetup wide = {BAR_FOUR_POINT_QUARTER, 20, 10, 0.25};
  for (int i = 0; i < 12; i++)
    bar[i] = (Bar){3000 + 90.0 * i, 4, 4, 0};
  bar[3].force_n = 800;
  g_assert_cmpuint(bars_strengths(&wide, bar, 12, work, strength, fault), ==, 11);
  g_assert_cmpint(fault[3], ==, BAR_LOOKS_MPA);
  /* a weak bar is weak, not in other units */
  bar[3].force_n = 1500;
  g_assert_cmpuint(bars_strengths(&wide, bar, 12, work, strength, fault), ==, 12);
}

static void sample(double s[], size_t n, double m, double scale, uint64_t *state)
{
  for (size_t i = 0; i < n; i++)
    s[i] = weibull_quantile(random_unit(state), m, scale);
}

/* Sound sets keep their peace; a gross slip is seen, two of them as well. */
static void test_outliers(void)
{
  bool out[ROOM];
  uint64_t state = 2385;
  static const size_t size[] = {8, 10, 15, 30};
  for (size_t k = 0; k < G_N_ELEMENTS(size); k++) {
    size_t n = size[k];
    int alarms = 0, found = 0, both = 0;
    const int rounds = 2000;
    for (int round = 0; round < rounds; round++) {
      sample(strength, n, 10, 800, &state);
      g_assert_cmpint(bars_outliers(strength, n, work, out), ==, FAULT_NONE);
      bool any = false;
      for (size_t i = 0; i < n; i++)
        any = any || out[i];
      alarms += any;
      strength[n / 2] = 80; /* a slipped decimal sign */
      g_assert_cmpint(bars_outliers(strength, n, work, out), ==, FAULT_NONE);
      found += out[n / 2];
      if (n < 15)
        continue;
      strength[1] = 95;
      g_assert_cmpint(bars_outliers(strength, n, work, out), ==, FAULT_NONE);
      both += out[n / 2] && out[1];
    }
    g_test_message("%zu bars: %d alarms, %d and %d found of %d", n, alarms, found, both, rounds);
    g_assert_cmpint(alarms, <=, rounds / 40); /* 1 of 100 was aimed at */
    g_assert_cmpint(found, >=, rounds * 98 / 100);
    if (n >= 15)
      g_assert_cmpint(both, >=, rounds * 98 / 100);
  }
  const double same[9] = {500, 500, 500, 500, 500, 500, 500, 500, 500}, bad[1] = {-1};
  g_assert_cmpint(bars_outliers(same, 9, work, out), ==, FAULT_NONE);
  for (int i = 0; i < 9; i++)
    g_assert_false(out[i]);
  g_assert_cmpint(bars_outliers(bad, 1, work, out), ==, FAULT_RANGE);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/bars/strengths", test_strengths);
  g_test_add_func("/bars/setups", test_setups);
  g_test_add_func("/bars/bad_values", test_bad_values);
  g_test_add_func("/bars/mixed_units", test_mixed_units);
  g_test_add_func("/bars/outliers", test_outliers);
  return g_test_run();
}
