/* plane_solve.c - assembly on the node graph, CHOLMOD, stress.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The graph of nodes, not of unknowns, is put in order (AMD); two unknowns a node follow it.  The
 * upper half of the matrix is written straight into its columns in that order, which CHOLMOD then
 * takes as it stands. */
#include "plane_solve.h"
#include "plane_element.h"
#include <stdlib.h>
#include <string.h>
#include <suitesparse/amd.h>
#include <suitesparse/cholmod.h>

struct PlaneFactor {
  cholmod_common common;
  cholmod_factor *factor;
  size_t n_node;
  int *place; /* node -> its place in the order                                */
  int *from;  /* place -> start of its neighbours in `to`                      */
  int *to;    /* neighbours of lower place, ascending                         */
  unsigned char *held;
};

Fault plane_factor_new(PlaneFactor **factor)
{
  PlaneFactor *made = calloc(1, sizeof *made);
  if (!made)
    return FAULT_MEMORY;
  cholmod_start(&made->common);
  made->common.print = 0;
  made->common.nmethods = 1;
  made->common.method[0].ordering = CHOLMOD_NATURAL;
  made->common.supernodal = CHOLMOD_SIMPLICIAL;
  made->common.postorder = 0; /* AMD has done it */
  *factor = made;
  return FAULT_NONE;
}

static void factor_clear(PlaneFactor *f)
{
  cholmod_free_factor(&f->factor, &f->common);
  free(f->place);
  free(f->from);
  free(f->to);
  free(f->held);
  f->place = f->from = f->to = NULL;
  f->held = NULL;
}

void plane_factor_free(PlaneFactor *factor)
{
  if (!factor)
    return;
  factor_clear(factor);
  cholmod_finish(&factor->common);
  free(factor);
}

/* ---- graph ---- */

static int int_order(const void *a, const void *b)
{
  int x = *(const int *)a, y = *(const int *)b;
  return (x > y) - (x < y);
}

/* Sorts and makes unique; returns the new count. */
static int sorted_unique(int *value, int n)
{
  for (int i = 1; i < n && n <= 48; i++) { /* short lists: insertion */
    int v = value[i], k = i;
    for (; k > 0 && value[k - 1] > v; k--)
      value[k] = value[k - 1];
    value[k] = v;
  }
  if (n > 48)
    qsort(value, (size_t)n, sizeof *value, int_order);
  int kept = 0;
  for (int i = 0; i < n; i++)
    if (kept == 0 || value[kept - 1] != value[i])
      value[kept++] = value[i];
  return kept;
}

/* Neighbour lists of the nodes, ascending. */
static Fault graph_make(const PlaneMesh *mesh, int **from, int **to)
{
  size_t n = mesh->n_node;
  int *start = calloc(n + 1, sizeof *start), *fill = malloc(n * sizeof *fill), *list = NULL;
  Fault fault = start && fill ? FAULT_NONE : FAULT_MEMORY;
  if (!fault) {
    for (size_t e = 0; e < mesh->n_element; e++)
      for (int i = 0; i < 6; i++)
        start[mesh->element[e].node[i] + 1] += 5;
    for (size_t i = 0; i < n; i++) {
      start[i + 1] += start[i];
      fill[i] = start[i];
    }
    list = malloc(((size_t)start[n] + 1) * sizeof *list);
    fault = list ? FAULT_NONE : FAULT_MEMORY;
  }
  if (fault) {
    free(start);
    free(fill);
    return fault;
  }
  for (size_t e = 0; e < mesh->n_element; e++)
    for (int i = 0; i < 6; i++)
      for (int k = 1; k < 6; k++)
        list[fill[mesh->element[e].node[i]]++] = mesh->element[e].node[(i + k) % 6];
  int kept = 0;
  for (size_t i = 0; i < n; i++) {
    int first = start[i], count = sorted_unique(&list[first], fill[i] - first);
    memmove(&list[kept], &list[first], (size_t)count * sizeof *list);
    start[i] = kept;
    kept += count;
  }
  start[n] = kept;
  free(fill);
  *from = start;
  *to = list;
  return FAULT_NONE;
}

/* The same lists for places in the order, only those of lower place. */
static Fault places_make(PlaneFactor *f, const int *order, const int *from, const int *to)
{
  size_t n = f->n_node;
  f->from = malloc((n + 1) * sizeof *f->from);
  f->to = malloc(((size_t)from[n] / 2 + 1) * sizeof *f->to);
  if (!f->from || !f->to)
    return FAULT_MEMORY;
  int kept = 0;
  for (size_t p = 0; p < n; p++) {
    int node = order[p], first = kept;
    f->from[p] = first;
    for (int k = from[node]; k < from[node + 1]; k++)
      if (f->place[to[k]] < (int)p)
        f->to[kept++] = f->place[to[k]];
    sorted_unique(&f->to[first], kept - first);
  }
  f->from[n] = kept;
  return FAULT_NONE;
}

static Fault order_make(PlaneFactor *f, const PlaneMesh *mesh)
{
  size_t n = mesh->n_node;
  int *from = NULL, *to = NULL, *order = malloc(n * sizeof *order);
  f->place = malloc(n * sizeof *f->place);
  f->held = malloc(2 * n);
  Fault fault = order && f->place && f->held ? FAULT_NONE : FAULT_MEMORY;
  if (!fault)
    fault = graph_make(mesh, &from, &to);
  if (!fault && amd_order((int)n, from, to, order, NULL, NULL) < 0)
    fault = FAULT_MEMORY;
  for (size_t i = 0; i < n && !fault; i++)
    f->place[order[i]] = (int)i;
  if (!fault)
    fault = places_make(f, order, from, to);
  free(from);
  free(to);
  free(order);
  return fault;
}

/* ---- elements ---- */

typedef struct {
  double xx, xy, shear; /* plane stress: sxx = xx exx + xy eyy; sxy = shear gamma */
} Law;

static Law law_of(const PlaneMaterial *m)
{
  double a = m->young_mpa / (1 - m->poisson * m->poisson);
  return (Law){a, a * m->poisson, m->young_mpa / (2 * (1 + m->poisson))};
}

/* block[i][k], k >= i: the 2 x 2 block of nodes i and k. */
static bool element_stiffness(const PlaneMesh *mesh, const PlaneElement *e, const PlaneMaterial *m,
                              Law law, double block[6][6][4])
{
  memset(block, 0, sizeof(double[6][6][4]));
  for (int g = 0; g < TRIANGLE_GAUSS; g++) {
    TrianglePoint p = triangle_point(mesh, e, g);
    double w = p.area * m->thickness(p.at, m->data);
    if (!(w > 0) || !isfinite(w))
      return false;
    double xx = law.xx * w, xy = law.xy * w, shear = law.shear * w;
    for (int i = 0; i < 6; i++) {
      double ax = xx * p.dx[i], ay = xy * p.dx[i], bx = xy * p.dy[i], by = xx * p.dy[i],
             cx = shear * p.dx[i], cy = shear * p.dy[i];
      for (int k = i; k < 6; k++) {
        double *b = block[i][k];
        b[0] += ax * p.dx[k] + cy * p.dy[k];
        b[1] += ay * p.dy[k] + cy * p.dx[k];
        b[2] += bx * p.dx[k] + cx * p.dy[k];
        b[3] += by * p.dy[k] + cx * p.dx[k];
      }
    }
  }
  return true;
}

/* ---- matrix: columns 2 p and 2 p + 1 of place p ---- */

static void columns_shape(const PlaneFactor *f, int *start, int *row)
{
  int at = 0;
  for (size_t p = 0; p < f->n_node; p++)
    for (int axis = 0; axis < 2; axis++) {
      start[2 * p + (size_t)axis] = at;
      for (int k = f->from[p]; k < f->from[p + 1]; k++)
        for (int d = 0; d < 2; d++)
          row[at++] = 2 * f->to[k] + d;
      for (int d = 0; d <= axis; d++)
        row[at++] = 2 * (int)p + d;
    }
  start[2 * f->n_node] = at;
}

/* Adds the upper-half entries of nodes at places q (row) <= p (column). */
static void block_add(const PlaneFactor *f, const int *start, double *value, int q, int p,
                      const double b[4])
{
  double *first = &value[start[2 * p]], *second = &value[start[2 * p + 1]];
  int k = f->from[p], end = f->from[p + 1];
  if (p != q)
    while (f->to[k] != q)
      k++;
  else
    k = end;
  int offset = 2 * (k - f->from[p]);
  first[offset] += b[0], second[offset] += b[1];
  if (p != q)
    first[offset + 1] += b[2];
  second[offset + 1] += b[3];
}

static Fault matrix_fill(const PlaneFactor *f, const PlaneMesh *mesh, const PlaneMaterial *material,
                         const int *start, double *value)
{
  Law law = law_of(material);
  for (size_t e = 0; e < mesh->n_element; e++) {
    double block[6][6][4];
    const PlaneElement *element = &mesh->element[e];
    if (!element_stiffness(mesh, element, material, law, block))
      return FAULT_MESH;
    for (int i = 0; i < 6; i++)
      for (int k = i; k < 6; k++) {
        double *b = block[i][k];
        int p = f->place[element->node[k]], q = f->place[element->node[i]];
        if (q > p) { /* the upper half is wanted: the other way round */
          int swap = p;
          double off = b[1];
          p = q, q = swap, b[1] = b[2], b[2] = off;
        }
        const unsigned char *hp = &f->held[2 * p], *hq = &f->held[2 * q];
        for (int d = 0; d < 4; d++)
          if (hq[d / 2] || hp[d % 2])
            b[d] = 0;
        block_add(f, start, value, q, p, b);
      }
  }
  for (size_t p = 0; p < f->n_node; p++)
    for (int axis = 0; axis < 2; axis++)
      if (f->held[2 * p + (size_t)axis])
        value[start[2 * p + (size_t)axis + 1] - 1] = material->young_mpa;
  return FAULT_NONE;
}

Fault plane_factor_make(PlaneFactor *f, const PlaneMesh *mesh, const PlaneMaterial *material,
                        const unsigned char held[])
{
  factor_clear(f);
  f->n_node = mesh->n_node;
  Fault fault = order_make(f, mesh);
  if (fault)
    return fault;
  for (size_t i = 0; i < f->n_node; i++)
    for (size_t d = 0; d < 2; d++)
      f->held[2 * (size_t)f->place[i] + d] = held[2 * i + d];
  size_t n = 2 * f->n_node, entries = 3 * f->n_node + 4 * (size_t)f->from[f->n_node];
  cholmod_sparse *a = cholmod_allocate_sparse(n, n, entries, 1, 1, 1, CHOLMOD_REAL, &f->common);
  if (!a)
    return FAULT_MEMORY;
  columns_shape(f, a->p, a->i);
  memset(a->x, 0, entries * sizeof(double));
  fault = matrix_fill(f, mesh, material, a->p, a->x);
  if (!fault) {
    f->factor = cholmod_analyze(a, &f->common);
    bool done = f->factor && cholmod_factorize(a, f->factor, &f->common) &&
                f->common.status == CHOLMOD_OK && f->factor->minor == n;
    /* a loose body leaves pivots of rounding size */
    if (!done)
      fault = f->common.status == CHOLMOD_OUT_OF_MEMORY ? FAULT_MEMORY : FAULT_SINGULAR;
    else if (!(cholmod_rcond(f->factor, &f->common) > 1e-13))
      fault = FAULT_SINGULAR;
  }
  cholmod_free_sparse(&a, &f->common);
  return fault;
}

Fault plane_factor_solve(PlaneFactor *f, size_t n, const double *load, double *u)
{
  size_t rows = 2 * f->n_node;
  if (!f->factor)
    return FAULT_SINGULAR;
  cholmod_dense *b = cholmod_allocate_dense(rows, n, rows, CHOLMOD_REAL, &f->common);
  if (!b)
    return FAULT_MEMORY;
  double *x = b->x;
  for (size_t c = 0; c < n; c++)
    for (size_t i = 0; i < f->n_node; i++)
      for (size_t d = 0; d < 2; d++) {
        size_t at = 2 * (size_t)f->place[i] + d;
        x[c * rows + at] = f->held[at] ? 0 : load[c * rows + 2 * i + d];
      }
  cholmod_dense *solved = cholmod_solve(CHOLMOD_A, f->factor, b, &f->common);
  Fault fault = solved ? FAULT_NONE : FAULT_MEMORY;
  if (solved) {
    const double *y = solved->x;
    for (size_t c = 0; c < n; c++)
      for (size_t i = 0; i < f->n_node; i++)
        for (size_t d = 0; d < 2; d++) {
          double value = y[c * rows + 2 * (size_t)f->place[i] + d];
          if (!isfinite(value))
            fault = FAULT_SINGULAR;
          u[c * rows + 2 * i + d] = value;
        }
  }
  cholmod_free_dense(&solved, &f->common);
  cholmod_free_dense(&b, &f->common);
  return fault;
}

/* ---- stress and loads ---- */

static void stress_of(Law law, const PlaneElement *e, const TrianglePoint *p, const double u[],
                      double stress[3])
{
  double exx = 0, eyy = 0, gamma = 0;
  for (int i = 0; i < 6; i++) {
    const double *d = &u[2 * e->node[i]];
    exx += p->dx[i] * d[0], eyy += p->dy[i] * d[1];
    gamma += p->dy[i] * d[0] + p->dx[i] * d[1];
  }
  stress[0] = law.xx * exx + law.xy * eyy;
  stress[1] = law.xy * exx + law.xx * eyy;
  stress[2] = law.shear * gamma;
}

Fault plane_stress(const PlaneMesh *mesh, const PlaneMaterial *material, const double u[],
                   double (*direct)[3], double (*extrapolated)[3])
{
  Law law = law_of(material);
  int *count = calloc(mesh->n_node, sizeof *count);
  if (!count)
    return FAULT_MEMORY;
  memset(direct, 0, mesh->n_node * sizeof *direct);
  memset(extrapolated, 0, mesh->n_node * sizeof *extrapolated);
  for (size_t e = 0; e < mesh->n_element; e++) {
    const PlaneElement *element = &mesh->element[e];
    double gauss[3][TRIANGLE_GAUSS], node[6], s[3];
    for (int g = 0; g < TRIANGLE_GAUSS; g++) {
      TrianglePoint p = triangle_point(mesh, element, g);
      stress_of(law, element, &p, u, s);
      for (int c = 0; c < 3; c++)
        gauss[c][g] = s[c];
    }
    for (int c = 0; c < 3; c++) {
      triangle_carry(gauss[c], node);
      for (int i = 0; i < 6; i++)
        extrapolated[element->node[i]][c] += node[i];
    }
    for (int i = 0; i < 6; i++) {
      TrianglePoint p = triangle_place(mesh, element, triangle_node[i][0], triangle_node[i][1]);
      stress_of(law, element, &p, u, s);
      for (int c = 0; c < 3; c++)
        direct[element->node[i]][c] += s[c];
      count[element->node[i]]++;
    }
  }
  for (size_t i = 0; i < mesh->n_node; i++)
    for (int c = 0; c < 3 && count[i]; c++) {
      direct[i][c] /= count[i];
      extrapolated[i][c] /= count[i];
    }
  free(count);
  return FAULT_NONE;
}

void plane_edge_load(const PlaneMesh *mesh, const PlaneEdge *edge, const PlaneMaterial *material,
                     Point (*traction)(Point at, Point outward, const void *data), const void *data,
                     double load[])
{
  for (int g = 0; g < EDGE_GAUSS; g++) {
    EdgePoint p = edge_point(mesh, edge, g);
    double w = p.length * material->thickness(p.at, material->data);
    Point force = traction(p.at, p.outward, data);
    for (int i = 0; i < 3; i++) {
      load[2 * edge->node[i]] += w * p.n[i] * force.x;
      load[2 * edge->node[i] + 1] += w * p.n[i] * force.y;
    }
  }
}
