/* test_tremor.c - strokes of a hand that trembles slowly: a wiggle becomes no notch, and what is no
 * wiggle stays.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  Tremor and jitter are invented (synthetic_pen.h); no published values exist for
 * this. Bounds: core/SOURCES.md "stroke". */
#include "outline/form.h"
#include "proof.h"
#include "synthetic_pen.h"

#define PHASES 8
#define JITTER 0.03

static int rising(const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

static double roof_of(const Outline *outline)
{
  Form form;
  g_assert_cmpint(form_roof_read(outline, &form), ==, FAULT_NONE);
  return form.roof_radius.value;
}

/* Shares of the true radius that PHASES strokes read, rising; returns how many lie below half. */
static int strokes_read(const Outline *truth, double swing, double rate, double share[PHASES])
{
  double radius = roof_of(truth);
  int sharp = 0;
  for (guint32 k = 0; k < PHASES; k++) {
    Outline fit = {0};
    size_t n = follow(truth, SPEED / rate, rate, JITTER, k % 2, 9000 + k);
    tremble(n, SPEED / rate, swing, k);
    g_assert_cmpint(stroke_fit(pen, n, NULL, &fit, NULL), ==, FAULT_NONE);
    share[k] = roof_of(&fit) / radius;
    sharp += share[k] < 0.5;
    outline_clear(&fit);
  }
  qsort(share, PHASES, sizeof *share, rising);
  return sharp;
}

/* Before: medians 0.2 to 0.7, up to 9 of 10 strokes below half of the truth (measured). */
static void test_no_notch(void)
{
  static const double radii[] = {0.3, 0.5, 0.9}, swings[] = {0.06, 0.09};
  for (int round = 0; round < 2; round++)
    for (size_t j = 0; j < G_N_ELEMENTS(swings); j++) {
      double all[G_N_ELEMENTS(radii) * PHASES];
      int sharp = 0;
      for (size_t i = 0; i < G_N_ELEMENTS(radii); i++) {
        double r = radii[i], lean = 8 * M_PI / 180, top = 2.5 + r * (1 / sin(lean) - 1),
               foot = top * tan(lean);
        Corner v[] = {{-4, 0, 0}, {-1.5, 0, 0.3}, {0, 2.8, r}, {1.5, 0, 0.3}, {4, 0, 0}},
               u[] = {{-4, 0, 0}, {-foot, 0, 0.3}, {0, top, r}, {foot, 0, 0.3}, {4, 0, 0}};
        Outline truth = {0};
        g_assert_cmpint(outline_from_corners(&truth, round ? u : v, 5), ==, FAULT_NONE);
        sharp += strokes_read(&truth, swings[j], 200, all + i * PHASES);
        outline_clear(&truth);
      }
      qsort(all, G_N_ELEMENTS(all), sizeof *all, rising);
      g_autofree char *name =
          g_strdup_printf("roof of a %s drawn by a hand that trembles by %.2f mm, share of its "
                          "radius, median",
                          round ? "U" : "V", swings[j]);
      proof_row(name, (Source){"the line that was followed; invented tremor", EXACT}, 1,
                all[G_N_ELEMENTS(all) / 2], 10);
      g_test_message("%d of %zu below half", sharp, G_N_ELEMENTS(all));
      g_assert_cmpint(8 * sharp, <=, (int)G_N_ELEMENTS(all));
    }
}

/* Lines that truly turn to and fro, drawn by a quiet hand, stay as they are: a wave 3 mm long, a
 * roof without arcs, a sharp V. */
static void test_shape_stays(void)
{
  for (int shape = 0; shape < 3; shape++) {
    Outline truth = {0}, fit = {0};
    Point at[401];
    for (int i = 0; i <= 400; i++) {
      double x = -4 + 0.02 * i, q = fmin(fabs(x) / 1.6, 1);
      at[i] = point(x, shape == 0 ? 0.3 * sin(2 * M_PI * x / 3) : 1.2 * (1 + cos(M_PI * q)));
    }
    Corner v[] = {{-4, 0, 0}, {-1.5, 0, 0.3}, {0, 2.8, 0.2}, {1.5, 0, 0.3}, {4, 0, 0}};
    g_assert_cmpint(shape < 2 ? outline_from_points(&truth, at, 401, false)
                              : outline_from_corners(&truth, v, 5),
                    ==, FAULT_NONE);
    for (guint32 seed = 1; seed <= 4; seed++) {
      size_t n = follow(&truth, SPEED / 120, 120, 0.01, seed % 2, seed);
      double off, most = 0;
      g_assert_cmpint(stroke_fit(pen, n, NULL, &fit, NULL), ==, FAULT_NONE);
      for (double t = 0.2; t < (double)outline_pieces(&truth) - 0.2; t += 0.1) {
        outline_nearest(&fit, outline_at(&truth, t), &off);
        most = fmax(most, off);
      }
      g_test_message("shape %d seed %u: off %.4f, %zu knots", shape, seed, most, fit.n);
      g_assert_cmpfloat(most, <, 0.06);
      StrokeSettings quick = stroke_settings_default();
      quick.quick = true; /* knows neither legs and arcs nor tremor */
      if (shape < 2) {
        Outline followed = {0};
        g_assert_cmpint(stroke_fit(pen, n, &quick, &followed, NULL), ==, FAULT_NONE);
        g_assert_true(outline_equal(&fit, &followed, 0));
        outline_clear(&followed);
      } else
        g_assert_cmpfloat_with_epsilon(roof_of(&fit), 0.2, 0.02);
      outline_clear(&fit);
    }
    outline_clear(&truth);
  }
}

/* Smoothing off, and while the pen is down: nothing is taken away. */
static void test_band_off(void)
{
  Corner ends[] = {{-4, 0, 0}, {4, 0, 0}};
  Outline truth = {0}, fit = {0};
  g_assert_cmpint(outline_from_corners(&truth, ends, 2), ==, FAULT_NONE);
  size_t n = follow(&truth, SPEED / 200, 200, 0, false, 1);
  tremble(n, SPEED / 200, 0.06, 1);
  for (int off = 0; off < 2; off++) {
    StrokeSettings settings = stroke_settings_default();
    settings.tolerance_mm = off ? 0 : 0.12;
    double most = 0;
    g_assert_cmpint(stroke_fit(pen, n, &settings, &fit, NULL), ==, FAULT_NONE);
    for (double t = 0; t < (double)outline_pieces(&fit); t += 1.0 / 16)
      most = fmax(most, fabs(outline_at(&fit, t).y));
    if (off)
      g_assert_cmpfloat(most, >, 0.05);
    else
      g_assert_cmpfloat(most, <, 0.03);
    outline_clear(&fit);
  }
  outline_clear(&truth);
}

int main(int argc, char *argv[])
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/tremor/no-notch", test_no_notch);
  g_test_add_func("/tremor/shape-stays", test_shape_stays);
  g_test_add_func("/tremor/band-off", test_band_off);
  return g_test_run();
}
