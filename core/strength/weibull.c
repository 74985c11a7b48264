/* weibull.c - unbiasing, effective surfaces, risk of a stressed surface.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Sources: core/SOURCES.md "Weibull" and "effective surface". */
#include "strength/weibull.h"
#include <math.h>

double weibull_unbias(size_t n)
{
  /* Thoman, Bain and Antle 1969; ASTM C1239 table 1, from memory: 0.1 to 0.9 % high against
   * simulation */
  static const double at[] = {5,  6,  7,  8,  9,  10, 11, 12, 13, 14, 15, 16, 18,  20, 22,
                              24, 26, 28, 30, 32, 34, 36, 38, 40, 50, 60, 80, 100, 120};
  static const double factor[] = {.700, .752, .792, .820, .842, .859, .872, .883, .893, .901,
                                  .908, .914, .923, .931, .938, .943, .947, .951, .955, .958,
                                  .960, .962, .964, .966, .973, .978, .984, .987, .990};
  const size_t last = sizeof at / sizeof *at - 1;
  double x = (double)n;
  if (x < at[0])
    return NAN;
  for (size_t i = 1; i <= last; i++)
    if (x <= at[i])
      return factor[i - 1] + (factor[i] - factor[i - 1]) * (x - at[i - 1]) / (at[i] - at[i - 1]);
  return 1 - (1 - factor[last]) * at[last] / x;
}

double weibull_mean(double modulus, double characteristic)
{
  return characteristic * tgamma(1 + 1 / modulus);
}

double weibull_chance(double stress, double modulus, double characteristic)
{
  return stress > 0 ? -expm1(-pow(stress / characteristic, modulus)) : 0;
}

double weibull_quantile(double chance, double modulus, double characteristic)
{
  return characteristic * pow(-log1p(-chance), 1 / modulus);
}

/* Stretched face plus the two sides: share of the face times 1 + h / (b (m + 1)). */
static double bar_surface(double face, double width, double thickness, double modulus)
{
  return face * (1 + thickness / (width * (modulus + 1)));
}

double bar_surface_three_point(double span, double width, double thickness, double modulus)
{
  return bar_surface(span * width / (modulus + 1), width, thickness, modulus);
}

double bar_surface_four_point_quarter(double span, double width, double thickness, double modulus)
{
  return bar_surface(span * width * (modulus + 2) / (2 * (modulus + 1)), width, thickness, modulus);
}

double bar_surface_four_point_third(double span, double width, double thickness, double modulus)
{
  return bar_surface(span * width * (modulus + 3) / (3 * (modulus + 1)), width, thickness, modulus);
}

/* Plate on a ring of supports, pressed evenly inside the piston (Timoshenko, Woinowsky-Krieger):
 * moment along the ring, the first principal one, over that of the centre. */
static double disc_moment(double r, double support, double piston, double poisson)
{
  double c = piston * piston / (support * support), minus = 1 - poisson, plus = 1 + poisson;
  double centre = plus * log(support / piston) + 1 - minus * c / 4;
  if (r <= piston)
    return 1 - (1 + 3 * poisson) / 4 * (r / piston) * (r / piston) / centre;
  double square = piston * piston / (r * r);
  return (plus * log(support / r) + minus - minus / 4 * (square + c)) / centre;
}

double bar_surface_disc(double support_diameter, double piston_diameter, double poisson,
                        double modulus)
{
  double support = support_diameter / 2, piston = piston_diameter / 2, sum = 0;
  const int n = 600;
  if (!(piston > 0 && support > piston))
    return NAN;
  for (int i = 0; i < n; i++) {
    double r = support * (i + 0.5) / n;
    sum +=
        pow(disc_moment(r, support, piston, poisson), modulus) * 2 * acos(-1.0) * r * support / n;
  }
  return sum;
}

double bar_volume_factor_three_point(double modulus)
{
  return 1 / (2 * (modulus + 1) * (modulus + 1));
}

double bar_volume_factor_four_point_quarter(double modulus)
{
  return (modulus + 2) / (4 * (modulus + 1) * (modulus + 1));
}

double bar_volume_factor_four_point_third(double modulus)
{
  return (modulus + 3) / (6 * (modulus + 1) * (modulus + 1));
}

/* Points that add less than this of the hottest point's risk an area are left out. */
#define LEAST_SHARE 1e-9

void weibull_zone_sums_at(const Field *field, NeckLoad load, const double modulus[], size_t n,
                          double sum[][SURFACE_N])
{
  double most = 0, share = pow(LEAST_SHARE, 1 / modulus[0]);
  for (size_t k = 0; k < n; k++)
    for (int zone = 0; zone < SURFACE_N; zone++)
      sum[k][zone] = 0;
  for (size_t i = 0; i < field->n_surface; i++) {
    SurfacePoint *p = &field->surface[i];
    double s[6];
    stress_combine(p->stress, p->odd, load, s);
    if (stress_below(s, share * most))
      continue;
    double first = stress_first(s);
    most = fmax(most, first);
    if (!(first > 0) || p->zone >= SURFACE_N)
      continue;
    double pull = log(first / RISK_UNIT_MPA);
    for (size_t k = 0; k < n; k++)
      sum[k][p->zone] += exp(modulus[k] * pull) * (double)p->area;
  }
}

void weibull_zone_sums(const Field *field, NeckLoad load, double modulus, double sum[SURFACE_N])
{
  weibull_zone_sums_at(field, load, &modulus, 1, (double(*)[SURFACE_N])sum);
}

double weibull_risk(const double sum[SURFACE_N], const double sigma0[SURFACE_N], double modulus)
{
  double risk = 0;
  for (int zone = 0; zone < SURFACE_N; zone++)
    if (sum[zone] > 0)
      risk += sum[zone] * pow(sigma0[zone] / RISK_UNIT_MPA, -modulus);
  return risk;
}

double weibull_surface_risk(const Field *field, NeckLoad load, const double sigma0[SURFACE_N],
                            double modulus)
{
  double sum[SURFACE_N];
  weibull_zone_sums(field, load, modulus, sum);
  return weibull_risk(sum, sigma0, modulus);
}
