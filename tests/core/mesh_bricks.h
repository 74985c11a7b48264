/* mesh_bricks.h - the bricks of a lofted mesh.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <glib.h>
#include "mechanics/solid_mesh.h"

/* Owned, g_free. */
static inline Brick *mesh_bricks_new(const SolidMesh *mesh, const BrickTable *table)
{
  Brick *brick = g_new0(Brick, mesh->elements), *b = brick;
  for (int arm = 0; arm < mesh->arms; arm++)
    for (int k = 0; k < mesh->arm[arm].layers; k++)
      for (int q = 0; q < mesh->pattern.quads; q++) {
        int node[BRICK_NODES], worst;
        double at[20][4] = {{0}};
        solid_brick(mesh, arm, k, q, node);
        for (int a = 0; a < 20; a++) {
          Vec3 p = mesh->at[node[a]];
          at[a][0] = p.x, at[a][1] = p.y, at[a][2] = p.z;
        }
        double turn = mesh->pattern.turn[q] * mesh->arm[arm].side;
        g_assert_cmpfloat(brick_init(b++, table, at, turn, &worst), >, 0);
      }
  return brick;
}
