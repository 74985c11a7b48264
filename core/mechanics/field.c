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

Fault field_peak(const Field *field, NeckLoad load, Peak *peak)
{
  if (!field || field->n_candidate == 0)
    return FAULT_DEGENERATE;
  if (!isfinite(load.moment_n_mm) || !isfinite(load.shear_n) || !isfinite(load.lateral_n_mm) ||
      !isfinite(load.lateral_shear_n) || !isfinite(load.torsion_n_mm))
    return FAULT_NOT_FINITE;
  if (neck_load_odd(&load) && !(field->odd_band_percent > 0))
    return FAULT_RANGE;
  double best = -INFINITY, spread = 0;
  size_t best_i = 0;
  for (size_t i = 0; i < field->n_candidate; i++) {
    double direct[6], extrapolated[6];
    stress_combine(field->candidate[i].direct, field->candidate[i].odd, load, direct);
    stress_combine(field->candidate[i].extrapolated, field->candidate[i].odd, load, extrapolated);
    double a = stress_first(direct), b = stress_first(extrapolated), mean = (a + b) / 2;
    if (mean > best) {
      best = mean;
      best_i = i;
      spread = fabs(a - b);
    }
  }
  PeakCandidate *at = &field->candidate[best_i];
  double s[6], t[6], inner[6];
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
  if (neck_load_odd(&load) && best > 0) {
    /* the part that the odd loads add carries a band of its own */
    NeckLoad even = {.moment_n_mm = load.moment_n_mm, .shear_n = load.shear_n};
    double alone[6], half[6];
    stress_combine(at->direct, NULL, even, alone);
    stress_combine(at->extrapolated, NULL, even, half);
    for (int i = 0; i < 6; i++)
      alone[i] = (alone[i] + half[i]) / 2;
    double added = fmax(0, best - fmax(0, stress_first(alone))) / best;
    peak->band_percent = hypot(peak->band_percent * (1 - added), field->odd_band_percent * added);
    peak->by_section = true;
  }
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
