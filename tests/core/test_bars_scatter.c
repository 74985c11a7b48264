/* test_bars_scatter.c - bands of m and scale by the number of bars hold the truth 90 times of 100.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/random.h"
#include "proof.h"
#include "strength/bars_fit.h"
#include "strength/bars_scatter.h"
#include "strength/surface.h"
#include "strength/weibull.h"

static const Source nominal = {"a 90 % band holds the truth 90 times of 100", EXACT},
                    tail = {"5 of 100 on either side", EXACT},
                    thirty = {"30 bars: m-hat over m, Thoman, Bain and Antle 1969", FROM_MEMORY},
                    limit = {"limiting normal distribution, Fisher's information", FROM_MEMORY};

/* Sets of n bars of one truth; a card states what each says and how many it was. */
static void test_coverage(void)
{
  static const int bars[] = {5, 10, 13, 15, 24, 30, 70, 150};
  const double m = 11.3, scale = 837;
  uint64_t state = 2385;
  for (size_t i = 0; i < G_N_ELEMENTS(bars); i++) {
    size_t n = (size_t)bars[i];
    const int sets = 20000;
    int m_in = 0, m_above = 0, scale_in = 0;
    for (int k = 0; k < sets; k++) {
      double s[150], work[150];
      BarsFit fit;
      for (size_t b = 0; b < n; b++)
        s[b] = weibull_quantile(random_unit(&state), m, scale);
      g_assert_cmpint(bars_fit(s, n, NULL, 0, work, &fit), ==, FAULT_NONE);
      Banded ratio = bars_modulus_ratio(bars[i]);
      double stated = fit.modulus.value;
      m_in += stated * ratio.low <= m && m <= stated * ratio.high;
      m_above += m > stated * ratio.high;
      ratio = bars_scale_ratio(bars[i], stated);
      scale_in += fit.scale.value * ratio.low <= scale && scale <= fit.scale.value * ratio.high;
    }
    /* standard error 0.21 of 100, of a side 0.15 */
    g_autofree char *what = g_strdup_printf("%zu bars, m in the band of their number, of 100", n),
                    *side = g_strdup_printf("%zu bars, m above that band, of 100", n),
                    *at = g_strdup_printf("%zu bars, scale in the band of their number, of 100", n);
    proof_row_within(what, nominal, 90, 100.0 * m_in / sets, 1);
    proof_row_within(side, tail, 5, 100.0 * m_above / sets, 0.7);
    proof_row_within(at, nominal, 90, 100.0 * scale_in / sets, 1);
  }
}

static void test_shape(void)
{
  Banded of_thirty = bars_modulus_ratio(30);
  proof_row("30 bars, 5 % of m-hat over m", thirty, 0.81, 1 / (of_thirty.high * weibull_unbias(30)),
            2);
  proof_row("30 bars, 95 % of m-hat over m", thirty, 1.31, 1 / (of_thirty.low * weibull_unbias(30)),
            2);
  /* 1.645 sqrt(6) / pi / sqrt(n) */
  proof_row("4000 bars, 95 % of m", limit, 1.2826 / sqrt(4000), log(bars_modulus_ratio(4000).high),
            3);
  double before = INFINITY;
  for (int n = 3; n < 3000; n += 1 + n / 10) {
    Banded m = bars_modulus_ratio(n), scale = bars_scale_ratio(n, 10);
    g_assert_true(m.low < 1 && 1 < m.high && scale.low < 1 && 1 < scale.high);
    g_assert_cmpfloat(log(m.high / m.low), <, before); /* more bars know better */
    before = log(m.high / m.low);
  }
  g_assert_cmpfloat(bars_modulus_ratio(-5).high, ==, bars_modulus_ratio(3).high);
}

/* A card that states few bars is not surer than they are. */
static void test_card(void)
{
  Material m = {.strength_mpa = 900, .strength_percent = 0, .weibull = 8, .bar_count = 10};
  Banded strength = material_strength(&m), bars = bars_scale_ratio(10, 8);
  g_assert_cmpfloat(strength.low, ==, 900 * bars.low);
  g_assert_cmpfloat(strength.high, ==, 900 * bars.high);
  m.strength_percent = 15;
  strength = material_strength(&m);
  g_assert_cmpfloat_with_epsilon(strength.low, 765, 1e-9);
  g_assert_cmpint(material_bars(&m), ==, 10);
  m.bar_count = 0;
  g_assert_cmpint(material_bars(&m), ==, BARS_NOT_STATED);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/bars_scatter/coverage", test_coverage);
  g_test_add_func("/bars_scatter/shape", test_shape);
  g_test_add_func("/bars_scatter/card", test_card);
  return g_test_run();
}
