/* span_beam.h - the stiffness of a Timoshenko beam on springs, factored.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa.  Six unknowns a node: along x, up, turn in the elevation (about z), towards the cheek
 * (z), twist about x, turn in the plan (about y); rotations right-handed.  A flat beam (straight,
 * loaded in the elevation) has the first three only.  An element is straight.  Private to span*.c.
 */
#pragma once
#include "base/fault.h"
#include <stddef.h>

#define BEAM_MAX_NODES 1024
#define BEAM_FLAT 3
#define BEAM_SPACE 6

typedef enum { WAY_ALONG, WAY_UP, WAY_TURN, WAY_CHEEK, WAY_TWIST, WAY_YAW, WAY_N } BeamWay;

/* An angle from x towards z, by its cosine and sine. */
typedef struct {
  double c, s;
} Heading;

typedef struct { /* of the element after the node */
  Heading heading;
  double ei, ga, ea;
  double ei_plan, gj; /* space only */
} BeamElement;

typedef struct {
  size_t n;                 /* nodes */
  size_t dofs;              /* a node: BEAM_FLAT or BEAM_SPACE */
  double x[BEAM_MAX_NODES]; /* along the axis */
  BeamElement element[BEAM_MAX_NODES];
  double band[2 * BEAM_SPACE * BEAM_SPACE * BEAM_MAX_NODES]; /* lower band of the matrix, then of
                                                                its factor */
} Beam;

/* Stiffnesses at a node, in the heading of the arch there; along and cheek hold a point `lever`
 * below the axis. */
typedef struct {
  double stiffness[WAY_N], lever;
} BeamSpring;

void beam_assemble(Beam *beam);
void beam_spring(Beam *beam, size_t node, Heading heading, const BeamSpring *spring);
void beam_hold_axis(Beam *beam);          /* flat, when no spring along it does */
MUST_CHECK Fault beam_factor(Beam *beam); /* FAULT_SUPPORT when it is loose */
/* m right sides side by side, f[unknown][m], in place. */
void beam_solve(const Beam *beam, size_t m, double f[]);
/* Adds the nodal actions of a unit action along a way of the spring's held point (along, cheek) or
 * node to right side j of m. */
void beam_spring_push(const Beam *beam, size_t node, Heading heading, BeamWay way, double lever,
                      size_t m, size_t j, double f[]);
/* Element that holds x. */
size_t beam_element(const Beam *beam, double x);
/* Movement[m] along a way (UP, CHEEK or TWIST of that heading) at x of m fields of nodal values,
 * u[unknown][m]: the exact shape of an unloaded element. */
void beam_shapes(const Beam *beam, size_t m, const double u[], double x, BeamWay way,
                 Heading heading, double movement[]);
/* Adds an action along such a way at x to the right side: exact for the element it stands on. */
void beam_force(const Beam *beam, double x, BeamWay way, Heading heading, double force, double f[]);
