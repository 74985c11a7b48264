/* notch.c - published stress concentration formulas.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Neuber's deep notches (exact), Inglis, Heywood's fit to Howland, Peterson's charts as printed in
 * public listings with their misprints mended: core/SOURCES.md "notch". */
#include "mechanics/notch.h"
#include <math.h>

double notch_neuber_round_bending(double e, double nu)
{
  double q = sqrt(e + 1), n = 3 * (e + 1) + (1 + 4 * nu) * q + (1 + nu) / (1 + q);
  return e > 0 ? 0.75 * (q + 1) * (3 * e - (1 - 2 * nu) * q + 4 + nu) / n : NAN;
}

double notch_neuber_round_tension(double e, double nu)
{
  double q = sqrt(e + 1);
  return e > 0 ? (e * q + (0.5 + nu) * e + (1 + nu) * (q + 1)) / (e + 2 * nu * q + 2) : NAN;
}

double notch_neuber_round_torsion(double e)
{
  double q = sqrt(e + 1);
  return e > 0 ? 3 * (1 + q) * (1 + q) / (4 * (1 + 2 * q)) : NAN;
}

double notch_neuber_flat_bending(double e)
{
  double s = sqrt(e);
  return e > 0 ? 4 * e * s / (3 * (s + (e - 1) * atan(s))) : NAN;
}

double notch_neuber_flat_tension(double e)
{
  double s = sqrt(e);
  return e > 0 ? 2 * (e + 1) * s / ((e + 1) * atan(s) + s) : NAN;
}

double notch_inglis(double a_over_b)
{
  return a_over_b > 0 ? 1 + 2 * a_over_b : NAN;
}

double notch_howland_net(double d_over_w)
{
  double x = 1 - d_over_w;
  return d_over_w > 0 && d_over_w < 1 ? 2 + 0.284 * x - 0.600 * x * x + 1.32 * x * x * x : NAN;
}

double notch_edge_tension(double t_over_r)
{
  return t_over_r >= 1 && t_over_r <= 361 ? 0.855 + 2.21 * sqrt(t_over_r) : NAN;
}

static double cubic(const double c[4], double x)
{
  return c[0] + x * (c[1] + x * (c[2] + x * c[3]));
}

double notch_one_side_bending(double x, double y)
{
  double blunt[4] = {1.795 + 1.481 * y - 0.211 * y * y, -3.544 - 3.677 * y + 0.578 * y * y,
                     5.459 + 3.691 * y - 0.565 * y * y, -2.678 - 1.531 * y + 0.205 * y * y};
  double sharp[4] = {2.966 + 0.502 * y - 0.009 * y * y, -6.475 - 1.126 * y + 0.019 * y * y,
                     8.023 + 1.253 * y - 0.020 * y * y, -3.572 - 0.634 * y + 0.010 * y * y};
  if (!(x > 0 && x < 1 && y >= 0.5 && y <= 20))
    return NAN;
  return cubic(y < 2 ? blunt : sharp, x);
}

double notch_two_side_bending(double x, double y)
{
  double q = sqrt(y);
  double blunt[4] = {0.723 + 2.845 * q - 0.504 * y, -1.836 - 5.746 * q + 1.314 * y,
                     7.254 - 1.885 * q + 1.646 * y, -5.140 + 4.785 * q - 2.456 * y};
  double sharp[4] = {0.833 + 2.069 * q - 0.009 * y, 0.024 - 5.383 * q + 0.126 * y,
                     -0.856 + 6.460 * q - 0.199 * y, 0.999 - 3.146 * q + 0.082 * y};
  if (!(x > 0 && x < 1 && y >= 0.1 && y <= 50))
    return NAN;
  return cubic(y <= 2 ? blunt : sharp, x);
}

/* Neuber's triangle between the shallow notch, 1 + 2 sqrt(t/r), and the deep one of a flat bar. */
double notch_connector(double neck_height, double roof_radius, double depth)
{
  if (!(neck_height > 0 && roof_radius > 0 && depth >= 0) || !isfinite(neck_height) ||
      !isfinite(depth))
    return NAN;
  double shallow = 2 * sqrt(depth / roof_radius),
         deep = notch_neuber_flat_bending(neck_height / 2 / roof_radius) - 1;
  if (!(shallow > 0 && deep > 0))
    return 1; /* no notch, or one so blunt that the neck is a plain bar */
  return 1 + shallow * deep / hypot(shallow, deep);
}
