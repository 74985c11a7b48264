/* solid_mesh.h - the lofted mesh: one pattern of quads a section, layers of 20-node bricks between
 * sections. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to solid*.c.  mm.  Nodes of a section are given by angle phi (0 gingival, pi occlusal, >
 * 0 buccal) and fraction f of the way from the middle to the surface.  Sections carry all nodes of
 * the 8-node quads, the middle of a layer only their corners.  Brick: 0-3 corners and 4-7 mid-edges
 * of the section nearer to the neck, 8-11 and 12-15 the same of the farther one, 16-19 the edges
 * between. */
#pragma once
#include "mechanics/loft.h"
#include "mechanics/solid.h"
#include "solid_element.h"

#define PATTERN_NODES 900
#define PATTERN_QUADS 300
#define PATTERN_ANGLES 25 /* half steps around half a section, both ends: 2 * 3 * core + 1 */
#define PATTERN_RINGS 17  /* half steps through the rings, both ends                      */
#define LAYERS_MAX 24

typedef struct {
  int core, rings; /* core x core quads in the middle of a half section, 3 core sectors */
  int nodes, quads, corners;
  double phi[PATTERN_NODES], f[PATTERN_NODES]; /* phi within its half, [0, pi]             */
  double ratio[PATTERN_NODES]; /* loft_section_ratio() of phi                              */
  double cosine[PATTERN_NODES], sine[PATTERN_NODES]; /* of phi */
  int twin[PATTERN_NODES]; /* an earlier node of the same angle (a corner for corners), or itself */
  int8_t half[PATTERN_NODES]; /* +1 buccal, -1 lingual, 0 on z = 0         */
  int corner[PATTERN_NODES];  /* index among the corners, or -1            */
  int quad[PATTERN_QUADS][8];
  int8_t turn[PATTERN_QUADS];      /* orientation                                        */
  bool outer[PATTERN_QUADS];       /* edge 2-3 lies on the surface                       */
  int8_t line_edge[PATTERN_QUADS]; /* edge on z = 0 (from corner e to e + 1), or -1     */
  int grid[2][PATTERN_ANGLES][PATTERN_RINGS]; /* [lingual][angle][ring], or -1             */
} Pattern;

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
