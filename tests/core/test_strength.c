/* test_strength.c - finish states, material cards, stresses of test pieces.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * N, mm, MPa, ratios. */
#include "proof.h"
#include "strength/bar_stress.h"
#include "strength/finish.h"
#include "strength/material.h"
#include "strength/weibull.h"

static const Source
    states = {"finish states of the trade, ends of the ranges against as-fired", PRACTICE},
    gain_mean = {"polishing raises bar strength by about 56 % on average", PRACTICE},
    gain_band = {"twelve laboratories, Dent Mater 2021;37:284: both ends were found", READ},
    closed_surface = {"effective surface of a bar in closed form, computed", FROM_MEMORY},
    standards = {"ISO 6872 and ASTM C1161, computed", FROM_MEMORY},
    disc = {"ISO 6872:2015, piston on three balls (equal to Kirstein and Woolley)", FROM_MEMORY};

static void near(double value, double wanted, double tolerance)
{
  g_assert_cmpfloat_with_epsilon(value, wanted, tolerance);
}

/* The trade's sheet of states: rough; most from memory or common practice, no source. */
static void test_ranges(void)
{
  static const struct {
    const char *id;
    double low, high;
  } row[] = {{"as-milled", .75, 1.0},
             {"soft-smoothed", 1.0, 1.0},
             {"coarse-ground", .6, .9},
             {"coarse-ground-dry", .5, .85},
             {"fine-ground", .85, 1.1},
             {"disc-cut", .4, .8},
             {"blasted", .9, 1.2},
             {"rubber-smooth", .9, 1.1},
             {"high-polish", 1.0, 1.25},
             {"glazed-over-polish", .85, 1},
             {"glazed-over-ground", .6, .85},
             {"regen-fired", .7, 1.0},
             {"polished-then-regen", .95, 1.1},
             {"unknown", .6, .9},
             {"as-fired", 1, 1}};
  g_assert_cmpint(G_N_ELEMENTS(row), ==, FINISH_N);
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    FinishState state;
    g_assert_true(finish_from_id(row[i].id, &state));
    Banded f = finish_factor(state, FINISH_AS_FIRED, 1.25);
    g_autofree char *low = g_strdup_printf("%s, lower end", row[i].id),
                    *high = g_strdup_printf("%s, upper end", row[i].id);
    proof_row_within(low, states, row[i].low, f.low, 1e-12);
    proof_row_within(high, states, row[i].high, f.high, 1e-12);
    g_assert_true(f.low <= f.value && f.value <= f.high);
  }
}

/* As-milled to high polish: +56 % with a band from 0 to +90 %, and the same read the other way
 * round. */
static void test_polish_gain(void)
{
  Banded gain = finish_factor(FINISH_HIGH_POLISH, FINISH_AS_MILLED, 1.25);
  proof_row_within("as-milled to high polish, factor", gain_mean, 1.56, gain.value, 1e-9);
  proof_row_within("as-milled to high polish, lower end", gain_band, 1.0, gain.low, 1e-12);
  proof_row_within("as-milled to high polish, upper end", gain_band, 1.9, gain.high, 1e-12);
  Banded loss = finish_factor(FINISH_AS_MILLED, FINISH_HIGH_POLISH, 1.25);
  near(loss.value, 1 / 1.56, 1e-9);
  near(loss.low, 1 / 1.9, 1e-12);
  near(loss.high, 1.0, 1e-12);
  /* equal to a flaw 2.4 times as deep: strength goes with the root of the depth */
  proof_row_within("as-milled to high polish, depth of the flaw", gain_mean, 2.4,
                   gain.value * gain.value, 0.05);
}

/* 4Y and 5Y gain nothing from polish (from memory): upper end 1. */
static void test_gain_top(void)
{
  for (int state = 0; state < FINISH_N; state++) {
    Banded f = finish_factor((FinishState)state, FINISH_AS_FIRED, 1.0);
    g_assert_cmpfloat(f.high, <=, 1.0);
    g_assert_true(f.low <= f.value && f.value <= f.high);
  }
  Banded polish = finish_factor(FINISH_HIGH_POLISH, FINISH_AS_MILLED, 1.0);
  near(polish.value, 1 / 0.75, 1e-9); /* what is left is the loss of the milled surface */
  near(polish.low, 1, 1e-12);
  g_assert_cmpfloat(polish.high, <, 1.9);
  Banded limited = finish_factor(FINISH_HIGH_POLISH, FINISH_AS_FIRED, 1.1);
  near(limited.value, 1.1, 1e-12);
  near(limited.high, 1.1, 1e-12);
  Banded open = finish_factor(FINISH_HIGH_POLISH, FINISH_AS_FIRED, NAN);
  near(open.high, 1.25, 1e-12);
}

/* States are ratios to the bars, never products; the bars' own state is known exactly. */
static void test_reference(void)
{
  for (int a = 0; a < FINISH_N; a++)
    for (int b = 0; b < FINISH_N; b++) {
      Banded f = finish_factor((FinishState)a, (FinishState)b, 1.25);
      g_assert_true(f.low > 0 && f.low <= f.value && f.value <= f.high && f.high < 3);
      if (a == b)
        g_assert_true(f.low == 1 && f.high == 1);
      Banded back = finish_factor((FinishState)b, (FinishState)a, 1.25);
      near(f.value * back.value, 1, 1e-12);
      Banded through = finish_factor((FinishState)a, FINISH_AS_FIRED, 1.25),
             base = finish_factor((FinishState)b, FINISH_AS_FIRED, 1.25);
      near(f.value, through.value / base.value, 1e-9);
    }
  near(finish_factor(FINISH_UNKNOWN, FINISH_AS_FIRED, 1.25).value,
       finish_factor(FINISH_COARSE_GROUND, FINISH_AS_FIRED, 1.25).value,
       1e-12); /* "treat as coarse-ground" */
  near(finish_factor((FinishState)99, FINISH_AS_FIRED, 1.25).value,
       finish_factor(FINISH_UNKNOWN, FINISH_AS_FIRED, 1.25).value, 1e-12);
}

/* Directions the trade is sure of: polishing first, glaze over scratches does not heal, disc and
 * dry grinding worst. */
static void test_order(void)
{
#define VALUE(state) finish_factor(FINISH_##state, FINISH_AS_FIRED, 1.25).value
  for (int state = 0; state < FINISH_N; state++)
    g_assert_cmpfloat(finish_factor((FinishState)state, FINISH_AS_FIRED, 1.25).value, <=,
                      VALUE(HIGH_POLISH));
  g_assert_cmpfloat(VALUE(DISC_CUT), <, VALUE(COARSE_GROUND_DRY));
  g_assert_cmpfloat(VALUE(COARSE_GROUND_DRY), <, VALUE(COARSE_GROUND));
  g_assert_cmpfloat(VALUE(COARSE_GROUND), <, VALUE(FINE_GROUND));
  g_assert_cmpfloat(VALUE(GLAZED_OVER_GROUND), <, VALUE(GLAZED_OVER_POLISH));
  g_assert_cmpfloat(VALUE(GLAZED_OVER_GROUND), <=, VALUE(COARSE_GROUND));
  g_assert_cmpfloat(VALUE(REGEN_FIRED), <, VALUE(POLISHED_THEN_REGEN));
  g_assert_cmpfloat(VALUE(RUBBER_SMOOTH), <, VALUE(HIGH_POLISH));
}

static void test_names(void)
{
  for (int i = 0; i < FINISH_N; i++) {
    FinishState state;
    g_assert_true(finish_from_id(finish_id((FinishState)i), &state));
    g_assert_cmpint(state, ==, i);
    g_assert_true(*finish_name((FinishState)i) && *finish_source((FinishState)i));
  }
  for (int i = 0; i < ZONE_N; i++) {
    FinishZone zone;
    g_assert_true(zone_from_id(zone_id((FinishZone)i), &zone));
    g_assert_cmpint(zone, ==, i);
    g_assert_true(*zone_name((FinishZone)i));
  }
  FinishState state = FINISH_BLASTED;
  FinishZone zone = ZONE_LEGS;
  g_assert_false(finish_from_id("polished", &state));
  g_assert_false(finish_from_id("", &state));
  g_assert_false(finish_from_id(NULL, &state));
  g_assert_false(zone_from_id("root", &zone));
  g_assert_cmpint(state, ==, FINISH_BLASTED);
  g_assert_cmpint(zone, ==, ZONE_LEGS);
  g_assert_cmpstr(finish_id((FinishState)-1), ==, "unknown");
  g_assert_cmpstr(zone_id((FinishZone)99), ==, "");
  g_assert_cmpstr(zone_id(ZONE_CHEEK), ==, "cheek-side");
}

static Material card(void)
{
  return (Material){.id = "3y",
                    .name = "Zirconia",
                    .young_mpa = 205e3,
                    .poisson = 0.31,
                    .toughness = 5,
                    .toughness_percent = 30,
                    .strength_mpa = 850,
                    .strength_percent = 15,
                    .weibull = 10,
                    .bar = BAR_FOUR_POINT_QUARTER,
                    .bar_span = 40,
                    .bar_width = 4,
                    .bar_thickness = 3,
                    .bar_finish = "high-polish",
                    .iso_class = 5,
                    .polish_gain_top = 1.25,
                    .source = "test",
                    .confidence = CONFIDENCE_OWN};
}

static void test_card(void)
{
  Material m = card();
  g_assert_cmpint(material_check(&m, NULL), ==, FAULT_NONE);
  proof_row_within("card, four-point-1/4 bar, span 40, m 10: effective surface", closed_surface,
                   93.2231, material_bar_surface(&m), 6e-5);
  m.bar = BAR_THREE_POINT;
  m.bar_span = 20;
  proof_row_within("card, three-point bar, span 20, m 10: effective surface", closed_surface,
                   7.76860, material_bar_surface(&m), 6e-6);
  m.bar = BAR_FOUR_POINT_THIRD;
  near(material_bar_surface(&m), bar_surface_four_point_third(20, 4, 3, 10), 1e-12);
  m.bar = BAR_DISC; /* support circle 10, piston 1.4 */
  m.bar_span = 10;
  m.bar_width = 1.4;
  m.bar_thickness = 1.2;
  g_assert_cmpint(material_check(&m, NULL), ==, FAULT_NONE);
  near(material_bar_surface(&m), bar_surface_disc(10, 1.4, 0.31, 10), 1e-12);
  m.bar_width = 11;
  g_assert_cmpint(material_check(&m, NULL), ==, FAULT_RANGE);
}

static void test_card_refuses(void)
{
  Material m = card();
  double *field[] = {&m.young_mpa,    &m.poisson,          &m.toughness,      &m.toughness_percent,
                     &m.strength_mpa, &m.strength_percent, &m.weibull,        &m.bar_span,
                     &m.bar_width,    &m.bar_thickness,    &m.polish_gain_top};
  const double bad[] = {NAN, INFINITY, -1};
  for (size_t i = 0; i < G_N_ELEMENTS(field); i++)
    for (size_t k = 0; k < G_N_ELEMENTS(bad); k++) {
      double kept = *field[i];
      *field[i] = bad[k];
      g_assert_cmpint(material_check(&m, NULL), ==, FAULT_RANGE);
      *field[i] = kept;
    }
  m.iso_class = 6;
  g_assert_cmpint(material_check(&m, NULL), ==, FAULT_RANGE);
  m = card();
  g_strlcpy(m.bar_finish, "shiny", sizeof m.bar_finish);
  g_assert_cmpint(material_check(&m, NULL), ==, FAULT_RANGE);
  m = card();
  m.source[0] = '\0'; /* a published card without a source; a draft may wait for it */
  g_assert_cmpint(material_check(&m, NULL), ==, FAULT_NONE);
  m.state = CARD_PUBLISHED;
  g_assert_cmpint(material_check(&m, NULL), ==, FAULT_RANGE);
  m = card();
  for (size_t i = 0; i < sizeof m.id; i++)
    m.id[i] = 'x'; /* no end */
  g_assert_cmpint(material_check(&m, NULL), ==, FAULT_RANGE);
  m = card();
  m.bar = (BarTest)7;
  g_assert_cmpint(material_check(&m, NULL), ==, FAULT_RANGE);
}

static void test_bars(void)
{
  proof_row_within("four-point-1/4 bar, stress", standards, 833.33,
                   bar_stress_four_point(1000, 40, 20, 4, 3), 0.005);
  proof_row_within("three-point bar, stress", standards, 1666.67,
                   bar_stress_three_point(1000, 40, 4, 3), 0.005);
  proof_row_within("four-point-1/3 bar, stress", standards, 1111.11,
                   bar_stress_four_point(1000, 40, 40.0 / 3, 4, 3), 0.005);
  proof_row_within("three-point bar, span 14, stress", standards, 1400,
                   bar_stress_three_point(600, 14, 4, 1.5), 1e-9);
}

/* 1000 N, 1.2 mm. */
static void test_disc(void)
{
  proof_row_within("disc 12, nu 0.25, stress", disc, 1107.5,
                   bar_stress_disc(1000, 1.2, 0.25, 5, 0.7, 6), 0.2);
  proof_row_within("disc 15, nu 0.30, stress", disc, 1113.9,
                   bar_stress_disc(1000, 1.2, 0.30, 5, 0.7, 7.5), 0.2);
  proof_row_within("disc 14, nu 0.32, stress", disc, 1136.2,
                   bar_stress_disc(1000, 1.2, 0.32, 5, 0.7, 7), 0.2);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/strength/ranges", test_ranges);
  g_test_add_func("/strength/polish_gain", test_polish_gain);
  g_test_add_func("/strength/gain_top", test_gain_top);
  g_test_add_func("/strength/reference", test_reference);
  g_test_add_func("/strength/order", test_order);
  g_test_add_func("/strength/names", test_names);
  g_test_add_func("/strength/card", test_card);
  g_test_add_func("/strength/card_refuses", test_card_refuses);
  g_test_add_func("/strength/bars", test_bars);
  g_test_add_func("/strength/disc", test_disc);
  return g_test_run();
}
