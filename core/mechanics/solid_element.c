/* solid_element.c - the 20-node brick: gradients, stiffness, forces, stress.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, MPa.  The loops over 20 nodes are written so that a compiler can run them in vectors. */
#include "solid_element.h"
#include <string.h>

#define ALWAYS_INLINE inline __attribute__((always_inline)) /* into both clones of its caller */

/* Local places of the nodes: quad corners and mid-edges at -1, the same at +1, then the edges
 * between. */
static const signed char place[20][3] = {
    {-1, -1, -1}, {1, -1, -1}, {1, 1, -1},  {-1, 1, -1}, {0, -1, -1}, {1, 0, -1}, {0, 1, -1},
    {-1, 0, -1},  {-1, -1, 1}, {1, -1, 1},  {1, 1, 1},   {-1, 1, 1},  {0, -1, 1}, {1, 0, 1},
    {0, 1, 1},    {-1, 0, 1},  {-1, -1, 0}, {1, -1, 0},  {1, 1, 0},   {-1, 1, 0}};

/* Derivatives of the serendipity functions at x. */
static void shape_derivatives(const double x[3], double d[3][20])
{
  for (int a = 0; a < 20; a++) {
    double p[3], f[3];
    int middle = -1;
    for (int k = 0; k < 3; k++) {
      p[k] = place[a][k];
      f[k] = 1 + p[k] * x[k];
      if (place[a][k] == 0)
        middle = k;
    }
    for (int k = 0; k < 3; k++) {
      int i = (k + 1) % 3, j = (k + 2) % 3;
      if (middle < 0) /* corner: 1/8 fx fy fz (px + qy + rz - 2) */
        d[k][a] = p[k] / 8 * f[i] * f[j] * (2 * p[k] * x[k] + p[i] * x[i] + p[j] * x[j] - 1);
      else if (middle == k)
        d[k][a] = -x[k] / 2 * f[i] * f[j];
      else {
        int other = middle == i ? j : i;
        d[k][a] = p[k] / 4 * (1 - x[middle] * x[middle]) * f[other];
      }
    }
  }
}

void brick_table_init(BrickTable *table)
{
  double g = 1 / sqrt(3.0);
  for (int q = 0; q < BRICK_POINTS; q++) {
    double x[3] = {q & 1 ? g : -g, q & 2 ? g : -g, q & 4 ? g : -g};
    shape_derivatives(x, table->gauss[q]);
    for (int a = 0; a < 20; a++) {
      table->carry[a][q] = 1;
      for (int k = 0; k < 3; k++)
        table->carry[a][q] *= (1 + (q >> k & 1 ? 1 : -1) * place[a][k] / g) / 2;
    }
  }
  for (int a = 0; a < 20; a++) {
    double x[3] = {place[a][0], place[a][1], place[a][2]};
    shape_derivatives(x, table->node[a]);
  }
}

/* Four values of a row, wherever it lies. */
typedef double Four __attribute__((vector_size(32), aligned(8), may_alias));

#define FOUR(row) (*(const Four *)(row))

/* Derivatives of the shape functions and gradients are handed on as three rows of 20. */

/* Jacobian matrix and its determinant: j[k][i] = d x_i / d local k. */
static ALWAYS_INLINE double jacobian(const double d[60], double at[20][4], Four j[3])
{
  Four sum[3] = {{0}};
  for (int a = 0; a < 20; a++) {
    Four x = FOUR(at[a]);
    for (int k = 0; k < 3; k++)
      sum[k] += d[20 * k + a] * x;
  }
  for (int k = 0; k < 3; k++)
    j[k] = sum[k];
  return j[0][0] * (j[1][1] * j[2][2] - j[1][2] * j[2][1]) -
         j[0][1] * (j[1][0] * j[2][2] - j[1][2] * j[2][0]) +
         j[0][2] * (j[1][0] * j[2][1] - j[1][1] * j[2][0]);
}

static ALWAYS_INLINE void gradients(const double d[60], const Four j[3], double det,
                                    double grad[3][20])
{
  for (int i = 0; i < 3; i++) {
    double inverse[3];
    for (int k = 0; k < 3; k++) {
      int k1 = (k + 1) % 3, k2 = (k + 2) % 3, i1 = (i + 1) % 3, i2 = (i + 2) % 3;
      inverse[k] = (j[k1][i1] * j[k2][i2] - j[k1][i2] * j[k2][i1]) / det;
    }
    for (int a = 0; a < 20; a += 4)
      *(Four *)&grad[i][a] =
          inverse[0] * FOUR(&d[a]) + inverse[1] * FOUR(&d[20 + a]) + inverse[2] * FOUR(&d[40 + a]);
  }
}

WIDE double brick_init(Brick *brick, const BrickTable *table, double at[20][4], double turn,
                       int *worst)
{
  double sum = 0, least = INFINITY;
  Four j[3];
  *worst = 0;
  for (int q = 0; q < BRICK_POINTS; q++) {
    double det = jacobian(table->gauss[q][0], at, j) * turn;
    sum += det / BRICK_POINTS;
    if (!(det >= least)) {
      least = det;
      *worst = (q & 4 ? 8 : 0) + (q & 2 ? (q & 1 ? 2 : 3) : (q & 1));
    }
    brick->volume[q] = det;
    if (!(det > 0))
      return -1;
    gradients(table->gauss[q][0], j, det * turn, brick->grad[q]);
  }
  for (int a = 0; a < 20; a++) {
    double det = jacobian(table->node[a][0], at, j) * turn;
    if (!(det >= least)) {
      least = det;
      *worst = a;
    }
  }
  return least / sum;
}

WIDE void brick_grad_at_node(const BrickTable *table, double at[20][4], int i, double grad[3][20])
{
  Four j[3];
  double det = jacobian(table->node[i][0], at, j);
  gradients(table->node[i][0], j, det, grad);
}

/* Eight values of a row. */
typedef float Lanes __attribute__((vector_size(32)));

WIDE void brick_stiffness(const Brick *brick, Elastic elastic, const int order[BRICK_NODES],
                          BrickStiffness *stiffness)
{
  float l = (float)elastic.lambda, mu = (float)elastic.mu;
  union {
    Lanes lane[3];
    float at[24];
  } plain[BRICK_POINTS][3];
  memset(plain, 0, sizeof plain);
  for (int q = 0; q < BRICK_POINTS; q++)
    for (int i = 0; i < 3; i++)
      for (int a = 0; a < BRICK_NODES; a++)
        plain[q][i].at[a] = (float)brick->grad[q][i][order[a]];
  for (int a = 0; a < BRICK_NODES; a++)
    for (int v = a / 8; v < 3; v++) { /* the lower half: columns of node a, nodes b >= a */
      Lanes g[3][3] = {{{0}}};        /* integral of d N_a / d x_i times d N_b / d x_j */
      for (int q = 0; q < BRICK_POINTS; q++) {
        float w = (float)brick->volume[q];
        for (int i = 0; i < 3; i++) {
          float slope = w * plain[q][i].at[a];
          for (int j = 0; j < 3; j++)
            g[i][j] += slope * plain[q][j].lane[v];
        }
      }
      Lanes trace = mu * (g[0][0] + g[1][1] + g[2][2]);
      for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++) {
          Lanes k = l * g[i][j] + mu * g[j][i];
          if (i == j)
            k += trace;
          memcpy(&stiffness->k[a][i][j][8 * v], &k, sizeof k);
        }
    }
}

/* g[k][3 c + i] = d u_i / d x_k of load c. */
static ALWAYS_INLINE void displacement_gradient(const double grad[60], NodeValues u, double g[3][8])
{
  Four sum[3][2] = {{{0}}};
  for (int a = 0; a < 20; a++) {
    Four u0 = FOUR(u[a]), u1 = FOUR(u[a] + 4);
    for (int k = 0; k < 3; k++) {
      sum[k][0] += grad[20 * k + a] * u0;
      sum[k][1] += grad[20 * k + a] * u1;
    }
  }
  memcpy(g, sum, sizeof sum);
}

static ALWAYS_INLINE void stress_of(double g[3][8], int c, Elastic m, double s[6])
{
  int x = 3 * c, y = x + 1, z = x + 2;
  double trace = m.lambda * (g[0][x] + g[1][y] + g[2][z]);
  s[0] = trace + 2 * m.mu * g[0][x];
  s[1] = trace + 2 * m.mu * g[1][y];
  s[2] = trace + 2 * m.mu * g[2][z];
  s[3] = m.mu * (g[0][y] + g[1][x]);
  s[4] = m.mu * (g[1][z] + g[2][y]);
  s[5] = m.mu * (g[2][x] + g[0][z]);
}

WIDE void brick_stress(double grad[3][20], Elastic m, NodeValues u, double stress[UNIT_LOAD_N][6])
{
  double g[3][8];
  displacement_gradient(grad[0], u, g);
  for (int c = 0; c < UNIT_LOAD_N; c++)
    stress_of(g, c, m, stress[c]);
}

WIDE void brick_forces(const Brick *brick, Elastic m, NodeValues u, NodeValues force)
{
  static const int tensor[3][3] = {{0, 3, 5}, {3, 1, 4}, {5, 4, 2}};
  for (int q = 0; q < BRICK_POINTS; q++) {
    double g[3][8], s[6], t[3][8] = {0};
    displacement_gradient(brick->grad[q][0], u, g);
    for (int c = 0; c < UNIT_LOAD_N; c++) {
      stress_of(g, c, m, s);
      for (int k = 0; k < 3; k++)
        for (int i = 0; i < 3; i++)
          t[k][3 * c + i] = s[tensor[i][k]] * brick->volume[q];
    }
    Four t0[3], t1[3];
    for (int k = 0; k < 3; k++)
      t0[k] = FOUR(t[k]), t1[k] = FOUR(t[k] + 4);
    for (int a = 0; a < 20; a++) {
      Four *f = (Four *)force[a];
      for (int k = 0; k < 3; k++) {
        f[0] += brick->grad[q][k][a] * t0[k];
        f[1] += brick->grad[q][k][a] * t1[k];
      }
    }
  }
}

void face_shape(double x, double y, double n[8], double dx[8], double dy[8])
{
  static const double px[8] = {-1, 1, 1, -1, 0, 1, 0, -1}, py[8] = {-1, -1, 1, 1, -1, 0, 1, 0};
  for (int i = 0; i < 4; i++) {
    double a = 1 + px[i] * x, b = 1 + py[i] * y;
    n[i] = a * b * (px[i] * x + py[i] * y - 1) / 4;
    dx[i] = px[i] * b * (2 * px[i] * x + py[i] * y) / 4;
    dy[i] = py[i] * a * (px[i] * x + 2 * py[i] * y) / 4;
  }
  for (int i = 4; i < 8; i += 2) {
    double b = 1 + py[i] * y, a = 1 + px[i + 1] * x;
    n[i] = (1 - x * x) * b / 2, dx[i] = -x * b, dy[i] = (1 - x * x) * py[i] / 2;
    n[i + 1] = (1 - y * y) * a / 2, dx[i + 1] = (1 - y * y) * px[i + 1] / 2, dy[i + 1] = -y * a;
  }
}
