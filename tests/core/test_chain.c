/* test_chain.c - strokes of known radius, drawn by noisy pens: what is read, and how well it is
 * known. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  Jitter 0.15 mm (scatter 0.075 across the line), 8 mm/s, reports at 60, 120, 200 Hz.
 * A median over STROKES pens: one stroke scatters by far more, as its own standard error says. */
#include <glib.h>
#include "outline/chain.h"
#include "proof.h"
#include "synthetic_pen.h"
#include <stdlib.h>

#define STROKES 81
#define JITTER 0.15
static const Source DRAWN = {"the drawn corner, seeded noise", EXACT};

static int by_value(const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

static void corners(double radius, bool box, Outline *outline)
{
  Corner v[] = {{-4, 0, 0}, {-1.5, 0, 0.3}, {0, 2.8, radius}, {1.5, 0, 0.3}, {4, 0, 0}},
         u[] = {{-4, 0, 0},       {-1.4, 0, 0.3}, {-1, 2.2, radius},
                {1, 2.2, radius}, {1.4, 0, 0.3},  {4, 0, 0}};
  g_assert_cmpint(outline_from_corners(outline, box ? u : v, box ? 6 : 5), ==, FAULT_NONE);
}

static Fault chain_of(size_t n, double noise_mm, Chain *chain)
{
  g_autofree Point *p = g_new(Point, n);
  for (size_t i = 0; i < n; i++)
    p[i] = pen[i].at;
  return chain_fit(p, n, noise_mm, chain);
}

/* Median of the radii of all roof corners over the truth; *doubt the median of their standard
 * errors over the truth, *inside the share of strokes within two of them. */
static double median_radius(double radius, bool box, double rate, double *doubt, double *inside)
{
  double read[2 * STROKES], error[2 * STROKES];
  size_t n_read = 0, n_inside = 0;
  Outline truth = {0};
  corners(radius, box, &truth);
  for (guint32 seed = 1; seed <= STROKES; seed++) {
    Chain chain;
    size_t n = follow(&truth, SPEED / rate, rate, JITTER, seed % 2, 1000 + seed);
    g_assert_cmpint(chain_of(n, JITTER / 2, &chain), ==, FAULT_NONE);
    for (size_t k = 0; k < chain.n; k++)
      if (chain.corner[k].turn < 0 && n_read < G_N_ELEMENTS(read)) {
        n_inside += fabs(chain.corner[k].radius - radius) < 2 * chain.corner[k].doubt;
        error[n_read] = chain.corner[k].doubt / radius;
        read[n_read++] = chain.corner[k].radius / radius;
      }
  }
  outline_clear(&truth);
  g_assert_cmpuint(n_read, >=, STROKES);
  qsort(read, n_read, sizeof *read, by_value);
  qsort(error, n_read, sizeof *error, by_value);
  *doubt = error[n_read / 2];
  *inside = (double)n_inside / (double)n_read;
  return read[n_read / 2];
}

static void test_radius_of_a_point(void)
{
  static const double radii[] = {0.2, 0.3, 0.5, 0.9, 1.2};
  for (size_t i = 0; i < G_N_ELEMENTS(radii); i++)
    for (size_t h = 0; h < G_N_ELEMENTS(rates); h++) {
      double doubt, inside, read = median_radius(radii[i], false, rates[h], &doubt, &inside);
      g_autofree char *name = g_strdup_printf(
          "V r %.1f at %g Hz, jitter 0.15 mm: median of %d strokes (one stroke +-%.0f %%), mm",
          radii[i], rates[h], STROKES, 100 * doubt);
      proof_row(name, DRAWN, radii[i], read * radii[i], 5);
      g_assert_cmpfloat(inside, >, 0.8);
    }
}

/* The corners of a box turn by 80 degrees: the whole corner of r 0.2 is 0.06 mm away from a sharp
 * one, less than the noise.  The middle is right, one stroke says next to nothing, and its standard
 * error says so. */
static void test_radius_of_a_box(void)
{
  static const double radii[] = {0.2, 0.5};
  for (size_t i = 0; i < G_N_ELEMENTS(radii); i++)
    for (size_t h = 0; h < G_N_ELEMENTS(rates); h++) {
      double doubt, inside, read = median_radius(radii[i], true, rates[h], &doubt, &inside);
      g_autofree char *name =
          g_strdup_printf("box corner r %.1f at %g Hz, jitter 0.15 mm: median of %d strokes (one "
                          "corner +-%.0f %%), mm",
                          radii[i], rates[h], STROKES, 100 * doubt);
      proof_row(name, DRAWN, radii[i], read * radii[i], 15);
      g_assert_cmpfloat(doubt, >, radii[i] < 0.3 ? 0.5 : 0.2);
      g_assert_cmpfloat(inside, >, 0.8);
    }
}

/* Half a circle between two parallel legs: one arc. */
static void test_circle(void)
{
  static const double radii[] = {0.3, 0.6, 1.2};
  for (size_t i = 0; i < G_N_ELEMENTS(radii); i++) {
    double r = radii[i], read[STROKES];
    Outline truth = {0};
    g_assert_cmpint(outline_move_to(&truth, point(r, -2.5)), ==, FAULT_NONE);
    g_assert_cmpint(outline_line_to(&truth, point(r, 0)), ==, FAULT_NONE);
    g_assert_cmpint(outline_arc_to(&truth, point(0, 0), M_PI), ==, FAULT_NONE);
    g_assert_cmpint(outline_line_to(&truth, point(-r, -2.5)), ==, FAULT_NONE);
    for (guint32 seed = 1; seed <= STROKES; seed++) {
      Chain chain;
      size_t n = follow(&truth, SPEED / 120, 120, JITTER, seed % 2, seed);
      g_assert_cmpint(chain_of(n, JITTER / 2, &chain), ==, FAULT_NONE);
      double most = 0;
      read[seed - 1] = NAN;
      for (size_t k = 0; k < chain.n; k++)
        if (fabs(chain.corner[k].turn) > most) {
          most = fabs(chain.corner[k].turn);
          read[seed - 1] = chain.corner[k].radius;
        }
    }
    qsort(read, STROKES, sizeof *read, by_value);
    g_autofree char *name = g_strdup_printf(
        "half circle r %.1f at 120 Hz, jitter 0.15 mm: median of %d strokes, mm", r, STROKES);
    proof_row(name, DRAWN, r, read[STROKES / 2], 5);
    outline_clear(&truth);
  }
}

/* What no legs and arcs explain is refused: a slow wave, a parabola without noise. */
static void test_refused(void)
{
  Chain chain = {.leg = 7};
  for (int i = 0; i < 200; i++) {
    double x = 8.0 * i / 199 - 4;
    pen[i].at = point(x, 0.05 * sin(2 * M_PI * x / 1.1));
  }
  g_assert_cmpint(chain_of(200, 0.003, &chain), ==, FAULT_NO_CONVERGENCE);
  for (int i = 0; i < 200; i++)
    pen[i].at = point(0.03 * (i - 100), 0.25 * pow(0.03 * (i - 100), 2));
  g_assert_cmpint(chain_of(200, 1e-4, &chain), ==, FAULT_NO_CONVERGENCE);
  g_assert_cmpint(chain_of(5, 0.01, &chain), ==, FAULT_NO_CONVERGENCE);
  g_assert_cmpint(chain_of(200, 0, &chain), ==, FAULT_NO_CONVERGENCE);
  g_assert_cmpfloat(chain.leg, ==, 7);
}

int main(int argc, char *argv[])
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/chain/radius-of-a-point", test_radius_of_a_point);
  g_test_add_func("/chain/radius-of-a-box", test_radius_of_a_box);
  g_test_add_func("/chain/half-circle", test_circle);
  g_test_add_func("/chain/refused", test_refused);
  return g_test_run();
}
