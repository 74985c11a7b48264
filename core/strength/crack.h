/* crack.h - cracks and scratches: Newman-Raju surface crack, critical depth, slow growth.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm (names say _um where not), stress MPa, K MPa sqrt(m).  Sources: core/SOURCES.md
 * "cracks". Outside its range every function gives NaN. */
#pragma once
#include "base/fault.h"

/* K of a semi-elliptical surface crack, depth a, half length c (a <= c), plate thickness t, half
 * width b, under tension and bending stress (bending: surface value); phi from the surface (0) to
 * the deepest point (pi/2). */
double crack_newman_raju(double a, double c, double t, double b, double tension_mpa,
                         double bending_mpa, double phi);
/* Depth of a semicircular scratch that breaks at sigma: (K_Ic/(Y sigma))^2, Y = 1.292 at the
 * surface; um. */
double crack_scratch_um(double toughness, double stress_mpa);
/* The same in a stress that falls off as surface exp(-d / decay_mm); um. NaN if no scratch breaks
 * it. */
double crack_scratch_gradient_um(double toughness, double surface_mpa, double decay_mm);
/* Decay of a stress whose mean over `depth` mm below the surface is known; INFINITY when it does
 * not fall. */
double crack_decay_mm(double surface_mpa, double mean_mpa, double depth);
double crack_edge_tension(double a_over_w); /* geometry factors of the edge crack, [0, 0.6] */
double crack_edge_bending(double a_over_w);
/* Slow growth v = A K^n: strength left after time_s under static load, as a factor of the 1 s
 * strength. */
double crack_static_factor(double n, double time_s);
/* g(n): mean of sin^n-type cycling, static life / cyclic life. */
double crack_cycle_g(double n);
