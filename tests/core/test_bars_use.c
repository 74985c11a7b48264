/* test_bars_use.c - the gain of two sets as a finish factor; a card in another test than its own.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * N, mm, MPa. */
#include "proof.h"
#include "strength/bars_use.h"
#include "strength/surface.h"

static const Source closed = {"ratio of effective surfaces of bars in closed form", FROM_MEMORY},
                    same = {"the card's own test", EXACT};

static Material card(void)
{
  Material m = {.young_mpa = 205000,
                .poisson = 0.31,
                .toughness = 5,
                .strength_mpa = 850,
                .strength_percent = 15,
                .weibull = 10,
                .bar = BAR_FOUR_POINT_QUARTER,
                .bar_span = 20,
                .bar_width = 4,
                .bar_thickness = 3,
                .bar_finish = "high-polish",
                .bar_count = 30,
                .polish_gain_top = 1.25};
  return m;
}

static void test_book(void)
{
  Material m = card();
  BarsBook book;
  BarSetup quarter = bar_setup_default(BAR_FOUR_POINT_QUARTER),
           three = bar_setup_default(BAR_THREE_POINT);
  g_assert_cmpint(bars_book(&m, &quarter, 4, 3, &book), ==, FAULT_NONE);
  proof_row("card in its own test, 63 of 100 broken at", same, 850, book.scale.value, 1e-9);
  proof_row("the same, low end", same, 850 * 0.85, book.scale.low, 1e-9);
  proof_row("the same, high end", same, 850 * 1.15, book.scale.high, 1e-9);
  g_assert_cmpfloat(book.surface, ==, book.card_surface);
  /* quarter points pull (m + 2) / 2 times as much surface as the middle does */
  g_assert_cmpint(bars_book(&m, &three, 4, 3, &book), ==, FAULT_NONE);
  proof_row("card from quarter to three points, m 10, strength times", closed, pow(6, 0.1),
            book.scale.value / 850, 1e-6);
  g_assert_cmpfloat(book.scale.low / book.scale.value, <, 0.85); /* m is not sure */
  g_assert_cmpfloat(book.scale.high / book.scale.value, >, 1.15);
  /* twice as long: twice the surface */
  quarter.span = 40, quarter.inner = 20;
  g_assert_cmpint(bars_book(&m, &quarter, 4, 3, &book), ==, FAULT_NONE);
  proof_row("card from span 20 to 40 mm, m 10, strength times", closed, pow(2, -0.1),
            book.scale.value / 850, 1e-6);
  g_assert_cmpfloat(book.card_scale.value, ==, 850);
  g_assert_true(book.modulus.low < 10 && book.modulus.high > 10);
  BarsBook kept = book;
  m.strength_mpa = NAN;
  g_assert_cmpint(bars_book(&m, &quarter, 4, 3, &book), ==, FAULT_RANGE);
  m = card();
  m.bar_width = NAN;
  g_assert_cmpint(bars_book(&m, &quarter, 4, 3, &book), ==, FAULT_RANGE);
  g_assert_cmpfloat(book.scale.value, ==, kept.scale.value);
}

static void test_factor(void)
{
  BarsAnswer answer = {.comparison = {.gain_percent = {56, 45, 68}}};
  OwnFactor own = {.factor = 0};
  Material m = card();
  const char *reason = NULL;
  g_assert_cmpint(bars_own_factor(&answer, FINISH_AS_MILLED, FINISH_HIGH_POLISH,
                                  "own bars, 2026-11-25, 15 and 15 bars", &own),
                  ==, FAULT_NONE);
  g_assert_cmpint((int)own.state, ==, FINISH_HIGH_POLISH);
  g_assert_cmpint((int)own.against, ==, FINISH_AS_MILLED);
  g_assert_cmpint((int)own_factor_set(&m, &own, &reason), ==, FAULT_NONE);
  SurfaceFactor milled = surface_factor(&m, FINISH_AS_MILLED, FINISH_HIGH_POLISH);
  g_assert_cmpfloat_with_epsilon(milled.of.value, 1 / 1.56, 1e-12);
  g_assert_cmpfloat_with_epsilon(milled.of.low, 1 / 1.68, 1e-12);
  g_assert_cmpfloat_with_epsilon(milled.of.high, 1 / 1.45, 1e-12);
  /* a loss is a factor as well; both sets of one finish are none */
  answer.comparison.gain_percent = banded(-20, -30, -10);
  g_assert_cmpint(bars_own_factor(&answer, FINISH_HIGH_POLISH, FINISH_BLASTED, "bars", &own), ==,
                  FAULT_NONE);
  g_assert_cmpint((int)own_factor_set(&m, &own, &reason), ==, FAULT_NONE);
  g_assert_cmpint(bars_own_factor(&answer, FINISH_BLASTED, FINISH_BLASTED, "bars", &own), ==,
                  FAULT_NONE);
  g_assert_cmpint((int)own_factor_set(&m, &own, &reason), ==, FAULT_RANGE);
  /* a source longer than its room ends between two characters */
  GString *text = g_string_new("x");
  for (int i = 0; i < 200; i++)
    g_string_append(text, "ä");
  g_assert_cmpint(bars_own_factor(&answer, FINISH_BLASTED, FINISH_AS_FIRED, text->str, &own), ==,
                  FAULT_NONE);
  g_assert_true(g_utf8_validate(own.source, -1, NULL));
  g_assert_cmpuint(strlen(own.source), >=, sizeof own.source - 3);
  g_string_free(text, TRUE);
  answer.compare_fault = FAULT_DEGENERATE; /* too few bars for a band: no factor */
  g_assert_cmpint(bars_own_factor(&answer, FINISH_BLASTED, FINISH_AS_FIRED, "bars", &own), ==,
                  FAULT_DEGENERATE);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/bars_use/book", test_book);
  g_test_add_func("/bars_use/factor", test_factor);
  return g_test_run();
}
