/* test_field.c - principal stresses, peaks and shades of unit loads.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * MPa; components xx yy zz xy yz zx. */
#include "mechanics/field.h"
#include <glib.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static void near(double value, double wanted, double tolerance)
{
  if (tolerance == 0) /* the library's check is strict: no distance is below nothing */
    g_assert_cmpfloat(value, ==, wanted);
  else
    g_assert_cmpfloat_with_epsilon(value, wanted, tolerance);
}

/* Eigenvalues and vectors of a symmetric 3 x 3 matrix by Jacobi rotations: slow, sure, and not the
 * formula under test. */
static void jacobi(const double s[6], double value[3], double vector[3][3])
{
  double a[3][3] = {{s[0], s[3], s[5]}, {s[3], s[1], s[4]}, {s[5], s[4], s[2]}};
  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++)
      vector[i][j] = i == j;
  for (int sweep = 0; sweep < 60; sweep++)
    for (int p = 0; p < 2; p++)
      for (int q = p + 1; q < 3; q++) {
        if (a[p][q] == 0)
          continue;
        double angle = 0.5 * atan2(2 * a[p][q], a[q][q] - a[p][p]), c = cos(angle), n = sin(angle);
        for (int k = 0; k < 3; k++) {
          double x = a[k][p], y = a[k][q];
          a[k][p] = c * x - n * y;
          a[k][q] = n * x + c * y;
        }
        for (int k = 0; k < 3; k++) {
          double x = a[p][k], y = a[q][k];
          a[p][k] = c * x - n * y;
          a[q][k] = n * x + c * y;
          x = vector[k][p], y = vector[k][q];
          vector[k][p] = c * x - n * y;
          vector[k][q] = n * x + c * y;
        }
      }
  for (int i = 0; i < 3; i++)
    value[i] = a[i][i];
}

static void extremes(const double s[6], double *first, double *third, double direction[3])
{
  double value[3], vector[3][3];
  jacobi(s, value, vector);
  int high = 0, low = 0;
  for (int i = 1; i < 3; i++) {
    high = value[i] > value[high] ? i : high;
    low = value[i] < value[low] ? i : low;
  }
  *first = value[high];
  *third = value[low];
  for (int k = 0; k < 3; k++)
    direction[k] = vector[k][high];
}

static void random_tensor(GRand *rand, double s[6])
{
  for (int i = 0; i < 6; i++)
    s[i] = g_rand_double_range(rand, -1000, 1000);
}

static void test_principal_random(void)
{
  GRand *rand = g_rand_new_with_seed(2385);
  for (int k = 0; k < 5000; k++) {
    double s[6], first, third, d[3];
    random_tensor(rand, s);
    extremes(s, &first, &third, d);
    near(stress_first(s), first, 1e-8);
    g_assert_true(stress_below(s, first + 1e-6 * fmax(1, fabs(first))));
    g_assert_false(stress_below(s, first - 1e-6 * fmax(1, fabs(first))));
    near(stress_third(s), third, 1e-8);
  }
  g_rand_free(rand);
}

/* Where formulas lose digits: equal values, one pull, none, far from zero. */
static void test_principal_degenerate(void)
{
  static const double row[][8] = {
      /* six components, first, third */
      {0, 0, 0, 0, 0, 0, 0, 0},     {7, 7, 7, 0, 0, 0, 7, 7},      {5, 0, 0, 0, 0, 0, 5, 0},
      {-5, 0, 0, 0, 0, 0, 0, -5},   {3, 3, -8, 0, 0, 0, 3, -8},    {0, 0, 0, 4, 0, 0, 4, -4},
      {0, 0, 0, 0, 4, 0, 4, -4},    {0, 0, 0, 0, 0, 4, 4, -4},     {1, 1, 1, 1, 1, 1, 3, 0},
      {10, 40, 0, 20, 0, 0, 50, 0}, {1e-9, 0, 0, 0, 0, 0, 1e-9, 0}};
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    double tolerance = 1e-7 * (fabs(row[i][6]) + fabs(row[i][7]));
    near(stress_first(row[i]), row[i][6], tolerance + 1e-15);
    near(stress_third(row[i]), row[i][7], tolerance + 1e-15);
  }
}

static void put(float to[UNIT_LOAD_N][6], const double bend[6], const double shear[6])
{
  for (int i = 0; i < 6; i++) {
    to[UNIT_BEND][i] = (float)bend[i];
    to[UNIT_SHEAR][i] = (float)shear[i];
  }
}

static Field *random_field(GRand *rand, size_t n)
{
  Field *field = field_new();
  g_assert_nonnull(field);
  field->n_candidate = n;
  field->candidate = calloc(n, sizeof *field->candidate);
  field->band_percent = 3;
  for (size_t i = 0; i < n; i++) {
    PeakCandidate *c = &field->candidate[i];
    double bend[6], shear[6];
    random_tensor(rand, bend);
    random_tensor(rand, shear);
    put(c->direct, bend, shear);
    for (int k = 0; k < 6; k++) {
      bend[k] *= 1.02;
      shear[k] *= 1.02;
    }
    put(c->extrapolated, bend, shear);
    for (int k = 0; k < 6; k++) {
      bend[k] *= 0.7;
      shear[k] *= 0.7;
    }
    put(c->mean, bend, shear);
    c->at = (Vec3){(double)i, -(double)i, 0.5};
    c->zone = (uint8_t)(i % SURFACE_N);
  }
  return field;
}

static void stress_of(float unit[UNIT_LOAD_N][6], NeckLoad load, double s[6])
{
  for (int i = 0; i < 6; i++)
    s[i] =
        load.moment_n_mm * (double)unit[UNIT_BEND][i] + load.shear_n * (double)unit[UNIT_SHEAR][i];
}

/* The peak is the largest mean of both recoveries, found by looking at all of them; its direction
 * is Jacobi's. */
static void test_peak(void)
{
  GRand *rand = g_rand_new_with_seed(31);
  Field *field = random_field(rand, 200);
  for (int k = 0; k < 50; k++) {
    NeckLoad load = {g_rand_double_range(rand, -2, 2), g_rand_double_range(rand, -2, 2)};
    Peak peak;
    g_assert_cmpint(field_peak(field, load, &peak), ==, FAULT_NONE);
    double best = -INFINITY, direction[3] = {0}, inner = 0;
    size_t where = 0;
    for (size_t i = 0; i < field->n_candidate; i++) {
      double a[6], b[6], mean[6], first, other, third, d[3], e[3];
      stress_of(field->candidate[i].direct, load, a);
      stress_of(field->candidate[i].extrapolated, load, b);
      stress_of(field->candidate[i].mean, load, mean);
      extremes(a, &first, &third, d);
      extremes(b, &other, &third, e);
      if ((first + other) / 2 > best) {
        best = (first + other) / 2;
        where = i;
        memcpy(direction, d, sizeof d);
        extremes(mean, &inner, &third, e);
      }
    }
    near(peak.mpa, best, 1e-6 * best);
    near(peak.mean_mpa, inner, 1e-6 * best);
    near(peak.at.x, (double)where, 1e-12);
    g_assert_cmpuint(peak.zone, ==, where % SURFACE_N);
    double dot = 0, length = 0;
    for (int i = 0; i < 3; i++) {
      dot += peak.direction[i] * direction[i];
      length += peak.direction[i] * peak.direction[i];
    }
    near(length, 1, 1e-12);
    near(fabs(dot), 1, 1e-6);
    g_assert_cmpfloat(peak.band_percent, >=, field->band_percent);
  }
  field_unref(field);
  g_rand_free(rand);
}

/* Recoveries that disagree widen the band (core/SOURCES.md "solid, band": a quarter of the
 * difference). */
static void test_band(void)
{
  Field *field = field_new();
  field->n_candidate = 1;
  field->candidate = calloc(1, sizeof *field->candidate);
  field->band_percent = 3;
  field->candidate[0].direct[UNIT_BEND][0] = 80;
  field->candidate[0].extrapolated[UNIT_BEND][0] = 120;
  Peak peak;
  g_assert_cmpint(field_peak(field, (NeckLoad){1, 0}, &peak), ==, FAULT_NONE);
  near(peak.mpa, 100, 1e-9);
  near(peak.band_percent, 10, 1e-9);
  near(peak.direction[0], 1, 1e-12);
  field->candidate[0].extrapolated[UNIT_BEND][0] = 81;
  g_assert_cmpint(field_peak(field, (NeckLoad){1, 0}, &peak), ==, FAULT_NONE);
  near(peak.band_percent, 3, 1e-9);
  field_unref(field);
}

/* Twice the load is twice the peak; a field is linear. */
static void test_linear(void)
{
  GRand *rand = g_rand_new_with_seed(7);
  Field *field = random_field(rand, 40);
  Peak one, two;
  g_assert_cmpint(field_peak(field, (NeckLoad){0.7, -0.3}, &one), ==, FAULT_NONE);
  g_assert_cmpint(field_peak(field, (NeckLoad){1.4, -0.6}, &two), ==, FAULT_NONE);
  near(two.mpa, 2 * one.mpa, 1e-9 * two.mpa);
  near(two.at.x, one.at.x, 1e-12);
  field_unref(field);
  g_rand_free(rand);
}

static void test_peak_refuses(void)
{
  Peak peak = {.mpa = 7};
  Field *field = field_new();
  g_assert_cmpint(field_peak(NULL, (NeckLoad){1, 0}, &peak), ==, FAULT_DEGENERATE);
  g_assert_cmpint(field_peak(field, (NeckLoad){1, 0}, &peak), ==,
                  FAULT_DEGENERATE); /* nothing in it */
  field->n_candidate = 1;
  field->candidate = calloc(1, sizeof *field->candidate);
  g_assert_cmpint(field_peak(field, (NeckLoad){NAN, 0}, &peak), ==, FAULT_NOT_FINITE);
  g_assert_cmpint(field_peak(field, (NeckLoad){1, INFINITY}, &peak), ==, FAULT_NOT_FINITE);
  g_assert_cmpfloat(peak.mpa, ==, 7);
  g_assert_cmpint(field_peak(field, (NeckLoad){0, 0}, &peak), ==,
                  FAULT_NONE); /* no load, no pull */
  near(peak.mpa, 0, 1e-12);
  field_unref(field);
}

/* Shade: the first principal stress where the pull rules, else the most squeezed; angle of the pull
 * in the plane. */
static void test_shade(void)
{
  static const double bend[][6] = {{100, 0, 0, 0, 0, 0},
                                   {-100, 0, 0, 0, 0, 0},
                                   {0, 0, 0, 60, 0, 0},
                                   {50, -80, 0, 0, 0, 0},
                                   {80, -50, 0, 0, 0, 0},
                                   {0, 100, 0, 0, 0, 0},
                                   {75, 25, 0, 43.301270189, 0, 0},
                                   {10, 10, 90, 0, 0, 0}};
  static const double wanted[] = {100, -100, 60, -80, 80, 100, 100, 90};
  static const double angle[] = {0, NAN, G_PI / 4, 0, 0, G_PI / 2, G_PI / 6, NAN};
  enum { N = G_N_ELEMENTS(wanted) };
  float stress[N][UNIT_LOAD_N][6];
  const double none[6] = {0};
  for (int i = 0; i < N; i++)
    put(stress[i], bend[i], none);
  FieldSheet sheet = {.stress = stress, .n_vertex = N};
  float value[N], way[N];
  field_shade(&sheet, (NeckLoad){1, 0}, value, way);
  for (int i = 0; i < N; i++) {
    near((double)value[i], wanted[i], 1e-4);
    if (!isnan(angle[i]))
      near(fabs((double)way[i]), angle[i], 1e-5);
  }
  field_shade(&sheet, (NeckLoad){2, 0}, value, NULL); /* without angles */
  near((double)value[0], 200, 1e-4);
  field_shade(&sheet, (NeckLoad){-1, 0}, value,
              NULL); /* load turned round: pull and squeeze change places */
  near((double)value[0], -100, 1e-4);
  near((double)value[1], 100, 1e-4);
}

static gpointer many_refs(gpointer data)
{
  Field *field = data;
  for (int i = 0; i < 20000; i++) {
    field_ref(field);
    field_unref(field);
  }
  field_unref(field);
  return NULL;
}

/* Shared by threads: the last one to leave frees it (a leak or a double free is seen by the
 * sanitizer). */
static void test_refs(void)
{
  GRand *rand = g_rand_new_with_seed(1);
  Field *field = random_field(rand, 3);
  GThread *thread[4];
  near(field->correction, 1, 1e-12);
  for (int i = 0; i < 4; i++)
    thread[i] = g_thread_new("refs", many_refs, field_ref(field));
  for (int i = 0; i < 4; i++)
    g_thread_join(thread[i]);
  g_assert_cmpint(field->refs, ==, 1);
  field_unref(field);
  field_unref(NULL);
  g_rand_free(rand);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/field/principal_random", test_principal_random);
  g_test_add_func("/field/principal_degenerate", test_principal_degenerate);
  g_test_add_func("/field/peak", test_peak);
  g_test_add_func("/field/band", test_band);
  g_test_add_func("/field/linear", test_linear);
  g_test_add_func("/field/peak_refuses", test_peak_refuses);
  g_test_add_func("/field/shade", test_shade);
  g_test_add_func("/field/refs", test_refs);
  return g_test_run();
}
