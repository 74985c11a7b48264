/* solid_layer.h - one layer of the chain: its stiffness assembled, and both loads taken through its
 * factor. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to solid*.c.  A panel is column-major, `own` columns of own + section rows: the layer's
 * unknowns (its middle, then its far section), then those of the section nearer to the neck; lower
 * half.  A panel of 500 x 800 is larger than the caches, so that reading it once for both loads
 * counts. Source: core/SOURCES.md "solid, equations". */
#pragma once
#include "solid_cut.h"
#include "solid_element.h"
#include "solid_mesh.h"

/* Unknowns that a layer owns, and the first unknown of the section before layer k. */
int layer_own(const SolidMesh *mesh);
int layer_before(const SolidMesh *mesh, int arm, int k);

/* Adds the stiffness of layer k to its panel and to the block of the section before it (lower half,
 * leading dimension ld_before).  brick: those of the layer. */
void layer_assemble(const SolidMesh *mesh, int arm, int k, const Brick brick[], Elastic elastic,
                    float *panel, float *before, int ld_before);

/* Right-hand sides of both loads through the factored panel, in place: mine[c] of `own`, before[c]
 * of a section's values.  Down: L y = f, and what is left goes to the section before; up: L' x = y
 * with the section before known. */
void layer_down(const CutList *cuts, const float *panel, float *mine[UNIT_LOAD_N],
                float *before[UNIT_LOAD_N]);
void layer_up(const CutList *cuts, const float *panel, float *mine[UNIT_LOAD_N],
              float *before[UNIT_LOAD_N]);
