/* span_beam.h - the stiffness of a Timoshenko beam on springs, factored.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa.  Six unknowns a node: along x, up, turn in the elevation (about z), towards the cheek
 * (z), twist about x, turn in the plan (about y); rotations right-handed.  A flat beam (straight,
 * loaded in the elevation) has the first three only.  An element is straight; its heading is the
 * angle of its axis from x towards z.  Private to span*.c. */
#pragma once
#include "base/fault.h"
#include <stddef.h>

#define BEAM_MAX_NODES 1024
#define BEAM_FLAT 3
#define BEAM_SPACE 6

typedef enum { WAY_ALONG, WAY_UP, WAY_TURN, WAY_CHEEK, WAY_TWIST, WAY_YAW, WAY_N } BeamWay;

typedef struct { /* of the element after the node */
  double heading, ei, ga, ea;
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
void beam_spring(Beam *beam, size_t node, double heading, const BeamSpring *spring);
void beam_hold_axis(Beam *beam);               /* flat, when no spring along it does */
MUST_CHECK Fault beam_factor(Beam *beam);      /* FAULT_SUPPORT when it is loose */
void beam_solve(const Beam *beam, double f[]); /* dofs * n, in place */
/* Nodal actions of a unit action along a way of the spring's held point (along, cheek) or node. */
void beam_spring_push(const Beam *beam, size_t node, double heading, BeamWay way, double lever,
                      double f[]);
/* Element that holds x. */
size_t beam_element(const Beam *beam, double x);
/* Movement along a way (UP, CHEEK or TWIST of that heading) at x of the nodal values u: the exact
 * shape of an unloaded element. */
double beam_shape(const Beam *beam, const double u[], double x, BeamWay way, double heading);
/* Adds an action along such a way at x to the right side: exact for the element it stands on. */
void beam_force(const Beam *beam, double x, BeamWay way, double heading, double force, double f[]);
