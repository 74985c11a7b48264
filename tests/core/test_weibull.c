/* test_weibull.c - Weibull statistics, effective surfaces, risk of a surface.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * MPa, mm. */
#include "strength/weibull.h"
#include "proof.h"
#include <stdlib.h>

static const Source
    published = {"23 ball bearings, Lieblein and Zelen 1956, Thoman et al. 1969", FROM_MEMORY},
    second = {"a second solution of the likelihood equations", SOLVER},
    printed = {"unbiasing table, Thoman, Bain and Antle 1969, ASTM C1239", FROM_MEMORY},
    simulated_source = {"simulation of 150 000 to 400 000 samples, s.e. 0.0006", SOLVER},
    distribution = {"Weibull distribution, computed", EXACT},
    closed = {"effective volume and surface in closed form, surfaces by quadrature", FROM_MEMORY},
    slices = {"surface integral by slices", EXACT},
    laplace = {"Timoshenko's plate by Laplace's method, m to infinity", FROM_MEMORY};

static void near(double value, double wanted, double tolerance)
{
  g_assert_cmpfloat_with_epsilon(value, wanted, tolerance);
}

static void test_ball_bearings(void)
{
  static const double life[] = {17.88, 28.92, 33.00,  41.52,  42.12,  45.60,  48.40, 51.84,
                                51.96, 54.12, 55.56,  67.80,  68.64,  68.64,  68.88, 84.12,
                                93.12, 98.64, 105.12, 105.84, 127.92, 128.04, 173.40};
  double m, s;
  g_assert_cmpint(weibull_fit(life, G_N_ELEMENTS(life), &m, &s), ==, FAULT_NONE);
  proof_row_within("ball bearings, modulus", published, 2.10, m, 0.005);
  proof_row_within("ball bearings, scale", published, 81.9, s, 0.05);
  proof_row_within("ball bearings, modulus", second, 2.10185, m, 6e-6);
  proof_row_within("ball bearings, scale", second, 81.8746, s, 6e-5);
  /* one scale, one unit: scaled data give the same modulus */
  double scaled[G_N_ELEMENTS(life)], m2, s2;
  for (size_t i = 0; i < G_N_ELEMENTS(life); i++)
    scaled[i] = life[i] * 1e-3;
  g_assert_cmpint(weibull_fit(scaled, G_N_ELEMENTS(life), &m2, &s2), ==, FAULT_NONE);
  near(m2, m, 1e-9);
  near(s2, s * 1e-3, 1e-9);
}

/* Thirty alumina bars: the data are not vouched for, so only our solution of the equations is
 * checked against a second one. */
static void test_alumina(void)
{
  static const double s30[] = {307, 371, 380, 393, 393, 402, 407, 409, 411, 428,
                               430, 434, 435, 437, 441, 445, 445, 449, 455, 462,
                               465, 466, 480, 485, 486, 499, 499, 500, 543, 562};
  double m, s;
  g_assert_cmpint(weibull_fit(s30, 30, &m, &s), ==, FAULT_NONE);
  proof_row_within("thirty bars, modulus", second, 9.2386, m, 6e-5);
  proof_row_within("thirty bars, scale", second, 466.642, s, 6e-4);
  proof_row_within("thirty bars, modulus unbiased", second, 8.823, m * weibull_unbias(30), 6e-4);
}

/* Likelihood at the fit is the largest around. */
static double log_likelihood(const double s[], size_t n, double m, double scale)
{
  double sum = 0;
  for (size_t i = 0; i < n; i++)
    sum += log(m / scale) + (m - 1) * log(s[i] / scale) - pow(s[i] / scale, m);
  return sum;
}

static void test_likelihood(void)
{
  GRand *rand = g_rand_new_with_seed(2385);
  for (int round = 0; round < 20; round++) {
    double s[12], m, scale, true_m = g_rand_double_range(rand, 1, 40);
    for (int i = 0; i < 12; i++)
      s[i] = weibull_quantile(g_rand_double_range(rand, 0.001, 0.999), true_m, 800);
    g_assert_cmpint(weibull_fit(s, 12, &m, &scale), ==, FAULT_NONE);
    double best = log_likelihood(s, 12, m, scale);
    for (int k = 0; k < 8; k++) {
      double dm = 1 + 0.01 * cos(k * G_PI / 4), ds = 1 + 0.01 / m * sin(k * G_PI / 4);
      g_assert_cmpfloat(log_likelihood(s, 12, m * dm, scale * ds), <, best);
    }
  }
  g_rand_free(rand);
}

static void test_fit_refuses(void)
{
  double m = 7, s = 7;
  const double same[] = {500, 500, 500, 500}, two[] = {400, 500}, none[] = {400, 0, 500},
               strange[] = {400, NAN, 500}, endless[] = {400, INFINITY, 500};
  g_assert_cmpint(weibull_fit(same, 4, &m, &s), ==, FAULT_DEGENERATE);
  g_assert_cmpint(weibull_fit(two, 2, &m, &s), ==, FAULT_DEGENERATE);
  g_assert_cmpint(weibull_fit(none, 3, &m, &s), ==, FAULT_RANGE);
  g_assert_cmpint(weibull_fit(strange, 3, &m, &s), ==, FAULT_NOT_FINITE);
  g_assert_cmpint(weibull_fit(endless, 3, &m, &s), ==, FAULT_NOT_FINITE);
  g_assert_cmpfloat(m, ==, 7);
  const double wide[] = {1e-12, 1, 1e12};
  g_assert_cmpint(weibull_fit(wide, 3, &m, &s), ==, FAULT_NONE);
  g_assert_true(m > 0 && isfinite(s));
}

/* Unbiasing: the printed table is up to 0.9 % high. */
static void test_unbias(void)
{
  static const double simulated[][2] = {{8, .8168},  {10, .8551}, {12, .8804}, {15, .9048},
                                        {20, .9292}, {25, .9441}, {30, .9532}, {40, .9649},
                                        {50, .9719}, {80, .9826}, {100, .9860}};
  for (size_t i = 0; i < G_N_ELEMENTS(simulated); i++) {
    g_autofree char *what = g_strdup_printf("unbiasing factor of %g bars", simulated[i][0]);
    proof_row(what, simulated_source, simulated[i][1], weibull_unbias((size_t)simulated[i][0]),
              0.5);
  }
  proof_row_within("unbiasing factor of 5 bars", printed, .700, weibull_unbias(5), 1e-12);
  proof_row_within("unbiasing factor of 120 bars", printed, .990, weibull_unbias(120), 1e-12);
  near(weibull_unbias(1000000), 1, 1e-5);
  for (size_t n = 5; n < 200; n++)
    g_assert_cmpfloat(weibull_unbias(n + 1), >, weibull_unbias(n));
  g_assert_true(isnan(weibull_unbias(4)));
}

/* Of a scale of 1. */
static void test_quantiles(void)
{
  proof_row_within("mean over scale, m 10", distribution, 0.951351, weibull_mean(10, 1), 6e-7);
  proof_row_within("mean over scale, m 12", distribution, 0.958286, weibull_mean(12, 1), 6e-7);
  proof_row_within("1 % quantile, m 10", distribution, 0.63127, weibull_quantile(0.01, 10, 1),
                   6e-6);
  proof_row_within("5 % quantile, m 10", distribution, 0.74303, weibull_quantile(0.05, 10, 1),
                   6e-6);
  proof_row_within("median, m 10", distribution, 0.96401, weibull_quantile(0.5, 10, 1), 6e-6);
  proof_row_within("chance at 0.8, m 10", distribution, 0.101810, weibull_chance(0.8, 10, 1), 6e-7);
  proof_row_within("chance at the scale", distribution, 1 - exp(-1), weibull_chance(850, 10, 850),
                   1e-12);
  near(weibull_chance(weibull_quantile(0.237, 8.3, 912), 8.3, 912), 0.237, 1e-12);
  g_assert_cmpfloat(weibull_chance(-5, 10, 850), ==, 0);
}

/* m = 10, bars 4 x 3. */
static void test_effective(void)
{
  proof_row_within("three-point bar, volume factor, m 10", closed, 0.0041322,
                   bar_volume_factor_three_point(10), 6e-8);
  proof_row_within("four-point-1/4 bar, volume factor, m 10", closed, 0.0247934,
                   bar_volume_factor_four_point_quarter(10), 6e-8);
  proof_row_within("four-point-1/3 bar, volume factor, m 10", closed, 0.0179063,
                   bar_volume_factor_four_point_third(10), 6e-8);
  proof_row_within("three-point bar, span 20, effective volume", closed, 0.99174,
                   20 * 4 * 3 * bar_volume_factor_three_point(10), 6e-6);
  proof_row_within("four-point-1/4 bar, span 40, effective volume", closed, 11.9008,
                   40 * 4 * 3 * bar_volume_factor_four_point_quarter(10), 6e-5);
  proof_row_within("three-point bar, span 20, effective surface", closed, 7.76860,
                   bar_surface_three_point(20, 4, 3, 10), 6e-6);
  proof_row_within("four-point-1/4 bar, span 40, effective surface", closed, 93.2231,
                   bar_surface_four_point_quarter(40, 4, 3, 10), 6e-5);
  /* strength three-point over four-point, same span */
  static const double ratio[][2] = {{5, 1.2847}, {10, 1.1962}, {15, 1.1534}, {20, 1.1274}};
  for (size_t i = 0; i < G_N_ELEMENTS(ratio); i++) {
    double m = ratio[i][0];
    g_autofree char *what = g_strdup_printf("three-point over four-point strength, m %g", m);
    proof_row_within(
        what, closed, ratio[i][1],
        pow(bar_volume_factor_four_point_quarter(m) / bar_volume_factor_three_point(m), 1 / m),
        6e-5);
  }
}

/* Integral of (sigma / sigma_max)^m over the stretched face and both sides, by slices. */
static double surface_by_slices(double span, double inner, double b, double h, double m)
{
  double sum = 0;
  const int n = 400;
  for (int i = 0; i < n; i++) {
    double x = span * (i + 0.5) / n, arm = (span - inner) / 2, end = fmin(x, span - x);
    double s = fmin(1, end / arm);
    sum += pow(s, m) * b * span / n;
    for (int k = 0; k < n; k++)
      sum += 2 * pow(s * (k + 0.5) / n, m) * (h / 2 / n) * span / n;
  }
  return sum;
}

static void test_surface_by_slices(void)
{
  proof_row_within("three-point bar, span 14, m 8.7, effective surface", slices,
                   surface_by_slices(14, 0, 4, 1.5, 8.7), bar_surface_three_point(14, 4, 1.5, 8.7),
                   2e-3);
  proof_row_within("four-point-1/4 bar, span 20, m 8.7, effective surface", slices,
                   surface_by_slices(20, 10, 4, 3, 8.7),
                   bar_surface_four_point_quarter(20, 4, 3, 8.7), 0.02);
  proof_row_within("four-point-1/3 bar, span 24, m 8.7, effective surface", slices,
                   surface_by_slices(24, 8, 4, 3, 8.7), bar_surface_four_point_third(24, 4, 3, 8.7),
                   0.02);
}

/* Disc: little modulus sees the whole ring, a large one only the middle; near the middle the moment
 * falls as (1 + 3 nu) / 4 (r / piston)^2 of 1 + (1 + nu) ln(support / piston) - ... (Timoshenko),
 * so Laplace's method gives the limit. */
static void test_disc(void)
{
  double nu = 0.31, support = 5, piston = 0.7, m = 4000;
  double centre =
      (1 + nu) * log(support / piston) + 1 - (1 - nu) * piston * piston / (4 * support * support);
  double fall = (1 + 3 * nu) / 4 / centre / (piston * piston);
  proof_row("disc, effective surface at m 4000", laplace, G_PI / (m * fall),
            bar_surface_disc(10, 1.4, nu, m), 1);
  g_assert_cmpfloat(bar_surface_disc(10, 1.4, nu, 10), <, G_PI * 0.7 * 0.7);
  g_assert_cmpfloat(bar_surface_disc(10, 1.4, nu, 10), >, 0.3 * G_PI * 0.7 * 0.7);
  g_assert_cmpfloat(bar_surface_disc(10, 1.4, nu, 5), >, bar_surface_disc(10, 1.4, nu, 10));
  g_assert_true(isnan(bar_surface_disc(1.4, 10, nu, 10)));
  g_assert_true(isnan(bar_surface_disc(10, 0, nu, 10)));
}

/* A bar as a field: its risk at the characteristic strength is one, whatever the finish does to the
 * scale. */
static void test_risk(void)
{
  enum { N = 60 };
  const double span = 14, b = 4, h = 1.5, m = 9.3, theta = 873;
  Field *field = field_new();
  field->n_surface = (size_t)N * (N + 1);
  field->surface = calloc(field->n_surface, sizeof *field->surface);
  SurfacePoint *p = field->surface;
  for (int i = 0; i < N; i++) {
    double x = span * (i + 0.5) / N, s = fmin(x, span - x) / (span / 2);
    *p++ =
        (SurfacePoint){.stress = {{(float)s}}, .area = (float)(b * span / N), .zone = SURFACE_ROOF};
    for (int k = 0; k < N; k++)
      *p++ = (SurfacePoint){.stress = {{(float)(s * (k + 0.5) / N)}},
                            .area = (float)(2 * (h / 2 / N) * span / N),
                            .zone = SURFACE_BUCCAL};
  }
  double scale = theta * pow(bar_surface_three_point(span, b, h, m), 1 / m);
  double sigma0[SURFACE_N] = {scale, scale, scale, scale, scale};
  NeckLoad load = {theta, 0}; /* stress per N mm is 1 at the peak */
  near(weibull_surface_risk(field, load, sigma0, m), 1, 0.01);
  near(weibull_surface_risk(field, (NeckLoad){2 * theta, 0}, sigma0, m), pow(2, m),
       0.01 * pow(2, m));
  near(weibull_surface_risk(field, (NeckLoad){-theta, 0}, sigma0, m), 0, 1e-60); /* squeezed only */
  sigma0[SURFACE_ROOF] *= 0.5;
  g_assert_cmpfloat(weibull_surface_risk(field, load, sigma0, m), >, 0.9 * pow(2, m));
  field->surface[0].zone = 200; /* a spoilt zone does not read past the scales */
  g_assert_true(isfinite(weibull_surface_risk(field, load, sigma0, m)));
  field_unref(field);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/weibull/ball_bearings", test_ball_bearings);
  g_test_add_func("/weibull/alumina", test_alumina);
  g_test_add_func("/weibull/likelihood", test_likelihood);
  g_test_add_func("/weibull/fit_refuses", test_fit_refuses);
  g_test_add_func("/weibull/unbias", test_unbias);
  g_test_add_func("/weibull/quantiles", test_quantiles);
  g_test_add_func("/weibull/effective", test_effective);
  g_test_add_func("/weibull/surface_by_slices", test_surface_by_slices);
  g_test_add_func("/weibull/disc", test_disc);
  g_test_add_func("/weibull/risk", test_risk);
  return g_test_run();
}
