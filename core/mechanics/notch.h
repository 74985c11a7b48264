/* notch.h - published stress concentration formulas: the cross-check beside the computed answer.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Ratios only, no units.  Each function names its validity; outside it returns NaN.  Sources:
 * core/SOURCES.md. */
#pragma once

double notch_neuber_round_bending(double a_over_rho, double poisson); /* deep groove, round bar */
double notch_neuber_round_tension(double a_over_rho, double poisson);
double notch_neuber_round_torsion(double a_over_rho);
double notch_neuber_flat_bending(double a_over_rho); /* deep opposite notches, flat bar */
double notch_neuber_flat_tension(double a_over_rho);
double notch_inglis(double a_over_b);       /* 1 + 2 a/b */
double notch_howland_net(double d_over_w);  /* hole in a strip, net section */
double notch_edge_tension(double t_over_r); /* half plane: 0.855 + 2.21 sqrt(t/r), [1, 361] */
double notch_one_side_bending(double t_over_h, double t_over_r); /* U notch, fit, see SOURCES */
double notch_two_side_bending(double two_t_over_h, double t_over_r);
/* The bench reading for a connector: neck height, roof radius, depth of the embrasure -> multiplier
 * of M c / I, +-10 %. */
double notch_connector(double neck_height, double roof_radius, double depth);
