/* solid_layer.c - one layer of the chain: its stiffness assembled, and both loads taken through its
 * factor. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Four columns at a time: a right-hand side is then read and written a quarter as often. */
#include "solid_layer.h"
#include <string.h>

#define COLUMNS 4
#define LANES 8
#define ALWAYS_INLINE inline __attribute__((always_inline)) /* into both clones of its caller */

int layer_own(const SolidMesh *mesh)
{
  return mesh->section_dofs + mesh->middle_dofs;
}

int layer_before(const SolidMesh *mesh, int arm, int k)
{
  return k == 0 ? 0 : mesh->arm[arm].first_dof + (k - 1) * layer_own(mesh) + mesh->middle_dofs;
}

/* ---- assembly ---- */

/* Where a node's unknowns stand in the panel: node 0 to 19 of the brick, directions from .. to - 1.
 */
typedef struct {
  int node, first, from, to;
} Place;

/* Places of a brick's nodes, from the first unknowns to the last. */
static void places_sort(const SolidMesh *mesh, const int node[BRICK_NODES], int first, int own,
                        int near, Place place[BRICK_NODES])
{
  for (int a = 0; a < BRICK_NODES; a++) {
    const int *dof = mesh->dof[node[a]];
    int along = dof[0] < 0 ? 2 : 0, d = dof[along]; /* three, or on z = 0 x and y, or z alone */
    Place p = {a, d >= first ? d - first : own + d - near, along, dof[2] < 0 ? 2 : 3};
    int i = a;
    for (; i > 0 && place[i - 1].first > p.first; i--)
      place[i] = place[i - 1];
    place[i] = p;
  }
}

/* Adds one column of a brick's stiffness, from node b on; row[i][a] < 0: held. */
static void column_add(float k[3][24], int row[3][BRICK_NODES], int b, int j, float *column)
{
  for (int i = 0; i < 3; i++)
    for (int a = i < j ? b + 1 : b; a < BRICK_NODES; a++)
      if (row[i][a] >= 0)
        column[row[i][a]] += k[i][a];
}

void layer_assemble(const SolidMesh *mesh, int arm, int k, const Brick brick[], Elastic elastic,
                    float *panel, float *before, int ld_before)
{
  int own = layer_own(mesh), first = mesh->arm[arm].first_dof + k * own,
      near = layer_before(mesh, arm, k);
  size_t ld_panel = (size_t)(own + mesh->section_dofs);
  BrickStiffness stiffness;
  for (int q = 0; q < mesh->pattern.quads; q++) {
    int node[BRICK_NODES], order[BRICK_NODES], row[3][BRICK_NODES];
    Place place[BRICK_NODES];
    solid_brick(mesh, arm, k, q, node);
    places_sort(mesh, node, first, own, near, place);
    for (int a = 0; a < BRICK_NODES; a++) {
      order[a] = place[a].node;
      for (int i = 0; i < 3; i++)
        row[i][a] = i >= place[a].from && i < place[a].to ? place[a].first + i - place[a].from : -1;
    }
    brick_stiffness(&brick[q], elastic, order, &stiffness);
    for (int b = 0; b < BRICK_NODES; b++) {
      bool mine = place[b].first < own;
      size_t ld = mine ? ld_panel : (size_t)ld_before;
      float *column = mine ? panel + (size_t)place[b].first * ld
                           : before + (size_t)(place[b].first - own) * ld - own;
      for (int j = place[b].from; j < place[b].to; j++, column += ld)
        column_add(stiffness.k[b][j], row, b, j, column);
    }
  }
}

/* ---- both loads through a factored panel ---- */

/* x[c][i] -= sum over the columns of l[i] a[c] */
static ALWAYS_INLINE void columns_subtract(const float *restrict l, size_t ld, int n,
                                           float a[UNIT_LOAD_N][COLUMNS], float *restrict x0,
                                           float *restrict x1)
{
  const float *l0 = l, *l1 = l + ld, *l2 = l + 2 * ld, *l3 = l + 3 * ld;
  for (int i = 0; i < n; i++) {
    x0[i] -= l0[i] * a[0][0] + l1[i] * a[0][1] + l2[i] * a[0][2] + l3[i] * a[0][3];
    x1[i] -= l0[i] * a[1][0] + l1[i] * a[1][1] + l2[i] * a[1][2] + l3[i] * a[1][3];
  }
}

WIDE void layer_down(const float *panel, int own, int section, float *mine[UNIT_LOAD_N],
                     float *before[UNIT_LOAD_N])
{
  size_t ld = (size_t)(own + section);
  int j = 0;
  for (; j + COLUMNS <= own; j += COLUMNS) {
    const float *l = panel + (size_t)j * ld + j;
    float a[UNIT_LOAD_N][COLUMNS];
    for (int c = 0; c < UNIT_LOAD_N; c++)
      for (int k = 0; k < COLUMNS; k++) {
        float value = mine[c][j + k];
        for (int m = 0; m < k; m++)
          value -= l[(size_t)m * ld + (size_t)k] * a[c][m];
        mine[c][j + k] = a[c][k] = value / l[(size_t)k * ld + (size_t)k];
      }
    int rest = own - j - COLUMNS;
    columns_subtract(l + COLUMNS, ld, rest, a, mine[0] + j + COLUMNS, mine[1] + j + COLUMNS);
    columns_subtract(l + COLUMNS + rest, ld, section, a, before[0], before[1]);
  }
  for (; j < own; j++) {
    const float *l = panel + (size_t)j * ld + j;
    for (int c = 0; c < UNIT_LOAD_N; c++) {
      float a = mine[c][j] /= l[0];
      for (int i = 1; i < own - j; i++)
        mine[c][j + i] -= l[i] * a;
      for (int i = 0; i < section; i++)
        before[c][i] -= l[own - j + i] * a;
    }
  }
}

/* Eight values anywhere in memory. */
typedef float Lanes __attribute__((vector_size(4 * LANES), aligned(4), may_alias));

/* sum[c][k] += sum over i of l_k[i] x_c[i], for the columns k */
static ALWAYS_INLINE void columns_dot(const float *l, size_t ld, int n, const float *x0,
                                      const float *x1, float sum[UNIT_LOAD_N][COLUMNS])
{
  Lanes part[UNIT_LOAD_N][COLUMNS] = {{{0}}};
  int i = 0;
  for (; i + LANES <= n; i += LANES) {
    Lanes v0 = *(const Lanes *)(x0 + i), v1 = *(const Lanes *)(x1 + i);
    for (size_t k = 0; k < COLUMNS; k++) {
      Lanes column = *(const Lanes *)(l + k * ld + i);
      part[0][k] += column * v0;
      part[1][k] += column * v1;
    }
  }
  for (size_t k = 0; k < COLUMNS; k++) {
    for (int v = 0; v < LANES; v++) {
      sum[0][k] += part[0][k][v];
      sum[1][k] += part[1][k][v];
    }
    for (int m = i; m < n; m++) {
      sum[0][k] += l[k * ld + (size_t)m] * x0[m];
      sum[1][k] += l[k * ld + (size_t)m] * x1[m];
    }
  }
}

static void column_up(const float *l, int rest, int section, float *mine, const float *before)
{
  float sum = 0;
  for (int i = 1; i <= rest; i++)
    sum += l[i] * mine[i];
  for (int i = 0; i < section; i++)
    sum += l[1 + rest + i] * before[i];
  mine[0] = (mine[0] - sum) / l[0];
}

WIDE void layer_up(const float *panel, int own, int section, float *mine[UNIT_LOAD_N],
                   float *before[UNIT_LOAD_N])
{
  size_t ld = (size_t)(own + section);
  int whole = own - own % COLUMNS;
  for (int j = own - 1; j >= whole; j--)
    for (int c = 0; c < UNIT_LOAD_N; c++)
      column_up(panel + (size_t)j * ld + j, own - j - 1, section, mine[c] + j, before[c]);
  for (int j = whole - COLUMNS; j >= 0; j -= COLUMNS) {
    const float *l = panel + (size_t)j * ld + j;
    float sum[UNIT_LOAD_N][COLUMNS] = {0};
    int rest = own - j - COLUMNS;
    columns_dot(l + COLUMNS, ld, rest, mine[0] + j + COLUMNS, mine[1] + j + COLUMNS, sum);
    columns_dot(l + COLUMNS + rest, ld, section, before[0], before[1], sum);
    for (int c = 0; c < UNIT_LOAD_N; c++)
      for (int k = COLUMNS - 1; k >= 0; k--) {
        float value = mine[c][j + k] - sum[c][k];
        for (int m = k + 1; m < COLUMNS; m++)
          value -= l[(size_t)k * ld + (size_t)m] * mine[c][j + m];
        mine[c][j + k] = value / l[(size_t)k * ld + (size_t)k];
      }
  }
}
