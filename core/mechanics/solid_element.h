/* solid_element.h - the 20-node brick: gradients, stiffness, forces, stress.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to solid*.c.  mm, MPa.  2 x 2 x 2 Gauss points.  Node order: solid_mesh.h.  Shape
 * functions: core/SOURCES.md "20-node brick". */
#pragma once
#include "base/vec.h"
#include "mechanics/field.h"

#define BRICK_POINTS 8

/* Derivatives of the shape functions by the local axes at the Gauss points and at the nodes, and
 * the trilinear weights that carry Gauss values to the nodes. */
typedef struct {
  double gauss[BRICK_POINTS][3][20], node[20][3][20];
  double carry[20][BRICK_POINTS];
} BrickTable;
void brick_table_init(BrickTable *table);

/* Gradients in space at the Gauss points and their volumes. */
typedef struct {
  double grad[BRICK_POINTS][3][20];
  double volume[BRICK_POINTS];
} Brick;

typedef struct {
  double lambda, mu; /* Lame, MPa */
} Elastic;

/* Node values of both unit loads side by side: u[a][3 c + i], the last two of a row unused. */
typedef double NodeValues[20][8];

/* turn: +1 or -1, the orientation of the node order.
 * Returns the smallest Jacobian over Gauss points and nodes, relative to the mean; <= 0 is inside
 * out and *worst is that node or the corner nearest to that Gauss point. */
double brick_init(Brick *brick, const BrickTable *table, double at[20][4], double turn, int *worst);
/* Gradients at node i alone. */
void brick_grad_at_node(const BrickTable *table, double at[20][4], int i, double grad[3][20]);
/* Products of the gradients, from which the stiffness is put together:
 * h[d][e][a][b] = sum of volume * grad_d[a] * grad_e[b], for d <= e. */
typedef struct {
  float h[3][3][20][24];
} BrickProducts;
void brick_products(const Brick *brick, BrickProducts *products);
/* Stiffness block between nodes a and b. */
static inline void brick_block(const BrickProducts *p, Elastic m, int a, int b, float k[3][3])
{
  float l = (float)m.lambda, mu = (float)m.mu,
        trace = mu * (p->h[0][0][a][b] + p->h[1][1][a][b] + p->h[2][2][a][b]);
  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++) {
      float ij = i <= j ? p->h[i][j][a][b] : p->h[j][i][b][a],
            ji = j <= i ? p->h[j][i][a][b] : p->h[i][j][b][a];
      k[i][j] = l * ij + mu * ji + (i == j ? trace : 0);
    }
}
/* Adds the node forces of the displacements of both unit loads. */
void brick_forces(const Brick *brick, Elastic m, NodeValues u, NodeValues force);
void brick_stress(double grad[3][20], Elastic m, NodeValues u, double stress[UNIT_LOAD_N][6]);
/* Shape functions of an 8-node face (corners, then mid-edges 0-1 1-2 2-3 3-0) and their
 * derivatives. */
void face_shape(double x, double y, double n[8], double dx[8], double dy[8]);
