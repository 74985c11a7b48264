/* bar_stress.c - bending stress of test pieces.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "strength/bar_stress.h"
#include <math.h>

double bar_stress_three_point(double force, double span, double width, double thickness)
{
  return bar_stress_four_point(force, span, 0, width, thickness);
}

double bar_stress_four_point(double force, double span, double inner, double width,
                             double thickness)
{
  return 1.5 * force * (span - inner) / (width * thickness * thickness);
}

double bar_stress_disc(double force, double thickness, double poisson, double support,
                       double piston, double disc)
{
  double p = piston / disc, s = support / disc;
  double x = (1 + poisson) * log(p * p) + (1 - poisson) / 2 * p * p;
  double y = (1 + poisson) * (1 + log(s * s)) + (1 - poisson) * s * s;
  return -3 / (4 * acos(-1.0)) * force * (x - y) / (thickness * thickness);
}
