/* crack.c - surface cracks, scratches, slow growth.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Newman and Raju (NASA 19840015857), with the exponent 1/4 in f_phi and (a/t)^2 in g; other
 * sources: core/SOURCES.md "cracks". */
#include "strength/crack.h"
#include <math.h>

static const double pi = 3.14159265358979323846;

#define EDGE_MOST 0.6
#define SCRATCH_Y 1.292 /* semicircle at the surface, K = Y sigma sqrt(a) */

double crack_newman_raju(double a, double c, double t, double b, double tension_mpa,
                         double bending_mpa, double phi)
{
  if (!(a > 0 && a <= c && a < t && c < b))
    return NAN;
  double ac = a / c, at = a / t, s = sin(phi), co = cos(phi);
  double q = 1 + 1.464 * pow(ac, 1.65);
  double m1 = 1.13 - 0.09 * ac, m2 = -0.54 + 0.89 / (0.2 + ac),
         m3 = 0.5 - 1 / (0.65 + ac) + 14 * pow(1 - ac, 24);
  double g = 1 + (0.1 + 0.35 * at * at) * (1 - s) * (1 - s);
  double f_phi = pow(ac * ac * co * co + s * s, 0.25);
  double f_w = sqrt(1 / cos(pi * c / (2 * b) * sqrt(at)));
  double f = (m1 + m2 * at * at + m3 * pow(at, 4)) * f_phi * g * f_w;
  double p = 0.2 + ac + 0.6 * at;
  double h1 = 1 - 0.34 * at - 0.11 * ac * at;
  double g1 = -1.22 - 0.12 * ac, g2 = 0.55 - 1.05 * pow(ac, 0.75) + 0.47 * pow(ac, 1.5);
  double h2 = 1 + g1 * at + g2 * at * at;
  double h = h1 + (h2 - h1) * pow(s, p);
  double metres = 1e-3; /* K in MPa sqrt(m), lengths in mm */
  return (tension_mpa + h * bending_mpa) * sqrt(pi * a * metres / q) * f;
}

double crack_scratch_um(double toughness, double stress_mpa)
{
  if (!(stress_mpa > 0 && toughness > 0))
    return NAN; /* nothing opens a scratch that is not pulled */
  double root = toughness / (SCRATCH_Y * stress_mpa); /* sqrt(m) */
  return root * root * 1e6;
}

/* K where a semicircle meets the surface.  In a stress that falls linearly to 0 at t/2 Newman and
 * Raju's bending factor is H1 = 1 - 0.45 a/t: the point at the surface feels the stress of 0.225 a
 * below it, and so it is taken for any stress that falls off. */
#define SCRATCH_FEELS 0.225

double crack_scratch_gradient_um(double toughness, double surface_mpa, double decay_mm)
{
  if (!(surface_mpa > 0 && decay_mm > 0 && toughness > 0))
    return NAN;
  if (!isfinite(decay_mm))
    return crack_scratch_um(toughness, surface_mpa);
  double low = 0, high = decay_mm / (2 * SCRATCH_FEELS); /* K rises all the way to here */
  for (int i = 0; i < 60; i++) {
    double a = i == 0 ? high : (low + high) / 2;
    double k = SCRATCH_Y * surface_mpa * exp(-SCRATCH_FEELS * a / decay_mm) * sqrt(a * 1e-3);
    if (i == 0 && !(k >= toughness))
      return NAN;
    if (k < toughness)
      low = a;
    else
      high = a;
  }
  return high * 1e3;
}

double crack_decay_mm(double surface_mpa, double mean_mpa, double depth)
{
  if (!(surface_mpa > 0 && mean_mpa > 0 && depth > 0))
    return NAN;
  if (mean_mpa >= surface_mpa)
    return INFINITY;
  double low = 0, high = 1e6 * depth; /* mean / surface rises with the decay */
  for (int i = 0; i < 100; i++) {
    double mid = i < 40 ? sqrt(fmax(low, 1e-9 * depth) * high) : (low + high) / 2;
    double mean = -mid / depth * expm1(-depth / mid);
    if (mean < mean_mpa / surface_mpa)
      low = mid;
    else
      high = mid;
  }
  return (low + high) / 2;
}

/* Both fits hold up to 0.6 of the width. */
double crack_edge_tension(double x)
{
  if (!(x >= 0 && x <= EDGE_MOST))
    return NAN;
  return 1.12 - 0.231 * x + 10.55 * x * x - 21.72 * x * x * x + 30.39 * x * x * x * x;
}

double crack_edge_bending(double x)
{
  if (!(x >= 0 && x <= EDGE_MOST))
    return NAN;
  return 1.122 - 1.40 * x + 7.33 * x * x - 13.08 * x * x * x + 14.0 * x * x * x * x;
}

double crack_static_factor(double n, double time_s)
{
  return n > 0 && time_s > 0 ? pow(time_s, -1 / n) : NAN;
}

double crack_cycle_g(double n)
{
  return n > 0 ? exp(lgamma(n + 0.5) - lgamma(n + 1)) / sqrt(pi) : NAN;
}
