/* solid_element.h - the 20-node brick: gradients, stiffness, forces, stress.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to solid*.c.  mm, MPa.  2 x 2 x 2 Gauss points.  Node order: solid_mesh.h.  Shape
 * functions: core/SOURCES.md "20-node brick". */
#pragma once
#include "base/vec.h"
#include "mechanics/field.h"

#define BRICK_NODES 20
#define BRICK_POINTS 8

/* Compiled twice, for wide vectors and without; chosen when the program starts. */
#if defined(__GNUC__) && !defined(__clang__) && defined(__x86_64__)
#define WIDE __attribute__((target_clones("arch=x86-64-v3", "default")))
#else
#define WIDE
#endif

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
/* Stiffness, lower half in the order asked: k[a][i][j][b] stands between node order[a] along i and
 * node order[b] along j, for b >= a. */
typedef struct {
  float k[BRICK_NODES][3][3][24];
} BrickStiffness;
void brick_stiffness(const Brick *brick, Elastic elastic, const int order[BRICK_NODES],
                     BrickStiffness *stiffness);
/* Adds the node forces of the displacements of both unit loads. */
void brick_forces(const Brick *brick, Elastic m, NodeValues u, NodeValues force);
void brick_stress(double grad[3][20], Elastic m, NodeValues u, double stress[UNIT_LOAD_N][6]);
/* Shape functions of an 8-node face (corners, then mid-edges 0-1 1-2 2-3 3-0) and their
 * derivatives. */
void face_shape(double x, double y, double n[8], double dx[8], double dy[8]);
