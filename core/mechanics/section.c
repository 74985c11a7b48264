/* section.c - properties of superelliptic sections, in closed form.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Quarter of a superellipse with half axes a (z), b (y), exponent n (Dirichlet's integral, from
 * memory, checked in the tests): integral of y^(p-1) z^(q-1) = b^p a^q G(p/n) G(q/n) / (n^2 G(1 +
 * (p + q)/n)) */
#include "mechanics/section.h"
#include "base/tolerance.h"
#include "mechanics/section_torsion.h"
#include <math.h>

#define RIM_POINTS 96 /* torsion within 0.5 %, under a millisecond */

static double quarter(double b, double a, double n, int p, int q)
{
  double gammas = lgamma(p / n) + lgamma(q / n) - lgamma(1 + (p + q) / n);
  return pow(b, p) * pow(a, q) * exp(gammas) / (n * n);
}

static Fault quarters_bent(double half_low, double half_high, double half_buccal,
                           double half_lingual, double n, double y0, Section *section)
{
  double all[] = {half_low, half_high, half_buccal, half_lingual};
  for (int i = 0; i < 4; i++)
    if (!(all[i] > 0 && all[i] < MAX_SIZE_MM))
      return FAULT_RANGE;
  if (!(n >= 1 && n <= 50) || !isfinite(y0))
    return FAULT_RANGE;
  double area = 0, sy = 0, sz = 0, yy = 0, zz = 0, yz = 0, upper_first = 0;
  for (int up = 0; up < 2; up++)
    for (int side = 0; side < 2; side++) {
      double b = up ? half_high : half_low, a = side ? half_buccal : half_lingual, v = up ? 1 : -1,
             h = side ? 1 : -1;
      area += quarter(b, a, n, 1, 1);
      sy += v * quarter(b, a, n, 2, 1);
      sz += h * quarter(b, a, n, 1, 2);
      yy += quarter(b, a, n, 3, 1);
      zz += quarter(b, a, n, 1, 3);
      yz += v * h * quarter(b, a, n, 2, 2);
      upper_first += up ? quarter(b, a, n, 2, 1) : 0;
    }
  double y = sy / area, z = sz / area;
  Section s = {.area = area, .y = y0 + y, .z = z, .torsion = NAN};
  s.i_z = yy - area * y * y;
  s.i_y = zz - area * z * z;
  s.i_yz = yz - area * y * z;
  s.w_gingival = s.i_z / (half_low + y);
  s.w_occlusal = s.i_z / (half_high - y);
  s.w_buccal = s.i_y / (half_buccal - z);
  s.w_lingual = s.i_y / (half_lingual + z);
  s.height = half_low + half_high;
  s.width = half_buccal + half_lingual;
  /* shear at the widest level: V Q / (I t) */
  s.shear_stress_factor = area * upper_first / (s.i_z * s.width);
  *section = s;
  return FAULT_NONE;
}

Fault section_quarters(double half_low, double half_high, double half_buccal, double half_lingual,
                       double n, double y0, Section *section)
{
  Section s;
  Fault fault = quarters_bent(half_low, half_high, half_buccal, half_lingual, n, y0, &s);
  if (fault)
    return fault;
  bool ellipse = n == 2 && half_low == half_high && half_buccal == half_lingual;
  if (ellipse) {
    double a = half_buccal, b = half_high;
    s.torsion = acos(-1.0) * pow(a * b, 3) / (a * a + b * b);
  } else {
    Point rim[RIM_POINTS];
    for (int i = 0; i < RIM_POINTS; i++) {
      double angle = 2 * acos(-1.0) * i / RIM_POINTS, c = cos(angle), v = sin(angle);
      double reach = pow(pow(fabs(c), n) + pow(fabs(v), n), -1 / n);
      rim[i] = point(reach * c * (c >= 0 ? half_buccal : half_lingual),
                     reach * v * (v >= 0 ? half_high : half_low));
    }
    fault = section_torsion(rim, RIM_POINTS, s.area, &s.torsion);
    if (fault)
      return fault;
  }
  *section = s;
  return FAULT_NONE;
}

Fault section_superellipse(double height, double width, double n, double y0, Section *section)
{
  return section_quarters(height / 2, height / 2, width / 2, width / 2, n, y0, section);
}

Fault section_superellipse_bent(double height, double width, double n, double y0, Section *section)
{
  return quarters_bent(height / 2, height / 2, width / 2, width / 2, n, y0, section);
}
