/* field.c - combine, shade and search the stress of unit loads.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Principal stresses by the closed form of the characteristic cubic (Lode angle), checked against
 * Jacobi in the tests. */
#include "mechanics/field.h"
#include <math.h>
#include <stdlib.h>

Field *field_new(void)
{
  Field *field = calloc(1, sizeof *field);
  if (field) {
    field->refs = 1;
    field->correction = 1;
  }
  return field;
}

Field *field_ref(Field *field)
{
  __atomic_add_fetch(&field->refs, 1, __ATOMIC_RELAXED);
  return field;
}

void field_unref(Field *field)
{
  if (!field || __atomic_sub_fetch(&field->refs, 1, __ATOMIC_ACQ_REL) > 0)
    return;
  for (int k = 0; k < SHEET_N; k++) {
    free(field->sheet[k].at);
    free(field->sheet[k].skin);
    free(field->sheet[k].stress);
    free(field->sheet[k].corner);
  }
  free(field->surface);
  free(field->candidate);
  free(field);
}

/* The two outer principal values of a symmetric tensor; either may be NULL. */
static void principal_outer(const double s[6], double *first, double *third)
{
  double mean = (s[0] + s[1] + s[2]) / 3;
  double a = s[0] - mean, b = s[1] - mean, c = s[2] - mean;
  double j2 = 0.5 * (a * a + b * b + c * c) + s[3] * s[3] + s[4] * s[4] + s[5] * s[5];
  if (j2 <= 0) {
    if (first)
      *first = mean;
    if (third)
      *third = mean;
    return;
  }
  double j3 =
      a * (b * c - s[4] * s[4]) - s[3] * (s[3] * c - s[4] * s[5]) + s[5] * (s[3] * s[4] - b * s[5]);
  double root = sqrt(j2 / 3), arg = j3 / (2 * root * root * root);
  arg = arg > 1 ? 1 : arg < -1 ? -1 : arg;
  double angle = acos(arg) / 3;
  if (first)
    *first = mean + 2 * root * cos(angle);
  if (third)
    *third = mean + 2 * root * cos(angle + 2 * acos(-1.0) / 3);
}

double stress_first(const double stress[6])
{
  double first;
  principal_outer(stress, &first, NULL);
  return first;
}

double stress_third(const double stress[6])
{
  double third;
  principal_outer(stress, NULL, &third);
  return third;
}

bool stress_below(const double stress[6], double limit)
{
  double a = limit - stress[0], b = limit - stress[1], c = limit - stress[2], d = stress[3],
         e = stress[4], f = stress[5], minor = a * b - d * d;
  return a > 0 && minor > 0 && minor * c - a * e * e - b * f * f - 2 * d * e * f > 0;
}

void stress_combine(float unit[UNIT_LOAD_N][6], float odd[ODD_LOAD_N][6], NeckLoad load,
                    double s[6])
{
  for (int i = 0; i < 6; i++)
    s[i] =
        load.moment_n_mm * (double)unit[UNIT_BEND][i] + load.shear_n * (double)unit[UNIT_SHEAR][i];
  if (odd && neck_load_odd(&load))
    for (int i = 0; i < 6; i++)
      s[i] += load.lateral_n_mm * (double)odd[ODD_LATERAL][i] +
              load.lateral_shear_n * (double)odd[ODD_LATERAL_SHEAR][i] +
              load.torsion_n_mm * (double)odd[ODD_TORSION][i];
}

/* Unit vector of the first principal direction: the longest cross product of two rows of S - first
 * I. */
static void first_direction(const double s[6], double first, double d[3])
{
  double row[3][3] = {
      {s[0] - first, s[3], s[5]}, {s[3], s[1] - first, s[4]}, {s[5], s[4], s[2] - first}};
  double best = 0;
  d[0] = 1, d[1] = d[2] = 0;
  for (int i = 0; i < 3; i++) {
    const double *p = row[i], *q = row[(i + 1) % 3];
    double c[3] = {p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]};
    double length = c[0] * c[0] + c[1] * c[1] + c[2] * c[2];
    if (length > best) {
      best = length;
      for (int k = 0; k < 3; k++)
        d[k] = c[k] / sqrt(length);
    }
  }
}

/* The candidate that is pulled most: index, pull (mean of both recoveries), and how far the two lie
 * apart. */
static size_t most_pulled(const Field *field, NeckLoad load, double *best, double *spread)
{
  size_t best_i = 0;
  *best = -INFINITY;
  for (size_t i = 0; i < field->n_candidate; i++) {
    PeakCandidate *at = &field->candidate[i];
    double direct[6], extrapolated[6];
    stress_combine(at->direct, at->odd, load, direct);
    stress_combine(at->extrapolated, at->odd, load, extrapolated);
    if (stress_below(direct, *best) && stress_below(extrapolated, *best))
      continue;
    double a = stress_first(direct), b = stress_first(extrapolated), mean = (a + b) / 2;
    if (mean > *best) {
      *best = mean;
      best_i = i;
      *spread = fabs(a - b);
    }
  }
  return best_i;
}

/* How much the peak moves when the odd part is that much more or less, percent. */
static double odd_band(const Field *field, NeckLoad load, double best)
{
  double furthest = 0, spread;
  for (int sign = -1; sign <= 1; sign += 2) {
    double part = 1 + sign * field->odd_band_percent / 100, moved;
    NeckLoad other = {load.moment_n_mm, load.shear_n, part * load.lateral_n_mm,
                      part * load.lateral_shear_n, part * load.torsion_n_mm};
    most_pulled(field, other, &moved, &spread);
    furthest = fmax(furthest, fabs(moved - best));
  }
  return best > 0 ? 100 * furthest / best : 0;
}

Fault field_peak(const Field *field, NeckLoad load, Peak *peak)
{
  if (!field || field->n_candidate == 0)
    return FAULT_DEGENERATE;
  if (!isfinite(load.moment_n_mm) || !isfinite(load.shear_n) || !isfinite(load.lateral_n_mm) ||
      !isfinite(load.lateral_shear_n) || !isfinite(load.torsion_n_mm))
    return FAULT_NOT_FINITE;
  if (neck_load_odd(&load) && !(field->odd_band_percent > 0))
    return FAULT_RANGE;
  double best, spread = 0, s[6], t[6], inner[6];
  PeakCandidate *at = &field->candidate[most_pulled(field, load, &best, &spread)];
  stress_combine(at->direct, at->odd, load, s);
  stress_combine(at->extrapolated, at->odd, load, t);
  stress_combine(at->mean, at->odd, load, inner);
  for (int i = 0; i < 6; i++)
    s[i] = (s[i] + t[i]) / 2;
  *peak = (Peak){
      .mpa = best, .at = at->at, .zone = (SurfaceZone)at->zone, .mean_mpa = stress_first(inner)};
  first_direction(s, stress_first(s), peak->direction);
  /* a quarter of the spread of the recoveries is an error signal of its own (core/SOURCES.md
   * "solid, band") */
  double signal = best > 0 ? 25 * spread / best : 0;
  peak->band_percent = fmax(field->band_percent, signal);
  bool odd = neck_load_odd(&load);
  peak->by_section = odd && field->odd_by_section;
  if (odd)
    peak->band_percent = hypot(peak->band_percent, odd_band(field, load, best));
  return FAULT_NONE;
}

void field_shade(const FieldSheet *sheet, NeckLoad load, float value[], float angle[])
{
  for (size_t i = 0; i < sheet->n_vertex; i++) {
    double s[6], first, third;
    stress_combine(sheet->stress[i], NULL, load, s);
    principal_outer(s, &first, &third);
    value[i] = (float)(first >= -third ? first : third);
    if (angle)
      angle[i] = (float)(0.5 * atan2(2 * s[3], s[0] - s[1]));
  }
}
