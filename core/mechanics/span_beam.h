/* span_beam.h - the stiffness of a straight Timoshenko beam on springs, factored.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa.  Three unknowns a node: along the axis, up, rotation (counter-clockwise).  Private to
 * span*.c. */
#pragma once
#include "base/fault.h"
#include <stddef.h>

#define BEAM_MAX_NODES 1024
#define BEAM_HALF_BAND 5

typedef struct {
  size_t n; /* nodes */
  double x[BEAM_MAX_NODES];
  double ei[BEAM_MAX_NODES], ga[BEAM_MAX_NODES],
      ea[BEAM_MAX_NODES]; /* of the element after the node */
  double band[3 * BEAM_MAX_NODES]
             [BEAM_HALF_BAND + 1]; /* lower band of the matrix, then of its factor */
} Beam;

/* Stiffnesses at a node; the lateral spring holds a point `lever` below the axis. */
typedef struct {
  double vertical, rotation, lateral, lever;
} BeamSpring;

void beam_assemble(Beam *beam);
void beam_spring(Beam *beam, size_t node, const BeamSpring *spring);
void beam_hold_axis(Beam *beam);               /* when no lateral spring does */
MUST_CHECK Fault beam_factor(Beam *beam);      /* FAULT_SUPPORT when it is loose */
void beam_solve(const Beam *beam, double f[]); /* 3 n, in place */
/* Element that holds x. */
size_t beam_element(const Beam *beam, double x);
/* Deflection (up) at x of the nodal values u: the exact shape of an unloaded element. */
double beam_shape(const Beam *beam, const double u[], double x);
/* Adds a force (up) at x to the right side: exact for the element it stands on. */
void beam_force(const Beam *beam, double x, double force, double f[]);
