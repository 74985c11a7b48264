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

/* Values of both loads, and where a row of the panel stands among them. */
typedef struct {
  float *x[UNIT_LOAD_N];
} Both;

static ALWAYS_INLINE Both rows_at(const CutList *cuts, int row, float *mine[UNIT_LOAD_N],
                                  float *before[UNIT_LOAD_N])
{
  bool own = row < cuts->own;
  return (Both){{own ? mine[0] + row : before[0] + (row - cuts->own),
                 own ? mine[1] + row : before[1] + (row - cuts->own)}};
}

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

/* One column, where four are too many. */
static ALWAYS_INLINE void column_down(const CutList *cuts, const Cut *cut, const float *column,
                                      int j, float *mine[UNIT_LOAD_N], float *before[UNIT_LOAD_N])
{
  for (int c = 0; c < UNIT_LOAD_N; c++) {
    float a = mine[c][j] /= column[j];
    for (int i = j + 1; i < cut->columns.first + cut->columns.n; i++)
      mine[c][i] -= column[i] * a;
    for (int r = 0; r < cut->n; r++) {
      const float *l = column + cut->rows[r].first;
      float *x = rows_at(cuts, cut->rows[r].first, mine, before).x[c];
      for (int i = 0; i < cut->rows[r].n; i++)
        x[i] -= l[i] * a;
    }
  }
}

WIDE void layer_down(const CutList *cuts, const float *panel, float *mine[UNIT_LOAD_N],
                     float *before[UNIT_LOAD_N])
{
  size_t ld = (size_t)cuts->ld;
  for (const Cut *cut = cuts->cut; cut < cuts->cut + cuts->n; cut++) {
    int j = cut->columns.first, end = j + cut->columns.n;
    for (; j + COLUMNS <= end; j += COLUMNS) {
      const float *column = panel + (size_t)j * ld, *l = column + j;
      float a[UNIT_LOAD_N][COLUMNS];
      for (int c = 0; c < UNIT_LOAD_N; c++)
        for (int k = 0; k < COLUMNS; k++) {
          float value = mine[c][j + k];
          for (int m = 0; m < k; m++)
            value -= l[(size_t)m * ld + (size_t)k] * a[c][m];
          mine[c][j + k] = a[c][k] = value / l[(size_t)k * ld + (size_t)k];
        }
      columns_subtract(l + COLUMNS, ld, end - j - COLUMNS, a, mine[0] + j + COLUMNS,
                       mine[1] + j + COLUMNS);
      for (int r = 0; r < cut->n; r++) {
        Both to = rows_at(cuts, cut->rows[r].first, mine, before);
        columns_subtract(column + cut->rows[r].first, ld, cut->rows[r].n, a, to.x[0], to.x[1]);
      }
    }
    for (; j < end; j++)
      column_down(cuts, cut, panel + (size_t)j * ld, j, mine, before);
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

static ALWAYS_INLINE void column_up(const CutList *cuts, const Cut *cut, const float *column, int j,
                                    float *mine[UNIT_LOAD_N], float *before[UNIT_LOAD_N])
{
  for (int c = 0; c < UNIT_LOAD_N; c++) {
    float sum = 0;
    for (int i = j + 1; i < cut->columns.first + cut->columns.n; i++)
      sum += column[i] * mine[c][i];
    for (int r = 0; r < cut->n; r++) {
      const float *l = column + cut->rows[r].first,
                  *x = rows_at(cuts, cut->rows[r].first, mine, before).x[c];
      for (int i = 0; i < cut->rows[r].n; i++)
        sum += l[i] * x[i];
    }
    mine[c][j] = (mine[c][j] - sum) / column[j];
  }
}

WIDE void layer_up(const CutList *cuts, const float *panel, float *mine[UNIT_LOAD_N],
                   float *before[UNIT_LOAD_N])
{
  size_t ld = (size_t)cuts->ld;
  for (const Cut *cut = cuts->cut + cuts->n - 1; cut >= cuts->cut; cut--) {
    int end = cut->columns.first + cut->columns.n, whole = end - cut->columns.n % COLUMNS;
    for (int j = end - 1; j >= whole; j--)
      column_up(cuts, cut, panel + (size_t)j * ld, j, mine, before);
    for (int j = whole - COLUMNS; j >= cut->columns.first; j -= COLUMNS) {
      const float *column = panel + (size_t)j * ld, *l = column + j;
      float sum[UNIT_LOAD_N][COLUMNS] = {0};
      columns_dot(l + COLUMNS, ld, end - j - COLUMNS, mine[0] + j + COLUMNS, mine[1] + j + COLUMNS,
                  sum);
      for (int r = 0; r < cut->n; r++) {
        Both from = rows_at(cuts, cut->rows[r].first, mine, before);
        columns_dot(column + cut->rows[r].first, ld, cut->rows[r].n, from.x[0], from.x[1], sum);
      }
      for (int c = 0; c < UNIT_LOAD_N; c++)
        for (int k = COLUMNS - 1; k >= 0; k--) {
          float value = mine[c][j + k] - sum[c][k];
          for (int m = k + 1; m < COLUMNS; m++)
            value -= l[(size_t)k * ld + (size_t)m] * mine[c][j + m];
          mine[c][j + k] = value / l[(size_t)k * ld + (size_t)k];
        }
    }
  }
}
