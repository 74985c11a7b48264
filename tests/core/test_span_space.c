/* test_span_space.c - the beam in space: curved bars in closed form, statics, mutual moves.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, N mm, MPa. */
#include "mechanics/section.h"
#include "mechanics/span.h"
#include "proof.h"

static const Source statics = {"statics", EXACT},
                    curved = {"circular bar under an end load (Roark, Timoshenko)", FROM_MEMORY},
                    textbook = {"beam formulas of the textbooks", FROM_MEMORY},
                    betti = {"Maxwell and Betti: work is mutual", EXACT};
static const double young = 210e3, poisson = 0.3, kappa = 0.9;

/* n units of a round bar of diameter d, in space. */
static SpanInput rod(size_t n, double length, double d)
{
  double area = G_PI * d * d / 4, i = G_PI * pow(d, 4) / 64;
  SpanInput in = {.n_unit = n, .young_mpa = young, .poisson = poisson, .space = true};
  for (size_t k = 0; k < n; k++)
    in.unit[k] = (SpanUnit){.length = length,
                            .area = area,
                            .i_z = i,
                            .shear_factor = kappa,
                            .i_y = i,
                            .torsion = 2 * i};
  for (size_t k = 0; k + 1 < n; k++)
    in.neck[k] = (SpanNeck){.area = area,
                            .i_z = i,
                            .shear_factor = kappa,
                            .height = d,
                            .body_height = d,
                            .half_length = 1,
                            .i_y = i,
                            .torsion = 2 * i};
  return in;
}

static void stand(SpanUnit *unit, double axial, double rotation, double cheek, double twist)
{
  unit->supported = 1;
  unit->spring = (SpanSpring){axial, rotation};
  unit->cheek_n_mm = cheek;
  unit->twist_n_mm_rad = unit->yaw_n_mm_rad = twist;
}

static Span *made(const SpanInput *in, int pin_roller)
{
  Span *span = NULL;
  g_assert_cmpint(span_new(in, pin_roller, &span), ==, FAULT_NONE);
  return span;
}

static NeckLoad action(const Span *span, const SpanLoad load[], size_t n, double x)
{
  NeckLoad at = {0};
  g_assert_cmpint(span_action(span, load, n, x, &at), ==, FAULT_NONE);
  return at;
}

static SpanMove move(const Span *span, const SpanLoad load[], size_t n, double x)
{
  SpanMove at = {0};
  g_assert_cmpint(span_deflection(span, load, n, x, &at), ==, FAULT_NONE);
  return at;
}

/* A quarter circle clamped at one end, pressed at the other. Angle phi from the load: straight down
 * M = -P R sin phi, T = P R (1 - cos phi), sinking P R^3 (pi / 4 EI + (3 pi / 4 - 2) / GJ) + shear;
 * in its own plane M = F R sin phi, moving F R^3 pi / 4 EI + F R pi / 4 (1 / EA + 1 / kGA). */
static void test_quarter_circle(void)
{
  const double radius = 13.7, force = 113, unit = G_PI * radius / 3; /* 1.5 units are a quarter */
  SpanInput in = rod(2, unit, 3);
  stand(&in.unit[0], INFINITY, INFINITY, INFINITY, INFINITY);
  in.unit[0].lateral_n_mm = INFINITY;
  in.turn_1_mm = 1 / radius;
  Span *span = made(&in, 0);
  const double tip = 2 * unit, g = young / 2.6, i = in.unit[0].i_z, area = in.unit[0].area;
  SpanLoad down = {.x = tip, .force_n = force}, cheek = {.x = tip, .cheek_n = force};
  for (int k = 1; k <= 3; k++) {
    double phi = k * 29.0 / 180 * G_PI, x = tip - radius * phi, whole = force * radius;
    NeckLoad at = action(span, &down, 1, x), side = action(span, &cheek, 1, x);
    g_autofree char *m = g_strdup_printf("quarter circle pressed down, M at %d degrees", 29 * k),
                    *t = g_strdup_printf("quarter circle pressed down, T at %d degrees", 29 * k),
                    *l = g_strdup_printf("quarter circle pushed aside, L at %d degrees", 29 * k);
    proof_row_within(m, curved, -whole * sin(phi), at.moment_n_mm, 0.002 * whole);
    proof_row_within(t, curved, -whole * (1 - cos(phi)), at.torsion_n_mm, 0.002 * whole);
    proof_row_within(l, curved, -whole * sin(phi), side.lateral_n_mm, 0.002 * whole);
    g_assert_cmpfloat(fabs(at.lateral_n_mm) + fabs(side.moment_n_mm), <, 1e-6 * whole);
  }
  double bend = force * pow(radius, 3) / (young * i), shear = force * radius / (kappa * g * area);
  double sinks = bend * G_PI / 4 + force * pow(radius, 3) / (g * 2 * i) * (3 * G_PI / 4 - 2) +
                 shear * G_PI / 2;
  proof_row("quarter circle pressed down, sinking", curved, sinks,
            move(span, &down, 1, tip).down_mm, 0.1);
  proof_row("quarter circle pushed aside, moving", curved,
            (bend + shear + force * radius / (young * area)) * G_PI / 4,
            move(span, &cheek, 1, tip).cheek_mm, 0.1);
  span_free(span);
}

/* A straight beam on two forks under a leaning load in its middle: P cos / 4 L, P sin / 4 L, and
 * half the twist of the load that stands above the axis on either side. */
static void test_leaning(void)
{
  SpanInput in = rod(3, 10, 4);
  for (size_t k = 0; k < 3; k++)
    in.unit[k].edge = 3.5;
  in.neck[1].rise = -0.7;
  stand(&in.unit[0], 1, 0, 1, 1);
  stand(&in.unit[2], 1, 0, 1, 1);
  Span *span = made(&in, 1);
  const double lean = 30 * G_PI / 180, force = 600, p = force * cos(lean), q = force * sin(lean);
  SpanLoad load = {.x = 15, .force_n = p, .cheek_n = q};
  NeckLoad middle = action(span, &load, 1, 15), left = action(span, &load, 1, 12),
           neck = action(span, &load, 1, span_neck_x(span, 1));
  proof_row("leaning load, M mid span", statics, p * 20 / 4, middle.moment_n_mm, 0.01);
  proof_row("leaning load, L mid span", statics, q * 20 / 4, middle.lateral_n_mm, 0.01);
  proof_row("leaning load, T before it", statics, q * 3.5 / 2, left.torsion_n_mm, 0.01);
  /* behind it, about a centroid 0.7 below the axis */
  proof_row("leaning load, T at a lower neck", statics, -q * 3.5 / 2 - q / 2 * 0.7,
            neck.torsion_n_mm, 0.01);
  proof_row("leaning load, V before it", statics, p / 2, left.shear_n, 0.01);
  proof_row("leaning load, Q before it", statics, q / 2, left.lateral_shear_n, 0.01);
  double i = in.unit[0].i_y, area = in.unit[0].area;
  proof_row("leaning load, moving aside", textbook,
            q * pow(20, 3) / (48 * young * i) + q * 20 / (4 * kappa * young / 2.6 * area),
            move(span, &load, 1, 15).cheek_mm, 0.1);
  span_free(span);
}

/* Three bodies of a bridge on springs, bowed. */
static SpanInput bowed(void)
{
  Section body, neck;
  g_assert_cmpint(section_superellipse(8, 7, 4, 0, &body), ==, FAULT_NONE);
  g_assert_cmpint(section_superellipse(4, 3.2, 2, 0, &neck), ==, FAULT_NONE);
  SpanInput in = {.n_unit = 4, .young_mpa = 205e3, .poisson = 0.31, .space = true};
  for (size_t k = 0; k < 4; k++)
    in.unit[k] = (SpanUnit){.length = 7 + (double)k,
                            .area = body.area,
                            .i_z = body.i_z,
                            .shear_factor = 0.85,
                            .i_y = body.i_y,
                            .torsion = body.torsion,
                            .lateral_n_mm = 1000,
                            .lever = 12,
                            .edge = 4};
  for (size_t k = 0; k < 3; k++)
    in.neck[k] = (SpanNeck){.area = neck.area,
                            .i_z = neck.i_z,
                            .shear_factor = 0.89,
                            .height = 4,
                            .body_height = 8,
                            .half_length = 1.5,
                            .i_y = neck.i_y,
                            .torsion = neck.torsion,
                            .rise = 0.3};
  stand(&in.unit[0], 3000, 50e3, 1000, 50e3);
  stand(&in.unit[2], 1000, 10e3, 300, 10e3);
  stand(&in.unit[3], 10000, 200e3, 3000, 200e3);
  in.turn_1_mm = 1 / 21.3;
  return in;
}

/* Behind the last unit nothing is carried: all forces and moments balance; M, L and T change along
 * the arch as equilibrium of a circular bar asks: dM/ds = V - T/R, dT/ds = M/R, dL/ds = Q + N/R. */
static void test_statics(void)
{
  SpanInput in = bowed();
  Span *span = made(&in, 0);
  const SpanLoad load[3] = {{4.385, 213, -80}, {13.77, 341, 150}, {30.1, -87, 33}};
  NeckLoad end = action(span, load, 3, span_length(span));
  g_assert_cmpfloat(fabs(end.moment_n_mm), <, 0.02);
  g_assert_cmpfloat(fabs(end.lateral_n_mm), <, 0.02);
  g_assert_cmpfloat(fabs(end.torsion_n_mm), <, 0.02);
  g_assert_cmpfloat(fabs(end.shear_n) + fabs(end.lateral_shear_n), <, 0.01);
  const double x = 20, step = 0.2;
  NeckLoad a = action(span, load, 3, x - step), b = action(span, load, 3, x),
           c = action(span, load, 3, x + step);
  proof_row("bowed bridge, dM/ds", statics, b.shear_n + b.torsion_n_mm * in.turn_1_mm,
            (c.moment_n_mm - a.moment_n_mm) / (2 * step), 0.5);
  proof_row("bowed bridge, dT/ds", statics, -b.moment_n_mm * in.turn_1_mm,
            (c.torsion_n_mm - a.torsion_n_mm) / (2 * step), 0.5);
  span_free(span);
}

static double work(const SpanLoad *load, SpanMove move, double edge)
{
  return load->force_n * move.down_mm + load->cheek_n * (move.cheek_mm + edge * move.twist_rad);
}

static void test_mutual(void)
{
  SpanInput in = bowed();
  Span *span = made(&in, 0);
  const SpanLoad a = {5.3, 211, 97}, b = {27.1, 132, -171};
  proof_row("bowed bridge, work of one load on the other's way", betti,
            work(&a, move(span, &b, 1, a.x), 4), work(&b, move(span, &a, 1, b.x), 4), 1e-4);
  span_free(span);
}

/* Straight and pressed straight down, the beam in space is the flat one. */
static void test_straight(void)
{
  SpanInput in = bowed();
  in.turn_1_mm = 0;
  for (int pin = 0; pin < 2; pin++) {
    in.space = true;
    Span *space = made(&in, pin);
    in.space = false;
    Span *flat = made(&in, pin);
    const SpanLoad load = {13.3, 550};
    for (double x = 2; x < 30; x += 3.1) {
      NeckLoad s = action(space, &load, 1, x), f = action(flat, &load, 1, x);
      g_assert_cmpfloat(fabs(s.moment_n_mm - f.moment_n_mm), <, 1e-6);
      g_assert_cmpfloat(fabs(s.shear_n - f.shear_n), <, 1e-6);
      g_assert_false(neck_load_odd(&f));
      g_assert_cmpfloat(fabs(s.torsion_n_mm) + fabs(s.lateral_n_mm), <, 1e-6);
    }
    span_free(space);
    span_free(flat);
  }
}

/* Extremes of a swept leaning load are reached, and never passed. */
static void test_sweep(void)
{
  SpanInput in = bowed();
  Span *span = made(&in, 0);
  SpanEnvelope e = {0};
  g_assert_cmpint(span_sweep(span, 1, 520, 300, 3, &e), ==, FAULT_NONE);
  g_assert_cmpuint(e.n, ==, SPAN_EXTREMES);
  for (double x = 0; x <= span_length(span); x += 0.7) {
    SpanLoad load = {x, 520, 300};
    NeckLoad at = action(span, &load, 1, span_neck_x(span, 1));
    const double slack = 2;
    g_assert_cmpfloat(at.moment_n_mm, <=, e.at[0].load.moment_n_mm + slack);
    g_assert_cmpfloat(at.moment_n_mm, >=, e.at[1].load.moment_n_mm - slack);
    g_assert_cmpfloat(at.lateral_n_mm, <=, e.at[2].load.lateral_n_mm + slack);
    g_assert_cmpfloat(at.lateral_n_mm, >=, e.at[3].load.lateral_n_mm - slack);
    g_assert_cmpfloat(at.torsion_n_mm, <=, e.at[4].load.torsion_n_mm + slack);
    g_assert_cmpfloat(at.torsion_n_mm, >=, e.at[5].load.torsion_n_mm - slack);
  }
  SpanLoad there = {e.at[4].x, 520, 300};
  NeckLoad again = action(span, &there, 1, span_neck_x(span, 1));
  g_assert_cmpfloat(fabs(again.torsion_n_mm - e.at[4].load.torsion_n_mm), <, 1e-6);
  span_free(span);
}

/* Half a circle over two units of the middles 0, 10 and 20: R = 20 / pi. */
static void test_bow(void)
{
  const double at[3] = {5, 15, 25};
  double turn = NAN;
  g_assert_cmpint(span_turn_of_bow(at, 3, 20 / G_PI * (1 - 1e-9), &turn), ==, FAULT_NONE);
  proof_row("bow of half a circle, 1 / R", statics, G_PI / 20, turn, 0.01);
  g_assert_cmpint(span_turn_of_bow(at, 3, 60 / G_PI * (1 - cos(G_PI / 6)), &turn), ==,
                  FAULT_NONE); /* a sixth of a circle: half the angle is 30 degrees */
  proof_row("bow of a sixth of a circle, 1 / R", statics, G_PI / 3 / 20, turn, 0.01);
  g_assert_cmpint(span_turn_of_bow(at, 3, 6.4, &turn), ==, FAULT_RANGE);
  g_assert_cmpint(span_turn_of_bow(at, 3, NAN, &turn), ==, FAULT_RANGE);
  g_assert_cmpint(span_turn_of_bow(at, 3, 0, &turn), ==, FAULT_NONE);
  g_assert_cmpfloat(turn, ==, 0);
}

static void test_refuses(void)
{
  SpanInput in = bowed();
  Span *span = NULL;
  in.space = false; /* a flat beam is neither bowed ... */
  g_assert_cmpint(span_new(&in, 0, &span), ==, FAULT_RANGE);
  in.turn_1_mm = 0;
  span = made(&in, 0);
  const SpanLoad aside = {10, 100, 1}; /* ... nor pushed aside */
  NeckLoad at = {.moment_n_mm = 7};
  g_assert_cmpint(span_action(span, &aside, 1, 12, &at), ==, FAULT_RANGE);
  g_assert_cmpint(span_sweep(span, 0, 100, 1, 0, &(SpanEnvelope){0}), ==, FAULT_RANGE);
  g_assert_cmpfloat(at.moment_n_mm, ==, 7);
  span_free(span);
  span = NULL;
  in = bowed();
  double *field[] = {&in.unit[1].i_y,           &in.unit[2].torsion, &in.neck[0].i_y,
                     &in.neck[1].torsion,       &in.unit[0].edge,    &in.unit[0].cheek_n_mm,
                     &in.unit[2].twist_n_mm_rad};
  for (size_t f = 0; f < G_N_ELEMENTS(field); f++) {
    double kept = *field[f];
    for (int k = 0; k < 2; k++) {
      *field[f] = k ? NAN : -1;
      g_assert_cmpint(span_new(&in, 0, &span), ==, FAULT_RANGE);
    }
    *field[f] = kept;
  }
  in.turn_1_mm = 1;
  g_assert_cmpint(span_new(&in, 0, &span), ==, FAULT_RANGE);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/span-space/quarter-circle", test_quarter_circle);
  g_test_add_func("/span-space/leaning", test_leaning);
  g_test_add_func("/span-space/statics", test_statics);
  g_test_add_func("/span-space/mutual", test_mutual);
  g_test_add_func("/span-space/straight", test_straight);
  g_test_add_func("/span-space/sweep", test_sweep);
  g_test_add_func("/span-space/bow", test_bow);
  g_test_add_func("/span-space/refuses", test_refuses);
  return g_test_run();
}
