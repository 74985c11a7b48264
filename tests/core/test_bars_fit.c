/* test_bars_fit.c - spread, scale, class and gain of broken bars, with their bands.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * MPa, mm. */
#include "strength/bars_compare.h"
#include "base/random.h"
#include "proof.h"
#include "strength/weibull.h"

static const Source
    table = {"pivotal bands by simulation of 150 000 to 400 000 samples, s.e. 0.0006", SOLVER},
    own =
        {"our own simulation against the unbiasing table, Thoman, Bain and Antle 1969, ASTM C1239",
         FROM_MEMORY},
    nominal = {"a 90 % band holds the truth 90 times of 100", EXACT},
    polish = {"polishing gains about 56 % (common practice, no source), generated bars", PRACTICE},
    closed = {"effective surface in closed form", FROM_MEMORY},
    limit = {"limiting normal distribution, Fisher's information", FROM_MEMORY},
    calculus = {"two normal tests of the log ratio, Fisher's information", FROM_MEMORY};

enum { ROOM = 2001, PIVOTS = 10000 };
static double work[PIVOTS];
static WeibullPair pivot[PIVOTS], other[PIVOTS];

static void pivots(size_t n, uint64_t seed, WeibullPair at[], size_t n_pivot)
{
  static double sample_of[ROOM];
  g_assert_cmpuint(n, <=, ROOM);
  g_assert_cmpint(weibull_pivots(n, seed, NULL, NULL, sample_of, at, n_pivot), ==, FAULT_NONE);
}

static void sample(double s[], size_t n, double m, double scale, uint64_t *state)
{
  for (size_t i = 0; i < n; i++)
    s[i] = weibull_quantile(random_unit(state), m, scale);
}

/* 5 % and 95 % of m-hat / m and m-hat ln(scale-hat / scale): a second program's. */
static void test_pivots(void)
{
  static const double known[][5] = {{10, .738, 1.820, -.666, .642},
                                    {15, .771, 1.569, -.504, .498},
                                    {30, .821, 1.335, -.333, .333},
                                    {50, .854, 1.238, -.253, .253}};
  for (size_t i = 0; i < G_N_ELEMENTS(known); i++) {
    size_t n = (size_t)known[i][0];
    pivots(n, 2385 + n, pivot, PIVOTS);
    for (int k = 0; k < PIVOTS; k++)
      work[k] = pivot[k].modulus;
    Banded m = band_of_values(1, work, PIVOTS);
    for (int k = 0; k < PIVOTS; k++)
      work[k] = pivot[k].modulus * pivot[k].log_scale;
    Banded t = band_of_values(0, work, PIVOTS);
    const double got[4] = {m.low, m.high, t.low, t.high};
    /* standard errors of these quantiles from 10 000: up to 0.012 of the modulus, 0.012 of the
     * scale */
    for (int k = 0; k < 4; k++) {
      g_autofree char *what = g_strdup_printf("%zu bars, %s %% of the pivot of the %s", n,
                                              k % 2 ? "95" : "5", k < 2 ? "modulus" : "scale");
      proof_row_within(what, table, known[i][k + 1], got[k], 0.03);
    }
  }
}

/* Above 2000 bars the pivots come from the limiting distribution: the step is not seen. */
static void test_limit(void)
{
  Banded m[2], t[2], five[2];
  const double stretch = log(-log1p(-0.05));
  for (size_t i = 0; i < 2; i++) {
    pivots(2000 + i, 7, pivot, PIVOTS);
    for (int k = 0; k < PIVOTS; k++)
      work[k] = pivot[k].modulus;
    m[i] = band_of_values(1, work, PIVOTS);
    for (int k = 0; k < PIVOTS; k++)
      work[k] = pivot[k].log_scale;
    t[i] = band_of_values(0, work, PIVOTS);
    for (int k = 0; k < PIVOTS; k++) /* both together: the covariance has its sign */
      work[k] = pivot[k].log_scale + stretch / pivot[k].modulus;
    five[i] = band_of_values(stretch, work, PIVOTS);
  }
  /* 2 x 1.645 standard deviations; that of the logarithm of the 5 % stress has all three parts */
  const double gamma = 0.5772156649, pi2 = G_PI * G_PI;
  const double of_m = 6 / pi2, both = 6 * (1 - gamma) / pi2,
               of_scale = 1 + 6 * (1 - gamma) * (1 - gamma) / pi2,
               of_five = of_scale - 2 * stretch * both + stretch * stretch * of_m;
  for (size_t i = 0; i < 2; i++) { /* standard error 0.9 % */
    double n = 2000.0 + (double)i, z = 2 * 1.6448536;
    proof_row(i ? "2001 bars, width of the modulus band" : "2000 bars, width of the modulus band",
              limit, z * sqrt(of_m / n), m[i].high - m[i].low, 3);
    proof_row(i ? "2001 bars, width of the scale band" : "2000 bars, width of the scale band",
              limit, z * sqrt(of_scale / n), t[i].high - t[i].low, 3);
    proof_row(i ? "2001 bars, width of the band of 5 of 100"
                : "2000 bars, width of the band of 5 of 100",
              limit, z * sqrt(of_five / n), five[i].high - five[i].low, 3);
  }
}

/* 1 / mean of the pivot of the modulus is the unbiasing factor; at 10 bars the table is 0.48 % high
 * (4 million samples: 0.8549). */
static void test_unbiasing(void)
{
  static const size_t size[] = {8, 10, 15, 30, 100};
  for (size_t i = 0; i < G_N_ELEMENTS(size); i++) {
    double sum = 0;
    const int rounds = size[i] > 50 ? 3 : size[i] > 15 ? 10 : 100; /* s.e. below 0.0003 */
    for (int round = 0; round < rounds; round++) {
      pivots(size[i], 71 + (uint64_t)round, pivot, PIVOTS);
      for (int k = 0; k < PIVOTS; k++)
        sum += pivot[k].modulus;
    }
    g_autofree char *what = g_strdup_printf("unbiasing factor of %zu bars", size[i]);
    proof_row(what, own, weibull_unbias(size[i]), rounds * PIVOTS / sum, 0.5);
  }
}

static bool holds(Banded band, double truth)
{
  return band.low <= truth && truth <= band.high;
}

/* Bands of one set hold the truth as often as they say. */
static void test_coverage(void)
{
  const size_t n = 15;
  const double m = 11.3, scale = 837;
  int modulus = 0, at_scale = 0, five = 0, mean = 0;
  uint64_t state = 41;
  pivots(n, 5, pivot, 2000);
  for (int round = 0; round < 1000; round++) {
    double s[15];
    BarsFit fit;
    sample(s, n, m, scale, &state);
    g_assert_cmpint(bars_fit(s, n, pivot, 2000, work, &fit), ==, FAULT_NONE);
    modulus += holds(fit.modulus, m);
    at_scale += holds(fit.scale, scale);
    five += holds(fit.five, weibull_quantile(0.05, m, scale));
    mean += holds(fit.mean, weibull_mean(m, scale));
  }
  proof_row_within("15 bars, modulus in its band, of 1000", nominal, 900, modulus, 30);
  proof_row_within("15 bars, scale in its band, of 1000", nominal, 900, at_scale, 30);
  proof_row_within("15 bars, 5 of 100 broken in its band, of 1000", nominal, 900, five, 30);
  proof_row_within("15 bars, mean in its band, of 1000", nominal, 900, mean, 30);
}

static void test_gain(void)
{
  const size_t n = 15;
  int inside = 0, median = 0, alike = 0, settled = 0;
  uint64_t state = 1609;
  pivots(n, 11, pivot, 2000);
  pivots(n, 12, other, 2000);
  for (int round = 0; round < 1000; round++) {
    double a[15], b[15];
    BarsFit fit_a, fit_b;
    BarsComparison c;
    sample(a, n, 10, 640, &state);
    sample(b, n, 10, 1.56 * 640, &state);
    g_assert_cmpint(bars_fit(a, n, NULL, 0, work, &fit_a), ==, FAULT_NONE);
    g_assert_cmpint(bars_fit(b, n, NULL, 0, work, &fit_b), ==, FAULT_NONE);
    const BarsSet first = {a, &fit_a, pivot}, second = {b, &fit_b, other};
    g_assert_cmpint(bars_compare(&first, &second, 2000, work, &c), ==, FAULT_NONE);
    inside += holds(c.gain_percent, 56);
    median += holds(c.gain_median_percent, 56);
    settled += c.settled;
    /* both from one distribution: the test must seldom call them different */
    sample(b, n, 10, 640, &state);
    g_assert_cmpint(bars_fit(b, n, NULL, 0, work, &fit_b), ==, FAULT_NONE);
    g_assert_cmpint(bars_compare(&first, &second, 200, work, &c), ==, FAULT_NONE);
    alike += c.same_chance < 0.05;
  }
  proof_row_within("15 and 15 bars, +56 % in the band of the gain, of 1000", polish, 900, inside,
                   30);
  proof_row_within("15 and 15 bars, +56 % of the median in its band, of 1000", nominal, 900, median,
                   30);
  g_assert_cmpint(settled, ==, 1000);
  g_test_message("one distribution called two at 5 %%: %d of 1000", alike);
  g_assert_cmpint(alike, >=, 30);
  g_assert_cmpint(alike, <=, 100);
}

/* With as many bars as it asks for, a gain as large as seen is settled about four times of five. */
static void test_more(void)
{
  double a[400], b[400];
  uint64_t state = 77;
  BarsFit fit_a, fit_b;
  BarsComparison c;
  /* quantiles in place of chance: the fit is near the truth, the gain 3 % */
  for (int i = 0; i < 12; i++) {
    a[i] = weibull_quantile((i + 0.5) / 12, 10, 800);
    b[i] = a[i] * 1.03;
  }
  pivots(12, 21, pivot, 2000);
  pivots(12, 22, other, 2000);
  g_assert_cmpint(bars_fit(a, 12, NULL, 0, work, &fit_a), ==, FAULT_NONE);
  g_assert_cmpint(bars_fit(b, 12, NULL, 0, work, &fit_b), ==, FAULT_NONE);
  BarsSet first = {a, &fit_a, pivot}, second = {b, &fit_b, other};
  g_assert_cmpint(bars_compare(&first, &second, 2000, work, &c), ==, FAULT_NONE);
  g_assert_false(c.settled);
  double m = fit_a.modulus.value, gain = log(1.03);
  proof_row("bars that settle a gain of 3 %", calculus,
            ceil(pow(1.6449 + 0.8416, 2) * 1.10866 * 2 / (m * m * gain * gain)),
            12.0 + (double)c.bars_more, 0.5);
  size_t n = 12 + c.bars_more;
  g_assert_cmpuint(n, <=, 400);
  pivots(n, 23, pivot, 2000);
  pivots(n, 24, other, 2000);
  int settled = 0;
  for (int round = 0; round < 400; round++) {
    sample(a, n, m, 800, &state);
    sample(b, n, m, 800 * 1.03, &state);
    g_assert_cmpint(bars_fit(a, n, NULL, 0, work, &fit_a), ==, FAULT_NONE);
    g_assert_cmpint(bars_fit(b, n, NULL, 0, work, &fit_b), ==, FAULT_NONE);
    g_assert_cmpint(bars_compare(&first, &second, 2000, work, &c), ==, FAULT_NONE);
    settled += c.settled;
  }
  proof_row_within("settled with that many, of 400", calculus, 320, settled, 32);
  /* the same bars twice: no number settles it */
  g_assert_cmpint(bars_fit(a, n, NULL, 0, work, &fit_b), ==, FAULT_NONE);
  fit_a = fit_b;
  second.strength = a;
  g_assert_cmpint(bars_compare(&first, &second, 2000, work, &c), ==, FAULT_NONE);
  g_assert_cmpuint(c.bars_more, ==, BARS_MORE_MOST);
  g_assert_cmpfloat_with_epsilon(c.same_chance, 1, 1e-9);
}

static void test_class(void)
{
  double s[30];
  for (int i = 0; i < 30; i++)
    s[i] = weibull_quantile((i + 0.5) / 30, 10, 850); /* mean 809 */
  BarsFit fit;
  pivots(30, 3, pivot, PIVOTS);
  g_assert_cmpint(bars_fit(s, 30, pivot, PIVOTS, work, &fit), ==, FAULT_NONE);
  BarsClass c = bars_class(&fit, pivot, PIVOTS, work);
  g_assert_cmpint(c.reached, ==, 5);
  g_assert_cmpfloat(c.sure[4], >, 55);
  g_assert_cmpfloat(c.sure[4], <, 95); /* reached, but not surely */
  g_assert_cmpfloat(c.sure[3], ==, 100);
  for (int i = 0; i < 30; i++)
    s[i] *= 0.9;
  g_assert_cmpint(bars_fit(s, 30, pivot, PIVOTS, work, &fit), ==, FAULT_NONE);
  c = bars_class(&fit, pivot, PIVOTS, work);
  g_assert_cmpint(c.reached, ==, 4);
  g_assert_cmpfloat(c.sure[4], <, 1);
  g_assert_true(isnan(bars_class_mpa(6)));
}

static void test_card(void)
{
  double s[12];
  for (int i = 0; i < 12; i++)
    s[i] = weibull_quantile((i + 0.5) / 12, 10, 1000);
  BarsFit fit;
  pivots(12, 3, pivot, 2000);
  g_assert_cmpint(bars_fit(s, 12, pivot, 2000, work, &fit), ==, FAULT_NONE);
  const Material base = {.id = "lab",
                         .young_mpa = 2e5,
                         .poisson = 0.31,
                         .toughness = 5,
                         .bar_finish = "high-polish",
                         .polish_gain_top = 1.25,
                         .source = "our bars"};
  const BarSetup setup = {BAR_THREE_POINT, 20, 0, 0.25};
  Material card = bars_card(&base, &setup, 4, 3, &fit);
  g_assert_cmpint(material_check(&card, NULL), ==, FAULT_NONE);
  g_assert_cmpint(card.iso_class, ==, 5);
  g_assert_cmpfloat(card.strength_percent, >, 0);
  g_assert_cmpfloat(card.strength_percent, <, 20);
  fit.modulus.value = 10;
  proof_row_within("three-point bars 4 x 3, span 20, m 10, effective surface", closed, 7.76860,
                   bars_surface(&setup, 4, 3, &fit), 6e-6);
  const BarSetup four = {BAR_FOUR_POINT_QUARTER, 40, 20, 0.25};
  proof_row_within("four-point-1/4 bars 4 x 3, span 40, m 10, effective surface", closed, 93.2231,
                   bars_surface(&four, 4, 3, &fit), 6e-5);
}

static bool stop_soon(double part, void *data)
{
  g_assert_cmpfloat(part, >=, *(double *)data);
  *(double *)data = part;
  return part < 0.3;
}

static void test_edges(void)
{
  BarsFit fit = {.n = 7};
  const double one[1] = {500}, same[5] = {500, 500, 500, 500, 500}, bad[3] = {500, -1, 600},
               few[9] = {500, 510, 550, 560, 600, 610, 640, 650, 700};
  double at = 0;
  static double samples[1000];
  g_assert_cmpint(bars_fit(one, 1, NULL, 0, work, &fit), ==, FAULT_DEGENERATE);
  g_assert_cmpint(bars_fit(same, 5, NULL, 0, work, &fit), ==, FAULT_DEGENERATE);
  g_assert_cmpint(bars_fit(bad, 3, NULL, 0, work, &fit), ==, FAULT_RANGE);
  g_assert_cmpuint(fit.n, ==, 7);
  pivots(9, 1, pivot, 100);
  g_assert_cmpint(bars_fit(few, 9, pivot, 100, work, &fit), ==, FAULT_NONE);
  g_assert_true(isfinite(fit.scale.value) && isnan(fit.scale.low)); /* too few for a band */
  BarsSet set = {few, &fit, pivot};
  BarsComparison c;
  g_assert_cmpint(bars_compare(&set, &set, 100, work, &c), ==, FAULT_DEGENERATE);
  g_assert_true(isnan(bars_class(&fit, pivot, 100, work).sure[0]));
  g_assert_cmpint(weibull_pivots(2, 1, NULL, NULL, samples, pivot, 5), ==, FAULT_RANGE);
  g_assert_cmpint(weibull_pivots(1000, 1, stop_soon, &at, samples, pivot, PIVOTS), ==,
                  FAULT_CANCELLED);
  g_assert_cmpfloat(at, >=, 0.3);
  /* the same seed, the same pivots; another one, others */
  pivots(10, 9, pivot, 50);
  pivots(10, 9, other, 50);
  g_assert_true(memcmp(pivot, other, 50 * sizeof *pivot) == 0);
  pivots(10, 8, other, 50);
  g_assert_cmpfloat(fabs(pivot[0].modulus - other[0].modulus), >, 0);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/bars_fit/pivots", test_pivots);
  g_test_add_func("/bars_fit/limit", test_limit);
  g_test_add_func("/bars_fit/unbiasing", test_unbiasing);
  g_test_add_func("/bars_fit/coverage", test_coverage);
  g_test_add_func("/bars_fit/gain", test_gain);
  g_test_add_func("/bars_fit/more", test_more);
  g_test_add_func("/bars_fit/class", test_class);
  g_test_add_func("/bars_fit/card", test_card);
  g_test_add_func("/bars_fit/edges", test_edges);
  return g_test_run();
}
