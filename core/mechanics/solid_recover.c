/* solid_recover.c - node stresses of a solved mesh.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * MPa for the unit loads. */
#include "solid_recover.h"
#include <stdlib.h>
#include <string.h>

static Fault room_make(NodeStress *s, size_t nodes)
{
  if (nodes <= s->room)
    return FAULT_NONE;
  node_stress_clear(s);
  s->extrapolated = malloc(nodes * sizeof *s->extrapolated);
  s->direct = malloc(nodes * sizeof *s->direct);
  s->stress = malloc(nodes * sizeof *s->stress);
  s->count = malloc(nodes * sizeof *s->count);
  s->count_direct = malloc(nodes * sizeof *s->count_direct);
  if (!s->extrapolated || !s->direct || !s->stress || !s->count || !s->count_direct) {
    node_stress_clear(s);
    return FAULT_MEMORY;
  }
  s->room = nodes;
  return FAULT_NONE;
}

void node_stress_clear(NodeStress *s)
{
  free(s->extrapolated);
  free(s->direct);
  free(s->stress);
  free(s->count);
  free(s->count_direct);
  *s = (NodeStress){0};
}

/* Gauss values of both loads carried to the nodes of a brick. */
static void carry_add(NodeStress *s, const BrickTable *table, const int node[BRICK_NODES],
                      double gauss[BRICK_POINTS][UNIT_LOAD_N][6])
{
  for (int a = 0; a < 20; a++) {
    float *to = &s->extrapolated[node[a]][0][0];
    double sum[12] = {0};
    for (int q = 0; q < BRICK_POINTS; q++)
      for (int i = 0; i < 12; i++)
        sum[i] += table->carry[a][q] * (&gauss[q][0][0])[i];
    for (int i = 0; i < 12; i++)
      to[i] += (float)sum[i];
    s->count[node[a]]++;
  }
}

/* Direct values at the nodes of a brick of the outermost ring. */
static void direct_add(NodeStress *s, const SolidMesh *mesh, const BrickTable *table,
                       const int node[BRICK_NODES], Elastic elastic, NodeValues u)
{
  double at[20][4], grad[3][20], value[UNIT_LOAD_N][6];
  for (int a = 0; a < 20; a++) {
    Vec3 p = mesh->at[node[a]];
    at[a][0] = p.x, at[a][1] = p.y, at[a][2] = p.z, at[a][3] = 0;
  }
  for (int i = 0; i < 20; i++) {
    int n = node[i];
    brick_grad_at_node(table, at, i, grad);
    brick_stress(grad, elastic, u, value);
    for (int c = 0; c < UNIT_LOAD_N; c++)
      for (int k = 0; k < 6; k++)
        s->direct[n][c][k] += (float)value[c][k];
    s->count_direct[n]++;
  }
}

/* What the mirror planes allow: across the neck the first load of a pair is even (bending, sideways
 * bending) and the second odd (shear, twist); across z = 0 both are what their pair is. */
static void planes_clean(float v[UNIT_LOAD_N][6], LoadPair pair, bool neck, bool line)
{
  for (int c = 0; c < UNIT_LOAD_N; c++)
    for (int k = 0; k < 6; k++) {
      bool crossing_x = k == 3 || k == 5, crossing_z = k == 4 || k == 5;
      if ((neck && crossing_x == (c == UNIT_BEND)) || (line && crossing_z == (pair == PAIR_EVEN)))
        v[c][k] = 0;
    }
}

static void average(NodeStress *s, const SolidMesh *mesh)
{
  for (int n = 0; n < mesh->nodes; n++) {
    bool neck = mesh->mirror_x &&
                n<mesh->pattern.nodes, line = solid_on_line(mesh, n), face = s->count_direct[n]> 0;
    float *e = &s->extrapolated[n][0][0], *d = &s->direct[n][0][0], *out = &s->stress[n][0][0];
    for (int i = 0; i < 12; i++) {
      e[i] /= (float)(s->count[n] > 0 ? s->count[n] : 1);
      d[i] = face ? d[i] / (float)s->count_direct[n] : e[i];
    }
    planes_clean(s->extrapolated[n], mesh->pair, neck, line);
    planes_clean(s->direct[n], mesh->pair, neck, line);
    for (int i = 0; i < 12; i++)
      out[i] = (e[i] + d[i]) / 2;
  }
}

Fault node_stress_make(NodeStress *s, const SolidMesh *mesh, const BrickTable *table,
                       const Brick brick[], Elastic elastic, double *u[UNIT_LOAD_N])
{
  size_t n = (size_t)mesh->nodes;
  Fault fault = room_make(s, n);
  if (fault)
    return fault;
  memset(s->extrapolated, 0, n * sizeof *s->extrapolated);
  memset(s->direct, 0, n * sizeof *s->direct);
  memset(s->count, 0, n * sizeof *s->count);
  memset(s->count_direct, 0, n * sizeof *s->count_direct);
  for (int arm = 0; arm < mesh->arms; arm++)
    for (int k = 0; k < mesh->arm[arm].layers; k++)
      for (int q = 0; q < mesh->pattern.quads; q++, brick++) {
        int node[BRICK_NODES];
        NodeValues value;
        double gauss[BRICK_POINTS][UNIT_LOAD_N][6];
        solid_brick(mesh, arm, k, q, node);
        brick_gather(mesh, node, u, value);
        for (int g = 0; g < BRICK_POINTS; g++) {
          double grad[3][20];
          memcpy(grad, brick->grad[g], sizeof grad);
          brick_stress(grad, elastic, value, gauss[g]);
        }
        carry_add(s, table, node, gauss);
        if (mesh->pattern.outer[q])
          direct_add(s, mesh, table, node, elastic, value);
      }
  average(s, mesh);
  return FAULT_NONE;
}
