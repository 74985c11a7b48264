/* plane_solve.h - plane stress with thickness on a plane mesh, by a sparse Cholesky factor.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa.  Six-node triangles, three Gauss points, thickness taken there.  Components xx yy xy.
 * Source: core/SOURCES.md "plane". */
#pragma once
#include "mechanics/plane_mesh.h"

/* Thickness at a place inside, mm; must be > 0. */
typedef double (*PlaneThickness)(Point at, const void *data);

typedef struct {
  double young_mpa, poisson; /* > 0; [0, 0.5)                         */
  PlaneThickness thickness;
  const void *data; /* handed to thickness                   */
} PlaneMaterial;

typedef struct PlaneFactor PlaneFactor;
MUST_CHECK Fault plane_factor_new(PlaneFactor **factor);
void plane_factor_free(PlaneFactor *factor); /* accepts NULL */

/* Assembles and factors.  held[2 node + axis] != 0 holds that displacement at nil; enough must be
 * held to stop the body.  FAULT_SINGULAR when it is loose. */
MUST_CHECK Fault plane_factor_make(PlaneFactor *factor, const PlaneMesh *mesh,
                                   const PlaneMaterial *material, const unsigned char held[]);
/* n load cases side by side: load and u are [n][2 n_node]. */
MUST_CHECK Fault plane_factor_solve(PlaneFactor *factor, size_t n, const double *load, double *u);

/* Nodal stress of one displacement field, averaged over the elements at a node: taken straight at
 * the nodes, and extrapolated from the Gauss points.  Their errors have opposite signs at a hollow
 * wall, so their mean is the answer and their difference an error signal. */
MUST_CHECK Fault plane_stress(const PlaneMesh *mesh, const PlaneMaterial *material,
                              const double u[], double (*direct)[3], double (*extrapolated)[3]);
/* Adds a traction of an edge to a load, MPa (N/mm^2), by 3-point Gauss: force(t, at, normal out).
 */
void plane_edge_load(const PlaneMesh *mesh, const PlaneEdge *edge, const PlaneMaterial *material,
                     Point (*traction)(Point at, Point outward, const void *data), const void *data,
                     double load[]);
