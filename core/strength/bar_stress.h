/* bar_stress.h - from the force that breaks a test piece to its strength.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * N, mm, MPa.  Sources: core/SOURCES.md "bars". */
#pragma once

double bar_stress_three_point(double force, double span, double width, double thickness);
/* span between the outer, inner between the two upper rollers: span / 2 is the quarter-point, span
 * / 3 the third-point test. */
double bar_stress_four_point(double force, double span, double inner, double width,
                             double thickness);
/* Piston on three balls, ISO 6872: radii of the support circle, of the piston and of the disc. */
double bar_stress_disc(double force, double thickness, double poisson, double support,
                       double piston, double disc);
