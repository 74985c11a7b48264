/* solid_factor.h - the chain of layers factored by dense blocks, and the equations solved to double
 * precision. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to solid*.c.  Layers are eliminated from the far ends towards the neck, in single
 * precision; both unit loads share that factor and differ only in the block of the neck section,
 * where they hold different unknowns.  Conjugate gradients with this factor and a double residual
 * bring the answer to the tolerance asked. Source: core/SOURCES.md "solid, equations". */
#pragma once
#include "mechanics/solid.h"
#include "solid_cut.h"
#include "solid_element.h"
#include "solid_mesh.h"

typedef struct {
  float *panel[2][LAYERS_MAX]; /* [own layer; section before] x own layer, column-major, into
                                  `block`  */
  float *block, *neck, *neck_case[UNIT_LOAD_N], *rhs;
  int *free[UNIT_LOAD_N], n_free[UNIT_LOAD_N]; /* unknowns of the neck section that may move */
  bool *held[UNIT_LOAD_N];
  double *vector[6][UNIT_LOAD_N]; /* working vectors of the iteration                           */
  size_t room_block, room_neck, room_vector;
  CutList cuts, cuts_last; /* of a layer, and of the last one of an arm */
  int hands; /* 2: the arms of a model without mirror x are eliminated at the same time */
} LayerFactor;

/* Holds the neck section: symmetry x (bending holds x, shear holds y and z) and rigid pins. */
MUST_CHECK Fault layer_factor_hold(LayerFactor *factor, const SolidMesh *mesh);
/* Assembles and eliminates.  brick: mesh->elements of them, arm by arm, layer by layer. */
MUST_CHECK Fault layer_factor_make(LayerFactor *factor, const SolidMesh *mesh, const Brick brick[],
                                   Elastic elastic, const SolidSettings *settings);
/* Until the relative residual is below `tolerance`.  load, u: UNIT_LOAD_N vectors of mesh->dofs.
 *  *residual is the larger relative residual reached. */
MUST_CHECK Fault layer_factor_solve(LayerFactor *factor, const SolidMesh *mesh, const Brick brick[],
                                    Elastic elastic, double tolerance, double *load[UNIT_LOAD_N],
                                    double *u[UNIT_LOAD_N], double *residual);
void layer_factor_clear(LayerFactor *factor);

/* Node values of one brick out of the vectors of both loads; held ones are 0. */
void brick_gather(const SolidMesh *mesh, const int node[BRICK_NODES], double *vector[UNIT_LOAD_N],
                  NodeValues u);
