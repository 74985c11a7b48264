/* weibull.h - Weibull statistics of brittle surfaces.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * MPa, mm^2.  Sources: core/SOURCES.md "Weibull". */
#pragma once
#include "mechanics/field.h"

/* Maximum likelihood for n >= 3 positive strengths. */
MUST_CHECK Fault weibull_fit(const double strength[], size_t n, double *modulus,
                             double *characteristic);
double weibull_unbias(size_t n); /* factor on m, n in [5, 120] */
double weibull_mean(double modulus, double characteristic);
double weibull_chance(double stress, double modulus, double characteristic); /* 0..1 */
double weibull_quantile(double chance, double modulus, double characteristic);
/* Effective surface of bars, mm^2: all four sides. span L outer, width b, thickness h. */
double bar_surface_three_point(double span, double width, double thickness, double modulus);
double bar_surface_four_point_quarter(double span, double width, double thickness, double modulus);
double bar_surface_four_point_third(double span, double width, double thickness, double modulus);
/* Disc pressed by a flat piston on a ring of supports: first principal stress only, as the risk
 * below. */
double bar_surface_disc(double support_diameter, double piston_diameter, double poisson,
                        double modulus);
double bar_volume_factor_three_point(double modulus); /* V_eff / (L b h) */
double bar_volume_factor_four_point_quarter(double modulus);
double bar_volume_factor_four_point_third(double modulus);

/* Sum over each zone of (sigma1 / RISK_UNIT_MPA)^m dA: divided by (sigma0_zone / RISK_UNIT_MPA)^m
 * and added up it is the risk for any finish, so that one pass serves them all. */
#define RISK_UNIT_MPA 1000.0 /* keeps the powers inside the range of numbers */
void weibull_zone_sums(const Field *field, NeckLoad load, double modulus, double sum[SURFACE_N]);
/* The same for n moduli, rising, in one pass. */
void weibull_zone_sums_at(const Field *field, NeckLoad load, const double modulus[], size_t n,
                          double sum[][SURFACE_N]);
double weibull_risk(const double sum[SURFACE_N], const double sigma0[SURFACE_N], double modulus);
/* Risk R = integral over the stretched surface of (sigma1 / sigma0_zone)^m dA; chance = 1 -
 * exp(-R). sigma0  in  SURFACE_N scales, MPa mm^(2/m): sigma_theta * factor_zone * S_eff^(1/m) */
double weibull_surface_risk(const Field *field, NeckLoad load, const double sigma0[SURFACE_N],
                            double modulus);
