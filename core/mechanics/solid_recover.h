/* solid_recover.h - node stresses of a solved mesh, and the field made of them.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to solid*.c.  MPa for the unit loads.  Inside: Gauss values carried to the nodes and
 * averaged; on the surface the mean of these and of the direct node values.  Source:
 * core/SOURCES.md "solid, peak". */
#pragma once
#include "solid_factor.h"

typedef struct {
  float (*extrapolated)[UNIT_LOAD_N][6], (*direct)[UNIT_LOAD_N][6]; /* nodes */
  float (*stress)[UNIT_LOAD_N][6]; /* nodes: the one to show              */
  int *count, *count_direct;
  size_t room;
} NodeStress;

MUST_CHECK Fault node_stress_make(NodeStress *stress, const SolidMesh *mesh,
                                  const BrickTable *table, const Brick brick[], Elastic elastic,
                                  double *u[UNIT_LOAD_N]);
void node_stress_clear(NodeStress *stress);

/* Fills sheets (if wanted), surface points and candidates. */
MUST_CHECK Fault solid_picture(const SolidMesh *mesh, NodeStress *stress, bool sheets,
                               Field *field);
