/* solid_mesh.h - the lofted mesh: one pattern of quads a section, layers of 20-node bricks between
 * sections. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to solid*.c.  mm.  Sections carry all nodes of the 8-node quads, the middle of a layer
 * only their corners.  Brick: 0-3 corners and 4-7 mid-edges of the section nearer to the neck, 8-11
 * and 12-15 the same of the farther one, 16-19 the edges between. */
#pragma once
#include "mechanics/loft.h"
#include "mechanics/solid.h"
#include "solid_element.h"
#include "solid_pattern.h"

#define LAYERS_MAX 24

typedef struct {
  int side, layers;
  double s[2 * LAYERS_MAX + 1]; /* of sections (even) and layer middles (odd)              */
  int first_node, first_dof;    /* of layer 0; a layer owns its middle, then its far section */
} Arm;

typedef struct {
  Pattern pattern;
  bool mirror_x, mirror_z, mean_sides;
  LoadPair pair;
  int arms;
  Arm arm[2];
  int nodes, dofs;
  int section_dofs, middle_dofs;
  Vec3 *at;            /* nodes                                                          */
  int (*dof)[3];       /* nodes; -1 = held on z = 0: z there, for odd loads x and y     */
  float *phi, *roof_y; /* nodes: section angle, level of the gingival outline there        */
  size_t room;         /* of the four arrays                                             */
  int elements, elements_arm[2];
  double neck_x, y0, roof_top, foot[2]; /* roof_top: highest gingival level; foot by arm      */
  double outer_mm; /* thickness of the outermost ring at the gingival side           */
} SolidMesh;

MUST_CHECK Fault solid_mesh_make(SolidMesh *mesh, const Loft *loft, SolidGrade grade,
                                 LoadPair pair);
void solid_mesh_clear(SolidMesh *mesh);

/* A node of the mirror plane z = 0. */
static inline bool solid_on_line(const SolidMesh *mesh, int node)
{
  return mesh->dof[node][0] < 0 || mesh->dof[node][2] < 0;
}

/* Node numbers: section i of an arm (0 = neck, shared), middle of layer k. */
int solid_section_node(const SolidMesh *mesh, int arm, int section, int node);
int solid_middle_node(const SolidMesh *mesh, int arm, int layer, int corner);
void solid_brick(const SolidMesh *mesh, int arm, int layer, int quad, int node[BRICK_NODES]);
