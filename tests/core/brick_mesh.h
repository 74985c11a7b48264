/* brick_mesh.h - a block of the product's bricks bent into any shape, solved by sparse Cholesky.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa.  The block is n[0] x n[1] x n[2] bricks; nodes sit on a lattice of half steps, none
 * where two indices are odd.  Only brick, products, block and stress come from the product: mesh,
 * loads and solution are the test's own. */
#pragma once
#include <glib.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "mechanics/solid_element.h"
#include <suitesparse/cholmod.h>

typedef struct {
  int n[3], nodes;
  int *id;             /* lattice, -1 = no node */
  Vec3 *at;            /* nodes */
  bool *held;          /* 3 a node: `u` is prescribed */
  double *u, *force;   /* 3 a node */
  double (*stress)[6]; /* nodes, both recoveries averaged, after brick_mesh_solve() */
} BrickMesh;

/* Place of the lattice point at (a, b, c), each in [0, 1]. */
typedef Vec3 (*BrickMap)(double a, double b, double c);

/* Lattice indices in half steps. */
static inline int brick_mesh_node(const BrickMesh *m, int i, int j, int k)
{
  return m->id[(i * (2 * m->n[1] + 1) + j) * (2 * m->n[2] + 1) + k];
}

static inline void brick_mesh_init(BrickMesh *m, int ni, int nj, int nk, BrickMap map)
{
  *m = (BrickMesh){.n = {ni, nj, nk}};
  size_t room = (size_t)((2 * ni + 1) * (2 * nj + 1) * (2 * nk + 1)), at = 0;
  m->id = g_new(int, room);
  m->at = g_new0(Vec3, room);
  for (int i = 0; i <= 2 * ni; i++)
    for (int j = 0; j <= 2 * nj; j++)
      for (int k = 0; k <= 2 * nk; k++, at++) {
        m->id[at] = i % 2 + j % 2 + k % 2 > 1 ? -1 : m->nodes++;
        if (m->id[at] >= 0)
          m->at[m->id[at]] = map(i / (2.0 * ni), j / (2.0 * nj), k / (2.0 * nk));
      }
  size_t unknowns = 3 * (size_t)m->nodes;
  m->held = g_new0(bool, unknowns);
  m->u = g_new0(double, unknowns);
  m->force = g_new0(double, unknowns);
  m->stress = g_malloc0((size_t)m->nodes * sizeof *m->stress);
}

static inline void brick_mesh_clear(BrickMesh *m)
{
  g_free(m->id);
  g_free(m->at);
  g_free(m->held);
  g_free(m->u);
  g_free(m->force);
  g_free(m->stress);
}

static inline void brick_mesh_hold(BrickMesh *m, int node, int axis, double value)
{
  m->held[3 * node + axis] = true;
  m->u[3 * node + axis] = value;
}

/* Nodes of brick (i, j, k) in the order of solid_mesh.h: the third lattice axis runs from the near
 * section to the far one. */
static inline void brick_mesh_brick(const BrickMesh *m, int i, int j, int k, int node[20])
{
  static const int quad[8][2] = {{0, 0}, {2, 0}, {2, 2}, {0, 2}, {1, 0}, {2, 1}, {1, 2}, {0, 1}};
  for (int a = 0; a < 20; a++) {
    int q = a < 16 ? a % 8 : a - 16, up = a < 8 ? 0 : a < 16 ? 2 : 1;
    node[a] = brick_mesh_node(m, 2 * i + quad[q][0], 2 * j + quad[q][1], 2 * k + up);
  }
}

/* Adds pressure-like forces on the far face of the third axis: weight(place) per mm2. */
static inline void brick_mesh_load(BrickMesh *m, Vec3 (*traction)(Vec3 place))
{
  static const double spot[3] = {-0.774596669241483377, 0, 0.774596669241483377},
                      weight[3] = {5.0 / 9, 8.0 / 9, 5.0 / 9};
  for (int e = 0; e < m->n[0] * m->n[1]; e++) {
    int node[20];
    brick_mesh_brick(m, e / m->n[1], e % m->n[1], m->n[2] - 1, node);
    for (int g = 0; g < 9; g++) {
      double n[8], dx[8], dy[8];
      Vec3 p = {0, 0, 0}, a = p, b = p;
      face_shape(spot[g % 3], spot[g / 3], n, dx, dy);
      for (int i = 0; i < 8; i++) {
        Vec3 v = m->at[node[8 + i]];
        p.x += n[i] * v.x, p.y += n[i] * v.y, p.z += n[i] * v.z;
        a.x += dx[i] * v.x, a.y += dx[i] * v.y, a.z += dx[i] * v.z;
        b.x += dy[i] * v.x, b.y += dy[i] * v.y, b.z += dy[i] * v.z;
      }
      double cx = a.y * b.z - a.z * b.y, cy = a.z * b.x - a.x * b.z, cz = a.x * b.y - a.y * b.x;
      double area = sqrt(cx * cx + cy * cy + cz * cz) * weight[g % 3] * weight[g / 3];
      Vec3 t = traction(p);
      for (int i = 0; i < 8; i++) {
        double *f = &m->force[3 * node[8 + i]];
        f[0] += n[i] * area * t.x, f[1] += n[i] * area * t.y, f[2] += n[i] * area * t.z;
      }
    }
  }
}

static inline void brick_mesh_shape(const BrickMesh *m, size_t brick, int node[20],
                                    double at[20][4])
{
  int e = (int)brick;
  brick_mesh_brick(m, e / (m->n[1] * m->n[2]), e / m->n[2] % m->n[1], e % m->n[2], node);
  for (int a = 0; a < 20; a++) {
    Vec3 p = m->at[node[a]];
    at[a][0] = p.x, at[a][1] = p.y, at[a][2] = p.z, at[a][3] = 0;
  }
}

/* The bricks; a flat angle at a corner node is no fault here: Gauss points count.  Owned. */
static inline Brick *brick_mesh_bricks(const BrickMesh *m, const BrickTable *table, size_t n)
{
  Brick *brick = g_new(Brick, n);
  for (size_t e = 0; e < n; e++) {
    int node[20], worst;
    double at[20][4];
    brick_mesh_shape(m, e, node, at);
    g_assert_cmpfloat(brick_init(&brick[e], table, at, 1, &worst), >, -0.2);
    for (int g = 0; g < BRICK_POINTS; g++)
      g_assert_cmpfloat(brick[e].volume[g], >, 0);
  }
  return brick;
}

/* What the nodes still lack: force - K u, in double precision. */
static inline void brick_mesh_residual(const BrickMesh *m, const Brick brick[], size_t n,
                                       Elastic elastic, double residual[])
{
  memcpy(residual, m->force, 3 * (size_t)m->nodes * sizeof *residual);
  for (size_t e = 0; e < n; e++) {
    int node[20];
    double at[20][4];
    NodeValues u = {{0}}, force = {{0}};
    brick_mesh_shape(m, e, node, at);
    for (int a = 0; a < 20; a++)
      memcpy(u[a], &m->u[3 * node[a]], 3 * sizeof(double));
    brick_forces(&brick[e], elastic, u, force);
    for (int a = 0; a < 20; a++)
      for (int i = 0; i < 3; i++)
        residual[3 * node[a] + i] -= force[a][i];
  }
}

/* The stiffness blocks between unknowns; row: 3 a node, equation or -1. */
static inline void brick_mesh_assemble(const BrickMesh *m, const Brick brick[], size_t n,
                                       Elastic elastic, const int row[], cholmod_triplet *k)
{
  for (size_t e = 0; e < n; e++) {
    int node[20];
    double at[20][4];
    BrickStiffness stiffness;
    static const int order[20] = {0,  1,  2,  3,  4,  5,  6,  7,  8,  9,
                                  10, 11, 12, 13, 14, 15, 16, 17, 18, 19};
    brick_mesh_shape(m, e, node, at);
    brick_stiffness(&brick[e], elastic, order, &stiffness);
    for (int ab = 0; ab < 400; ab++) {
      int a = ab / 20, b = ab % 20;
      for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++) {
          int r = row[3 * node[a] + i], c = row[3 * node[b] + j];
          if (r < 0 || c < r)
            continue;
          ((int *)k->i)[k->nnz] = r;
          ((int *)k->j)[k->nnz] = c;
          ((double *)k->x)[k->nnz++] =
              (double)(b >= a ? stiffness.k[a][i][j][b] : stiffness.k[b][j][i][a]);
        }
    }
  }
}

/* Mean of the stress carried from the Gauss points and of the direct one, averaged at nodes. */
static inline void brick_mesh_recover(BrickMesh *m, const BrickTable *table, const Brick brick[],
                                      size_t n, Elastic elastic)
{
  int *count = g_new0(int, m->nodes);
  for (size_t e = 0; e < n; e++) {
    int node[20];
    double at[20][4], s[BRICK_POINTS][UNIT_LOAD_N][6], direct[UNIT_LOAD_N][6], grad[3][20];
    NodeValues u = {{0}};
    brick_mesh_shape(m, e, node, at);
    for (int a = 0; a < 20; a++)
      memcpy(u[a], &m->u[3 * node[a]], 3 * sizeof(double));
    for (int g = 0; g < BRICK_POINTS; g++) {
      memcpy(grad, brick[e].grad[g], sizeof grad);
      brick_stress(grad, elastic, u, s[g]);
    }
    for (int a = 0; a < 20; a++) {
      brick_grad_at_node(table, at, a, grad);
      brick_stress(grad, elastic, u, direct);
      for (int i = 0; i < 6; i++) {
        double carried = 0;
        for (int g = 0; g < BRICK_POINTS; g++)
          carried += table->carry[a][g] * s[g][0][i];
        m->stress[node[a]][i] += (carried + direct[0][i]) / 2;
      }
      count[node[a]]++;
    }
  }
  for (int k = 0; k < m->nodes; k++)
    for (int i = 0; i < 6; i++)
      m->stress[k][i] /= count[k];
  g_free(count);
}

#define BRICK_MESH_STEPS 30
#define BRICK_MESH_LEFT 1e-9 /* of the forces at the start */

/* Displacements and stresses: the single-precision stiffness is factored, the residual in double
 * brings the answer to its end, as in the product. */
static inline void brick_mesh_solve(BrickMesh *m, double young, double nu)
{
  Elastic elastic = {young * nu / ((1 + nu) * (1 - 2 * nu)), young * 0.5 / (1 + nu)};
  BrickTable table;
  cholmod_common common;
  size_t n = 0, bricks = (size_t)(m->n[0] * m->n[1] * m->n[2]), unknowns = 3 * (size_t)m->nodes;
  brick_table_init(&table);
  cholmod_start(&common);
  g_autofree int *row = g_new(int, unknowns);
  g_autofree double *residual = g_new(double, unknowns);
  for (size_t i = 0; i < unknowns; i++)
    row[i] = m->held[i] ? -1 : (int)n++;
  g_autofree Brick *brick = brick_mesh_bricks(m, &table, bricks);
  cholmod_triplet *entries =
      cholmod_allocate_triplet(n, n, bricks * 1830, 1, CHOLMOD_REAL, &common);
  cholmod_dense *right = cholmod_zeros(n, 1, CHOLMOD_REAL, &common);
  g_assert_true(entries && right);
  brick_mesh_assemble(m, brick, bricks, elastic, row, entries);
  cholmod_sparse *k = cholmod_triplet_to_sparse(entries, 0, &common);
  cholmod_factor *factor = cholmod_analyze(k, &common);
  g_assert_true(cholmod_factorize(k, factor, &common) && common.status == CHOLMOD_OK);
  double first = 0, left = INFINITY;
  for (int step = 0; step <= BRICK_MESH_STEPS && left > BRICK_MESH_LEFT * first; step++) {
    left = 0;
    brick_mesh_residual(m, brick, bricks, elastic, residual);
    for (size_t i = 0; i < unknowns; i++)
      if (row[i] >= 0) {
        ((double *)right->x)[row[i]] = residual[i];
        left += residual[i] * residual[i];
      }
    left = sqrt(left);
    first = step == 0 ? left : first;
    cholmod_dense *more = cholmod_solve(CHOLMOD_A, factor, right, &common);
    g_assert_nonnull(more);
    for (size_t i = 0; i < unknowns; i++)
      if (row[i] >= 0)
        m->u[i] += ((double *)more->x)[row[i]];
    cholmod_free_dense(&more, &common);
  }
  g_assert_cmpfloat(left, <=, BRICK_MESH_LEFT * first);
  cholmod_free_dense(&right, &common);
  cholmod_free_factor(&factor, &common);
  cholmod_free_sparse(&k, &common);
  cholmod_free_triplet(&entries, &common);
  cholmod_finish(&common);
  brick_mesh_recover(m, &table, brick, bricks, elastic);
}
