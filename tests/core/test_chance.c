/* test_chance.c - risk of a meshed bar, years of chewing, bands and drivers.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa.  Laws used as checks: effective surfaces in closed form, v = A K^n integrated step by
 * step, products of lognormal numbers. */
#include "mechanics/plane.h"
#include "proof.h"
#include "strength/bars_scatter.h"
#include "strength/chance.h"
#include "strength/crack.h"

static const Source closed = {"effective surface of bars in closed form", FROM_MEMORY},
                    ratio = {"strength ratio from effective surfaces in closed form", FROM_MEMORY},
                    steps = {"v = A K^n integrated step by step, ramp and sine", EXACT},
                    lognormal = {"product of lognormal numbers", EXACT},
                    aged = {"load survived in chewing, computed from v = A K^n", EXACT},
                    gradient = {"Newman and Raju, plate in bending, NASA 19840015857", READ};

#define WIDTH 4.0
#define HEIGHT 3.0

/* A straight bar of the plane answer, its neck in the middle. */
static Field *bar_field(double length)
{
  Outline o;
  PlaneWork *work = NULL;
  Field *field = NULL;
  PlaneReading reading;
  Point where;
  PlaneSettings settings = {205000, 0.31, 40};
  const Point corner[4] = {
      {-length / 2, 0}, {length / 2, 0}, {length / 2, HEIGHT}, {-length / 2, HEIGHT}};
  outline_init(&o);
  g_assert_cmpint(outline_move_to(&o, corner[0]), ==, FAULT_NONE);
  for (int i = 1; i < 4; i++)
    g_assert_cmpint(outline_line_to(&o, corner[i]), ==, FAULT_NONE);
  g_assert_cmpint(outline_close(&o), ==, FAULT_NONE);
  g_assert_cmpint(plane_work_new(&work), ==, FAULT_NONE);
  g_assert_cmpint(plane_silhouette(work, &o, WIDTH, &settings, &field, &reading, &where), ==,
                  FAULT_NONE);
  plane_work_free(work);
  outline_clear(&o);
  return field;
}

/* The part of a field from x0 to x1, as a field of its own. */
static Field *field_part(const Field *field, double x0, double x1)
{
  Field *part = field_new();
  part->surface = calloc(field->n_surface, sizeof *part->surface);
  for (size_t i = 0; i < field->n_surface; i++)
    if (field->surface[i].at.x > x0 && field->surface[i].at.x < x1)
      part->surface[part->n_surface++] = field->surface[i];
  return part;
}

/* Effective surface at m of this length in the middle of a longer bar, away from its loaded ends:
 * bent evenly, or by a moment that rises from nothing at one end to the full one at the other.  The
 * ends cut through elements: the mean of many cuts a little apart. */
static double meshed_surface(double length, bool rising, double m)
{
  enum { CUTS = 41 };
  Field *field = bar_field(length + 4 * HEIGHT);
  double most = 700, full = most * WIDTH * HEIGHT * HEIGHT / 6, sum = 0;
  double sigma0[SURFACE_N] = {most, most, most, most, most};
  for (int i = 0; i < CUTS; i++) {
    double c = 2.0 * (i + 0.5) / CUTS - 1, slope = rising ? full / length : 0;
    NeckLoad load = {rising ? full / 2 - slope * c : full, slope};
    Field *part = field_part(field, c - length / 2, c + length / 2);
    sum += weibull_surface_risk(part, load, sigma0, m) / CUTS;
    field_unref(part);
  }
  field_unref(field);
  return sum;
}

/* Three-point: two rising halves; four-point-1/4: two rising quarters and an even half. */
static void test_meshed_bar(void)
{
  static const double moduli[] = {5, 10, 20};
  for (size_t i = 0; i < G_N_ELEMENTS(moduli); i++) {
    double m = moduli[i], three = 2 * meshed_surface(10, true, m),
           four = 2 * meshed_surface(5, true, m) + 2 * meshed_surface(5, false, m);
    g_autofree char *a = g_strdup_printf("meshed three-point bar 20 x 4 x 3, surface, m %g", m),
                    *b = g_strdup_printf("meshed four-point-1/4 bar 20 x 4 x 3, surface, m %g", m),
                    *c = g_strdup_printf("meshed bars, three- over four-point strength, m %g", m);
    double three_closed = bar_surface_three_point(20, WIDTH, HEIGHT, m),
           four_closed = bar_surface_four_point_quarter(20, WIDTH, HEIGHT, m);
    proof_row(a, closed, three_closed, three, 2);
    proof_row(b, closed, four_closed, four, 2);
    proof_row(c, ratio, pow(four_closed / three_closed, 1 / m), pow(four / three, 1 / m), 0.3);
  }
}

/* ---- years ---- */

/* d ln a / dt of a flaw under stress s, K = Y s sqrt a, rate A in units that suit. */
static double growth_rate(double n, double log_a, double s)
{
  double k = 1.292 * s * exp(log_a / 2) / 5;         /* over K_Ic = 5 */
  return k > 0 ? pow(k, n) * exp(-log_a) * 1e-2 : 0; /* 10 mm/s at K_Ic */
}

/* Strength in a ramp of `time`: the end stress at which a flaw of a0 becomes critical at its end.
 */
static double ramp_strength(double n, double a0, double time)
{
  double low = 10, high = 5 / (1.292 * sqrt(a0));
  for (int i = 0; i < 60; i++) {
    double end = (low + high) / 2, log_a = log(a0);
    bool broken = false;
    const int many = 20000;
    for (int k = 0; k < many && !broken; k++) {
      double dt = time / many, s = end * (k + 0.5) / many;
      double half = log_a + growth_rate(n, log_a, s) * dt / 2;
      log_a += growth_rate(n, half, s) * dt;
      broken = 1.292 * s * exp(log_a / 2) >= 5 || log_a > 0;
    }
    if (broken)
      high = end;
    else
      low = end;
  }
  return (low + high) / 2;
}

/* Cycles that the flaw bears under a sine between 0 and s. */
static double cycles_borne(double n, double a0, double s, double period)
{
  double mean = 0, life = 0;
  const int many = 4000;
  for (int i = 0; i < many; i++)
    mean += pow((1 - cos(2 * G_PI * (i + 0.5) / many)) / 2, n) / many;
  double from = log(a0), to = 2 * log(5 / (1.292 * s));
  for (int i = 0; i < many; i++) {
    double log_a = from + (to - from) * (i + 0.5) / many;
    life += (to - from) / many / (growth_rate(n, log_a, s) * mean);
  }
  return life / period;
}

static void test_service(void)
{
  static const double exponent[] = {20, 25, 30};
  const double a0 = 20e-6;
  for (size_t i = 0; i < G_N_ELEMENTS(exponent); i++) {
    double n = exponent[i], strength = ramp_strength(n, a0, 10), low = 0.2, high = 1;
    for (int k = 0; k < 60; k++) { /* the part of the strength that a million bites just break */
      double part = (low + high) / 2;
      if (cycles_borne(n, a0, part * strength, 1 / 1.4) > 1e6)
        low = part;
      else
        high = part;
    }
    g_autofree char *what = g_strdup_printf("strength left after 1e6 bites, n %g", n);
    proof_row(what, steps, low, service_factor(n, 0, 1e6), 1);
  }
  /* a pull of 60 s and 1.2 million cycles: 0.591, 0.653, 0.699; our bars are pulled for 10 s */
  static const double survived[] = {0.591, 0.653, 0.699};
  for (size_t i = 0; i < G_N_ELEMENTS(exponent); i++) {
    g_autofree char *what = g_strdup_printf("load survived in chewing, n %g", exponent[i]);
    double slower = crack_static_factor(exponent[i], 60.0 / 10); /* 60 s over 10 s strength */
    proof_row_within(what, aged, survived[i], service_factor(exponent[i], 0, 1.2e6) / slower, 6e-4);
  }
  g_assert_cmpfloat(service_factor(30, 0.6, 1e15), ==, 0.6); /* nothing grows below it */
  g_assert_cmpfloat(service_factor(30, 0.6, 0), ==, 1);
  g_assert_cmpfloat(service_factor(30, 0, 1e-3), ==, 1); /* one quick bite is no gain */
  g_assert_true(isnan(service_factor(1, 0, 10)));
  g_assert_true(isnan(service_factor(30, 0, -1)));
  Service service = {700, 5};
  proof_row("bites of five years", (Source){"chewing machines, 1.2 million a five years", PRACTICE},
            1.2e6, service_bites(&service).value, 10);
}

/* ---- scratch ---- */

/* The depth found in a falling stress breaks the plate of the same fall. */
static void test_scratch(void)
{
  static const double fall[] = {0.2, 0.5, 2};
  for (size_t i = 0; i < G_N_ELEMENTS(fall); i++) {
    double a = crack_scratch_gradient_um(5, 700, fall[i]) * 1e-3;
    g_autofree char *what =
        g_strdup_printf("K of the scratch found, stress gone %g mm below the surface", fall[i]);
    proof_row(what, gradient, 5, crack_newman_raju(a, a, 2 * fall[i], 1e6, 0, 700, 0), 3);
  }
  for (double decay = 0.02; decay < 20; decay *= 1.7) {
    double mean = -decay / 0.1 * expm1(-0.1 / decay);
    g_assert_cmpfloat(fabs(crack_decay_mm(1000, 1000 * mean, 0.1) / decay - 1), <, 1e-6);
  }
  g_assert_true(isinf(crack_decay_mm(1000, 1001, 0.1)));
  g_assert_true(isnan(crack_decay_mm(1000, -1, 0.1)));
}

/* ---- bands ---- */

static Material card(void)
{
  Material m = {.id = "3y",
                .young_mpa = 205000,
                .poisson = 0.31,
                .toughness = 5,
                .toughness_percent = 20,
                .strength_mpa = 850,
                .strength_percent = 15,
                .weibull = 10,
                .growth_n = 30,
                .growth_low = 20,
                .growth_high = 60,
                .threshold = 3,
                .bar = BAR_FOUR_POINT_QUARTER,
                .bar_span = 20,
                .bar_width = 4,
                .bar_thickness = 3,
                .bar_finish = "high-polish",
                .polish_gain_top = 1.25};
  return m;
}

static const Service ten_years = {700, 10};
static const ZoneSurface milled[ZONE_NECK_N] = {{FINISH_AS_MILLED, NAN, NAN},
                                                {FINISH_AS_MILLED, NAN, NAN},
                                                {FINISH_AS_MILLED, NAN, NAN},
                                                {FINISH_HIGH_POLISH, NAN, NAN},
                                                {FINISH_HIGH_POLISH, NAN, NAN}};

static ChanceModel model_of(const Field *field, double peak)
{
  ChanceModel model;
  Material m = card();
  NeckLoad load = {peak * WIDTH * HEIGHT * HEIGHT / 6, 0};
  g_assert_cmpint(chance_model_make(field, load, &m, milled, &ten_years, &model), ==, FAULT_NONE);
  return model;
}

/* Only lognormal inputs that multiply: the band of the margin is known exactly. */
static void test_band_exact(void)
{
  Field *field = bar_field(10);
  ChanceModel model = model_of(field, 400);
  for (size_t i = 0; i < model.n_input; i++) { /* all others known */
    Range *r = &model.input[i].range;
    r->low = r->high = r->value;
  }
  double load = 1.3, calculation = 1.1, both = exp(hypot(log(load), log(calculation)));
  chance_input_add(&model, (ChanceInput){.kind = INPUT_LOAD, .range = {1, 1 / load, load, ""}});
  chance_input_add(
      &model, (ChanceInput){.kind = INPUT_FIELD, .range = {1, 1 / calculation, calculation, ""}});
  ChanceBand band = chance_band(&model, CHANCE_DRAWS), quick = chance_band_quick(&model);
  /* three standard errors of a 5 % quantile of 2000 draws */
  double error = 3 * sqrt(0.05 * 0.95 / CHANCE_DRAWS) / 0.1031 * log(both) / CHANCE_END_Z * 100;
  double middle = band.margin.value;
  proof_row("margin with two known scatters, 5 %", lognormal, middle / both, band.margin.low,
            error);
  proof_row("margin with two known scatters, 95 %", lognormal, middle * both, band.margin.high,
            error);
  proof_row("the same by adding squares, 5 %", lognormal, middle / both, quick.margin.low, 1e-6);
  proof_row("the same by adding squares, 95 %", lognormal, middle * both, quick.margin.high, 1e-6);
  double worst = 100 * -expm1(log(0.95) * pow(quick.margin.low, -10));
  proof_row("chance at the low end of the margin", lognormal, worst, quick.chance_percent.high,
            1e-6);
  field_unref(field);
}

/* Between its nodes the table is the surface integral, and no nearer than it is drawn: few bars
 * scatter further. */
static void test_table(void)
{
  Field *field = bar_field(10);
  static const struct {
    int bars;
    double error;
  } row[] = {{0, 1e-4}, {10, 2e-4}, {5, 2e-3}};
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    Material material = card();
    material.bar_count = row[i].bars;
    ChanceModel model;
    NeckLoad load = {400 * WIDTH * HEIGHT * HEIGHT / 6, 0};
    g_assert_cmpint(chance_model_make(field, load, &material, milled, &ten_years, &model), ==,
                    FAULT_NONE);
    double z[CHANCE_INPUTS] = {0}, strength = model.input[model.of[INPUT_STRENGTH]].range.value,
           factor = finish_factor(FINISH_AS_MILLED, FINISH_HIGH_POLISH, 1.25).value;
    for (double at = -3.3; at < 3.4; at += 0.6) {
      z[model.of[INPUT_MODULUS]] = at;
      const Range *r = &model.input[model.of[INPUT_MODULUS]].range;
      double end = at < 0 ? r->low : r->high,
             m = r->value * pow(end / r->value, fabs(at) / CHANCE_END_Z);
      double scale = strength * pow(bar_surface_four_point_quarter(20, 4, 3, m), 1 / m), risk;
      double sigma0[SURFACE_N] = {factor * scale, factor * scale, factor * scale, scale, scale};
      risk = weibull_surface_risk(field, load, sigma0, m);
      g_test_message("%d bars, m %.2f: %.2g", row[i].bars, m,
                     chance_at(&model, z).once.risk_log - log(risk));
      g_assert_cmpfloat(fabs(chance_at(&model, z).once.risk_log - log(risk)), <, row[i].error);
    }
  }
  field_unref(field);
}

/* The spread scatters as the card's number of bars says: few bars, a wider band. */
static void test_bars(void)
{
  Field *field = bar_field(10);
  double wide[3];
  static const int bars[] = {10, 30, 200};
  for (size_t i = 0; i < G_N_ELEMENTS(bars); i++) {
    Material material = card();
    material.bar_count = bars[i];
    ChanceModel model;
    NeckLoad load = {400 * WIDTH * HEIGHT * HEIGHT / 6, 0};
    g_assert_cmpint(chance_model_make(field, load, &material, milled, &ten_years, &model), ==,
                    FAULT_NONE);
    const ChanceInput *m = &model.input[model.of[INPUT_MODULUS]];
    Banded spread = bars_modulus_ratio(bars[i]);
    g_assert_cmpint(m->bars, ==, bars[i]);
    g_assert_cmpfloat(m->range.low, ==, 10 * spread.low);
    g_assert_cmpfloat(m->range.high, ==, 10 * spread.high);
    Banded chance = chance_band(&model, CHANCE_DRAWS).chance_percent;
    wide[i] = log(chance.high / chance.low);
  }
  g_assert_cmpfloat(wide[0], >, 1.02 * wide[1]);
  g_assert_cmpfloat(wide[1], >, wide[2]);
  field_unref(field);
}

static void test_drivers(void)
{
  Field *field = bar_field(10);
  ChanceModel model = model_of(field, 400);
  ChanceDriver driver[CHANCE_INPUTS];
  size_t n = chance_drivers(&model, driver);
  ChancePoint middle = chance_at(&model, NULL);
  g_assert_cmpuint(n, ==, 6); /* strength, m, the milled finish, n, threshold, bites */
  double before = INFINITY;
  for (size_t i = 0; i < n; i++) {
    double swing = fabs(log(driver[i].at_high.service.margin / driver[i].at_low.service.margin));
    g_assert_cmpfloat(swing, <=, before);
    before = swing;
    if (driver[i].input.kind == INPUT_STRENGTH) { /* a factor on strength is one on the margin */
      g_assert_cmpfloat(fabs(driver[i].at_high.once.margin / middle.once.margin - 1.15), <, 1e-9);
      g_assert_cmpfloat(fabs(driver[i].at_low.once.margin / middle.once.margin - 0.85), <, 1e-9);
    }
    if (driver[i].input.kind == INPUT_BITES)
      g_assert_cmpfloat(driver[i].at_high.service.margin, <=, driver[i].at_low.service.margin);
  }
  g_assert_cmpint(driver[0].input.kind, ==, INPUT_FINISH); /* 0 to +90 % */
  /* the same to the last bit, and the two ways of making a band agree */
  ChanceBand a = chance_band(&model, CHANCE_DRAWS), b = chance_band(&model, CHANCE_DRAWS),
             q = chance_band_quick(&model);
  g_assert_true(memcmp(&a, &b, sizeof a) == 0);
  g_assert_cmpfloat(a.service_margin.low, <, a.service_margin.value);
  g_assert_cmpfloat(fabs(a.margin.low / q.margin.low - 1), <, 0.1);
  g_assert_cmpfloat(fabs(a.margin.high / q.margin.high - 1), <, 0.1);
  g_assert_cmpfloat(a.service_chance_percent.value, >, a.chance_percent.value);
  field_unref(field);
}

static void test_refused(void)
{
  Field *field = bar_field(10);
  ChanceModel model;
  ChanceDriver driver[CHANCE_INPUTS];
  NeckLoad load = {1000, 0};
  Material m = card();
  m.strength_mpa = 0;
  g_assert_cmpint(chance_model_make(field, load, &m, milled, &ten_years, &model), ==, FAULT_RANGE);
  m = card();
  m.weibull = NAN;
  g_assert_cmpint(chance_model_make(field, load, &m, milled, &ten_years, &model), ==, FAULT_RANGE);
  m = card(); /* nothing pulled: no chance, no band, no driver */
  g_assert_cmpint(chance_model_make(field, (NeckLoad){0, 0}, &m, milled, &ten_years, &model), ==,
                  FAULT_NONE);
  ChanceBand band = chance_band(&model, 100);
  g_assert_cmpfloat(band.chance_percent.high, ==, 0);
  g_assert_cmpuint(chance_drivers(&model, driver), ==, 0);
  g_assert_cmpfloat(chance_band_quick(&model).service_chance_percent.high, ==, 0);
  field_unref(field);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/chance/meshed-bar", test_meshed_bar);
  g_test_add_func("/chance/service", test_service);
  g_test_add_func("/chance/scratch", test_scratch);
  g_test_add_func("/chance/band-exact", test_band_exact);
  g_test_add_func("/chance/table", test_table);
  g_test_add_func("/chance/bars", test_bars);
  g_test_add_func("/chance/drivers", test_drivers);
  g_test_add_func("/chance/refused", test_refused);
  return g_test_run();
}
