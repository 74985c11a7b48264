/* test_span.c - the bridge as a beam: statics, beam formulas, the reference bridge.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, N mm, MPa. */
#include "mechanics/section.h"
#include "mechanics/span.h"
#include "proof.h"

#define near(value, wanted, tolerance) g_assert_cmpfloat_with_epsilon(value, wanted, tolerance)

static const Source statics = {"statics", EXACT},
                    textbook = {"beam formulas of the textbooks", FROM_MEMORY},
                    bridge_solid = {"solid finite elements of a reference bridge", SOLVER};
static const double young = 210e3, poisson = 0.3, kappa = 5.0 / 6;

/* n equal units of a b x h bar without any notch; supports are set by the caller. */
static SpanInput bar(size_t n, double length, double b, double h)
{
  SpanInput in = {.n_unit = n, .young_mpa = young, .poisson = poisson};
  for (size_t i = 0; i < n; i++)
    in.unit[i] = (SpanUnit){
        .length = length, .area = b * h, .i_z = b * h * h * h / 12, .shear_factor = kappa};
  for (size_t i = 0; i + 1 < n; i++)
    in.neck[i] = (SpanNeck){.area = b * h,
                            .i_z = b * h * h * h / 12,
                            .shear_factor = kappa,
                            .height = h,
                            .body_height = h,
                            .half_length = 1};
  return in;
}

static void stand(SpanInput *in, size_t unit, double axial, double rotation)
{
  in->unit[unit].supported = 1;
  in->unit[unit].spring = (SpanSpring){axial, rotation};
}

static Span *made(const SpanInput *in, int pin_roller)
{
  Span *span = NULL;
  g_assert_cmpint(span_new(in, pin_roller, &span), ==, FAULT_NONE);
  return span;
}

static Fault sinking(const Span *span, const SpanLoad load[], size_t n, double x, double *down)
{
  SpanMove move = {0};
  Fault fault = span_deflection(span, load, n, x, &move);
  if (!fault)
    *down = move.down_mm;
  return fault;
}

static Fault acting(const Span *span, const SpanLoad load[], size_t n, double x, double *m,
                    double *v)
{
  NeckLoad action = {0};
  Fault fault = span_action(span, load, n, x, &action);
  if (!fault)
    *m = action.moment_n_mm, *v = action.shear_n;
  return fault;
}

static double moment(const Span *span, double at, double force, double x)
{
  NeckLoad action = {NAN, NAN};
  SpanLoad load = {at, force};
  g_assert_cmpint(span_action(span, &load, 1, x, &action), ==, FAULT_NONE);
  return action.moment_n_mm;
}

/* The bridge of the reference solution: necks 10 mm apart, supports 20 mm apart, 4.5 and 5.5 mm
 * outside the necks (that is what its two statically determinate moments say); place 0 of its table
 * lies 1 mm inside our first unit. */
#define SHIFT 1.0
static SpanInput reference_bridge(void)
{
  Section body, neck;
  g_assert_cmpint(section_superellipse(8, 8, 4, -0.5, &body), ==, FAULT_NONE);
  g_assert_cmpint(section_superellipse(4, 3.2, 2, 0, &neck), ==, FAULT_NONE);
  SpanInput in = {.n_unit = 3, .young_mpa = 205e3, .poisson = 0.31};
  const double length[3] = {9, 10, 11};
  for (size_t i = 0; i < 3; i++)
    in.unit[i] =
        (SpanUnit){.length = length[i], .area = body.area, .i_z = body.i_z, .shear_factor = 0.85};
  for (size_t i = 0; i < 2; i++)
    in.neck[i] = (SpanNeck){.area = neck.area,
                            .i_z = neck.i_z,
                            .shear_factor = 0.89,
                            .height = 4,
                            .body_height = 8,
                            .half_length = 1.5};
  for (size_t i = 0; i < 3; i += 2) {
    stand(&in, i, 3000, 50e3);
    in.unit[i].lateral_n_mm = 1000;
    in.unit[i].lever = 13;
  }
  return in;
}

/* Pin and roller: statically determinate, so exact (reference bridge, 550 N). */
static void test_reference_pinned(void)
{
  SpanInput in = reference_bridge();
  Span *span = made(&in, 1);
  double m1 = moment(span, 8 + SHIFT, 550, span_neck_x(span, 0)),
         m2 = moment(span, 18 + SHIFT, 550, span_neck_x(span, 1));
  proof_row_within("pin and roller, M1(8)", bridge_solid, 1918, m1, 0.5);
  proof_row_within("pin and roller, M2(18)", bridge_solid, 2193, m2, 0.5);
  proof_row_within("pin and roller, M1(8)", statics, 550 * 4.5 * 15.5 / 20, m1, 1e-2);
  span_free(span);
}

/* Mid support: solid finite elements, 550 N (reference bridge).  The lever of 13 mm was found from
 * this table: one number for eighteen values; the spring stiffnesses and the spread are those of
 * the source. */
static void test_reference_mid(void)
{
  static const double at[9] = {4, 6, 8, 10, 13, 16, 18, 20, 24};
  static const double wanted[2][9] = {{373, 1047, 1745, 1445, 1006, 575, 294, 99, -252},
                                      {-127, 85, 317, 636, 1125, 1622, 1960, 1297, 17}};
  SpanInput in = reference_bridge();
  Span *span = made(&in, 0);
  double square = 0;
  for (int k = 0; k < 2; k++)
    for (int i = 0; i < 9; i++) {
      double m = moment(span, at[i] + SHIFT, 550, span_neck_x(span, (size_t)k)), w = wanted[k][i];
      g_autofree char *what = g_strdup_printf("mid support, M%d(%g)", k + 1, at[i]);
      proof_row_within(what, bridge_solid, w, m, fabs(w) > 300 ? 0.05 * fabs(w) : 25);
      square += (m - w) * (m - w);
    }
  g_assert_cmpfloat(sqrt(square / 18), <, 16);
  span_free(span);
}

/* Without the springs along the arch the same bridge is less held: moments rise, never above the
 * rigid-body bound. */
static void test_thrust_relieves(void)
{
  SpanInput in = reference_bridge();
  Span *held = made(&in, 0);
  in.unit[0].lateral_n_mm = in.unit[2].lateral_n_mm = 0;
  Span *slides = made(&in, 0);
  double with = moment(held, 14, 550, 14), without = moment(slides, 14, 550, 14);
  g_assert_cmpfloat(with, <, without - 100);
  span_free(held);
  span_free(slides);
}

/* Two-hinged frame: uniform beam, hinges that do not sink, springs k along the arch at lever h.
 * Thrust by the force method (textbook): H = (h P L^2 / 8 EI) / (h^2 L / EI + L / EA + 2 / k). */
static void test_thrust_formula(void)
{
  SpanInput in = bar(3, 10, 4, 3);
  const double h = 7.3, k = 2385, force = 137;
  for (size_t i = 0; i < 3; i += 2) {
    stand(&in, i, INFINITY, 0);
    in.unit[i].lateral_n_mm = k;
    in.unit[i].lever = h;
  }
  Span *span = made(&in, 0);
  double ei = young * 9, ea = young * 12, l = 20;
  double thrust = h * force * l * l / 8 / ei / (h * h * l / ei + l / ea + 2 / k);
  proof_row_within("two-hinged frame, M mid span", textbook, force * l / 4 - thrust * h,
                   moment(span, 15, force, 15), 1e-3 * force * l / 4);
  span_free(span);
}

/* 3-point bar F 100, L 20, b 4, h 3, E 210 GPa: FL^3/48EI = 8.8183e-3 mm, FL/4kGA = 6.19e-4 mm
 * (published list, computed). */
static void test_three_point(void)
{
  SpanInput in = bar(3, 10, 4, 3);
  stand(&in, 0, INFINITY, 0);
  stand(&in, 2, INFINITY, 0);
  Span *span = made(&in, 0);
  SpanLoad load = {15, 100};
  double down = NAN;
  g_assert_cmpint(sinking(span, &load, 1, 15, &down), ==, FAULT_NONE);
  proof_row_within("three-point bar, deflection", textbook, 8.8183e-3 + 6.19e-4, down, 2e-6);
  proof_row_within("three-point bar, M mid span", statics, 500, moment(span, 15, 100, 15), 1e-3);
  double at_support = NAN;
  g_assert_cmpint(sinking(span, &load, 1, 5, &at_support), ==, FAULT_NONE);
  near(at_support, 0, 1e-6);
  span_free(span);
}

/* 4-point-1/4: M = F L / 8 between the loads; deflection P a (3 L^2 - 4 a^2) / 24 EI + P a / kGA
 * (textbook). */
static void test_four_point(void)
{
  SpanInput in = bar(3, 10, 4, 3);
  stand(&in, 0, INFINITY, 0);
  stand(&in, 2, INFINITY, 0);
  Span *span = made(&in, 0);
  SpanLoad load[2] = {{10, 50}, {20, 50}};
  for (double x = 10; x <= 20; x += 2.5) {
    double m = NAN, v = NAN;
    g_assert_cmpint(acting(span, load, 2, x, &m, &v), ==, FAULT_NONE);
    proof_row_within("four-point bar, M between the loads", statics, 100 * 20 / 8.0, m, 1e-3);
    if (x > 10 && x < 20)
      near(v, 0, 1e-4);
  }
  double down = NAN, g = young / 2.6;
  g_assert_cmpint(sinking(span, load, 2, 15, &down), ==, FAULT_NONE);
  proof_row_within("four-point bar, deflection", textbook,
                   50 * 5 * (3 * 400 - 4 * 25) / (24 * young * 9) + 50 * 5 / (kappa * g * 12), down,
                   2e-6);
  span_free(span);
}

/* A hanging unit on one clamped unit: M = -F d, tip F d^3 / 3EI + F d / kGA.  Round neck 3.5 mm,
 * 200 N at 7 mm: 332.60 MPa (published list, computed). */
static void test_cantilever(void)
{
  SpanInput in = bar(2, 10, 4, 3);
  stand(&in, 0, INFINITY, INFINITY);
  Span *span = made(&in, 0);
  double m = moment(span, 17, 200, 10);
  proof_row_within("cantilever, M at the neck", statics, -1400, m, 1e-3);
  proof_row_within("cantilever, round neck 3.5, stress", textbook, 332.60,
                   -m / (G_PI * pow(3.5, 3) / 32), 0.02);
  SpanLoad load = {20, 10};
  double down = NAN;
  g_assert_cmpint(sinking(span, &load, 1, 20, &down), ==, FAULT_NONE);
  proof_row_within("cantilever, tip deflection", textbook,
                   10 * pow(15, 3) / (3 * young * 9) + 10 * 15 / (kappa * young / 2.6 * 12), down,
                   1e-5);
  span_free(span);
}

/* Three supports, pin and roller: continuous beam, load in the middle of the first span: -3 P L /
 * 32 over the middle support (textbook; slender, so that shear does not count). */
static void test_continuous(void)
{
  SpanInput in = bar(3, 60, 1, 1);
  for (size_t i = 0; i < 3; i++)
    stand(&in, i, 1, 0);
  Span *span = made(&in, 1);
  proof_row_within("continuous beam, M over the middle support", textbook, -3.0 * 10 * 60 / 32,
                   moment(span, 60, 10, 90), 0.05);
  span_free(span);
}

/* Springs alone: a stiff bar on two springs sinks like a plank (statics). */
static void test_springs(void)
{
  SpanInput in = bar(3, 10, 40, 40);
  stand(&in, 0, 200, 0);
  stand(&in, 2, 300, 0);
  Span *span = made(&in, 0);
  SpanLoad load = {12, 100};
  double down = NAN, left = 100 * 13.0 / 20 / 200, right = 100 * 7.0 / 20 / 300;
  g_assert_cmpint(sinking(span, &load, 1, 9, &down), ==, FAULT_NONE);
  proof_row_within("plank on two springs, sinking", statics, left + (right - left) * 4 / 20, down,
                   2e-4);
  span_free(span);
}

/* The free end carries nothing; V is the slope of M; deflections are mutual (Maxwell); influence,
 * action and envelope agree. */
static void test_agreement(void)
{
  SpanInput in = reference_bridge();
  Span *span = made(&in, 0);
  SpanLoad load[3] = {{2.385, 213}, {13.77, 341}, {26.1, -87}};
  double m = NAN, v = NAN, near_m = NAN, near_v = NAN;
  g_assert_cmpint(acting(span, load, 3, span_length(span), &m, &v), ==, FAULT_NONE);
  near(m, 0, 0.02);
  near(v, 0, 0.01);
  g_assert_cmpint(acting(span, load, 3, 11, &m, &v), ==, FAULT_NONE);
  g_assert_cmpint(acting(span, load, 3, 11.1, &near_m, &near_v), ==, FAULT_NONE);
  near((near_m - m) / 0.1, v, 1e-6);
  double ab, ba;
  g_assert_cmpint(sinking(span, &(SpanLoad){7.3, 100}, 1, 22.9, &ab), ==, FAULT_NONE);
  g_assert_cmpint(sinking(span, &(SpanLoad){22.9, 100}, 1, 7.3, &ba), ==, FAULT_NONE);
  near(ab, ba, 1e-6 * fabs(ab));

  double x[61], line[61], shear[61];
  SpanEnvelope envelope = {0};
  g_assert_cmpint(span_influence(span, 1, 61, x, line, shear), ==, FAULT_NONE);
  g_assert_cmpint(span_sweep(span, 1, 550, 0, 7, &envelope), ==, FAULT_NONE);
  g_assert_cmpuint(envelope.n, ==, 2);
  const SpanExtreme *most = &envelope.at[0], *least = &envelope.at[1];
  g_assert_cmpuint(least->load_case, ==, 7);
  for (int i = 0; i < 61; i++) {
    near(550 * line[i], moment(span, x[i], 550, span_neck_x(span, 1)), 1e-6);
    g_assert_cmpfloat(550 * line[i], <=, most->load.moment_n_mm + 1);
    g_assert_cmpfloat(550 * line[i], >=, least->load.moment_n_mm - 1);
  }
  near(most->x, span_neck_x(span, 1), 0.2); /* the worst place lies over the connector */
  near(moment(span, least->x, 550, span_neck_x(span, 1)), least->load.moment_n_mm, 1e-6);
  g_assert_cmpfloat(least->load.moment_n_mm, <, -100);
  span_free(span);
}

/* A notch softens the bar, and a longer notch more; the limit of spread keeps a short one from
 * vanishing. */
static void test_spread(void)
{
  double down[3];
  for (int k = 0; k < 3; k++) {
    SpanInput in = bar(3, 10, 8, 8);
    stand(&in, 0, INFINITY, 0);
    stand(&in, 2, INFINITY, 0);
    if (k > 0)
      for (size_t i = 0; i < 2; i++)
        in.neck[i] = (SpanNeck){.area = 12,
                                .i_z = 16,
                                .shear_factor = kappa,
                                .height = 4,
                                .body_height = 8,
                                .half_length = k == 1 ? 0.01 : 9};
    Span *span = made(&in, 0);
    g_assert_cmpint(sinking(span, &(SpanLoad){15, 100}, 1, 15, &down[k]), ==, FAULT_NONE);
    span_free(span);
  }
  g_assert_cmpfloat(down[1], >, 1.5 * down[0]);
  g_assert_cmpfloat(down[2], >, 1.1 * down[1]);
}

static void test_loose(void)
{
  Span *span = NULL;
  SpanInput in = bar(3, 10, 4, 3);
  g_assert_cmpint(span_new(&in, 0, &span), ==, FAULT_SUPPORT); /* nothing */
  stand(&in, 0, 3000, 0);
  g_assert_cmpint(span_new(&in, 0, &span), ==, FAULT_SUPPORT); /* one hinge */
  g_assert_cmpint(span_new(&in, 1, &span), ==, FAULT_SUPPORT);
  stand(&in, 2, 0, 50e3); /* one hinge and one that slides down freely */
  g_assert_cmpint(span_new(&in, 0, &span), ==, FAULT_SUPPORT);
  g_assert_null(span);
  stand(&in, 0, INFINITY, INFINITY); /* one that is clamped is enough */
  in.unit[2].supported = 0;
  span_free(made(&in, 0));
  span_free(NULL);
}

static void test_refuses(void)
{
  Span *span = NULL;
  SpanInput good = bar(2, 10, 4, 3);
  stand(&good, 0, 3000, 50e3);
  double *field[] = {&good.young_mpa,           &good.poisson,
                     &good.unit[1].length,      &good.unit[0].area,
                     &good.unit[0].i_z,         &good.neck[0].area,
                     &good.neck[0].half_length, &good.neck[0].height,
                     &good.unit[0].lever,       &good.unit[0].spring.axial_n_mm,
                     &good.unit[0].lateral_n_mm};
  const double bad[] = {NAN, -1, -INFINITY};
  for (size_t f = 0; f < G_N_ELEMENTS(field); f++)
    for (size_t k = 0; k < G_N_ELEMENTS(bad); k++) {
      double kept = *field[f];
      *field[f] = bad[k];
      g_assert_cmpint(span_new(&good, 0, &span), ==, FAULT_RANGE);
      *field[f] = kept;
    }
  good.n_unit = 0;
  g_assert_cmpint(span_new(&good, 0, &span), ==, FAULT_RANGE);
  good.n_unit = SPAN_MAX_UNITS + 1;
  g_assert_cmpint(span_new(&good, 0, &span), ==, FAULT_RANGE);
  good.n_unit = 2;
  span = made(&good, 0);
  double m = 7, v = 7;
  SpanLoad far = {21, 100}, strange = {NAN, 100};
  g_assert_cmpint(acting(span, &far, 1, 5, &m, &v), ==, FAULT_RANGE);
  g_assert_cmpint(acting(span, &strange, 1, 5, &m, &v), ==, FAULT_RANGE);
  g_assert_cmpint(acting(span, &far, 0, NAN, &m, &v), ==, FAULT_RANGE);
  g_assert_cmpint(span_influence(span, 1, 5, &m, &m, &m), ==, FAULT_RANGE);
  g_assert_cmpint(span_sweep(span, 0, NAN, 0, 0, &(SpanEnvelope){0}), ==, FAULT_RANGE);
  g_assert_cmpfloat(m, ==, 7);
  g_assert_true(isnan(span_neck_x(span, 1)));
  span_free(span);
}

/* The largest bridge allowed still solves. */
static void test_largest(void)
{
  SpanInput in = bar(SPAN_MAX_UNITS, 100, 8, 8);
  for (size_t i = 0; i < SPAN_MAX_UNITS; i += 3)
    stand(&in, i, 3000, 50e3);
  Span *span = made(&in, 0);
  double m, v;
  g_assert_cmpint(acting(span, &(SpanLoad){800, 500}, 1, 1600, &m, &v), ==, FAULT_NONE);
  near(v, 0, 0.5);
  span_free(span);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/span/reference_pinned", test_reference_pinned);
  g_test_add_func("/span/reference_mid", test_reference_mid);
  g_test_add_func("/span/thrust_relieves", test_thrust_relieves);
  g_test_add_func("/span/thrust_formula", test_thrust_formula);
  g_test_add_func("/span/three_point", test_three_point);
  g_test_add_func("/span/four_point", test_four_point);
  g_test_add_func("/span/cantilever", test_cantilever);
  g_test_add_func("/span/continuous", test_continuous);
  g_test_add_func("/span/springs", test_springs);
  g_test_add_func("/span/agreement", test_agreement);
  g_test_add_func("/span/spread", test_spread);
  g_test_add_func("/span/loose", test_loose);
  g_test_add_func("/span/refuses", test_refuses);
  g_test_add_func("/span/largest", test_largest);
  return g_test_run();
}
