/* solid_cut.c - the columns of a layer's panel in cuts that leave out most of its zeros.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "solid_cut.h"
#include <cblas.h>
#include <string.h>

#define CUT_COLUMNS 32 /* narrower cuts meet fewer zeros, but BLAS wants some width */
#define CUTS_END 10    /* of one end at most */

void spotrf_(const char *uplo, const int *n, float *a, const int *lda, int *info);

bool block_cholesky(float *a, int n, int lda)
{
  int info = 0;
  spotrf_("L", &n, a, &lda, &info);
  return info == 0;
}

/* ---- which rows a cut meets ---- */

/* Of each pattern node: the unknowns of a section that lie in a quad with it. */
typedef struct {
  int low[PATTERN_NODES], high[PATTERN_NODES];
} Reach;

static void reach_make(Reach *reach, const SolidMesh *mesh)
{
  const Pattern *p = &mesh->pattern;
  for (int i = 0; i < p->nodes; i++)
    reach->low[i] = mesh->section_dofs, reach->high[i] = 0;
  for (int q = 0; q < p->quads; q++) {
    int low = mesh->section_dofs, high = 0;
    for (int k = 0; k < 8; k++)
      for (int i = 0; i < 3; i++) {
        int dof = mesh->dof[p->quad[q][k]][i]; /* of the neck: all sections are alike */
        if (dof >= 0) {
          low = dof < low ? dof : low;
          high = dof >= high ? dof + 1 : high;
        }
      }
    for (int k = 0; k < 8; k++) {
      int i = p->quad[q][k];
      reach->low[i] = low < reach->low[i] ? low : reach->low[i];
      reach->high[i] = high > reach->high[i] ? high : reach->high[i];
    }
  }
}

/* A layer's own unknowns that are cut by their ends: which pattern node each belongs to. */
typedef struct {
  int n, node[3 * (PATTERN_NODES + PATTERN_CORNERS)];
} Owners;

static void owner_add(Owners *owners, const SolidMesh *mesh, int mesh_node, int node)
{
  for (int i = 0; i < 3; i++)
    if (mesh->dof[mesh_node][i] >= 0)
      owners->node[owners->n++] = node;
}

static void owners_make(Owners *owners, const SolidMesh *mesh, bool last)
{
  const Pattern *p = &mesh->pattern;
  int layer = last ? mesh->arm[0].layers - 1 : 0;
  owners->n = 0;
  for (int k = 0; k < (last ? p->nodes + p->corners : p->corners); k++) {
    LayerNode at = last ? p->last_order[k] : (LayerNode){p->corner_node[k], true};
    owner_add(owners, mesh,
              at.middle ? solid_middle_node(mesh, 0, layer, p->corner[at.node])
                        : solid_section_node(mesh, 0, layer + 1, at.node),
              at.node);
  }
}

static void rows_add(Cut *cut, int own, int first, int n)
{
  Rows *before = cut->n ? &cut->rows[cut->n - 1] : NULL;
  if (n <= 0)
    return;
  if (before && before->first + before->n == first && first != own)
    before->n += n;
  else
    cut->rows[cut->n++] = (Rows){first, n};
}

/* The columns of one end: each cut meets what those before it met, and the columns between.  far:
 * where the far section begins, or `own` where it is itself among the columns. */
static void end_cut(CutList *list, const Owners *owners, const Reach *reach, Rows end, Rows between,
                    int far)
{
  int cuts = (end.n + CUT_COLUMNS - 1) / CUT_COLUMNS, low = list->ld, high = 0, first = end.first,
      stop = end.first + end.n;
  cuts = cuts < CUTS_END ? cuts : CUTS_END;
  for (int k = 1; k <= cuts; k++) {
    int next = k < cuts ? end.first + end.n * k / cuts / 4 * 4 : stop;
    for (int d = first; d < next; d++) {
      int node = owners->node[d];
      low = reach->low[node] < low ? reach->low[node] : low;
      high = reach->high[node] > high ? reach->high[node] : high;
    }
    Cut *cut = &list->cut[list->n++];
    *cut = (Cut){.columns = {first, next - first}};
    rows_add(cut, list->own, next, stop - next);
    rows_add(cut, list->own, between.first, between.n);
    if (far < list->own)
      rows_add(cut, list->own, far + low, high - low);
    rows_add(cut, list->own, list->own + low, high - low);
    first = next;
  }
}

void cuts_make(CutList *list, const SolidMesh *mesh, bool last)
{
  Reach reach;
  Owners owners;
  reach_make(&reach, mesh);
  owners_make(&owners, mesh, last);
  int section = mesh->section_dofs, own = section + mesh->middle_dofs, n[END_N] = {0};
  for (int d = 0; d < owners.n; d++)
    n[mesh->pattern.end[owners.node[d]]]++;
  Rows low = {0, n[END_LOW]}, high = {low.n, n[END_HIGH]},
       between = {low.n + high.n, n[END_BETWEEN]};
  *list = (CutList){.own = own, .ld = own + section};
  end_cut(list, &owners, &reach, low, between, owners.n);
  end_cut(list, &owners, &reach, high, between, owners.n);
  if (between.n > 0) { /* they meet what both ends have left */
    Cut *cut = &list->cut[list->n++];
    *cut = (Cut){.columns = between};
    rows_add(cut, own, owners.n, own - owners.n);
    rows_add(cut, own, own, section);
  }
  if (owners.n < own)
    list->cut[list->n++] = (Cut){{owners.n, section}, 1, {{own, section}}};
}

/* ---- elimination ---- */

void cuts_clear(const CutList *list, float *panel)
{
  for (int i = 0; i < list->n; i++) {
    const Cut *cut = &list->cut[i];
    int end = cut->columns.first + cut->columns.n;
    for (int j = cut->columns.first; j < end; j++) {
      float *column = panel + (size_t)j * (size_t)list->ld;
      memset(column + j, 0, (size_t)(end - j) * sizeof *column);
      for (int r = 0; r < cut->n; r++)
        memset(column + cut->rows[r].first, 0, (size_t)cut->rows[r].n * sizeof *column);
    }
  }
}

static Fault cut_eliminate(const CutList *list, const Cut *cut, float *panel, float *before,
                           int ld_before)
{
  int ld = list->ld, n = cut->columns.n;
  float *column = panel + (size_t)cut->columns.first * (size_t)ld,
        *corner = column + cut->columns.first;
  if (!block_cholesky(corner, n, ld))
    return FAULT_SINGULAR;
  for (int r = 0; r < cut->n; r++)
    cblas_strsm(CblasColMajor, CblasRight, CblasLower, CblasTrans, CblasNonUnit, cut->rows[r].n, n,
                1, corner, ld, column + cut->rows[r].first, ld);
  for (int c = 0; c < cut->n; c++) {
    int first = cut->rows[c].first, ld_to = first < list->own ? ld : ld_before;
    float *to = first < list->own
                    ? panel + (size_t)first * (size_t)ld
                    : before + (size_t)(first - list->own) * (size_t)ld_before - list->own;
    cblas_ssyrk(CblasColMajor, CblasLower, CblasNoTrans, cut->rows[c].n, n, -1, column + first, ld,
                1, to + first, ld_to);
    for (int r = c + 1; r < cut->n; r++)
      cblas_sgemm(CblasColMajor, CblasNoTrans, CblasTrans, cut->rows[r].n, cut->rows[c].n, n, -1,
                  column + cut->rows[r].first, ld, column + first, ld, 1, to + cut->rows[r].first,
                  ld_to);
  }
  return FAULT_NONE;
}

Fault cuts_eliminate(const CutList *list, float *panel, float *before, int ld_before)
{
  Fault fault = FAULT_NONE;
  for (int i = 0; i < list->n && !fault; i++)
    fault = cut_eliminate(list, &list->cut[i], panel, before, ld_before);
  return fault;
}
