/* solid_cut.c - one layer eliminated in cuts that leave out most of its zeros.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "solid_cut.h"
#include <cblas.h>

#define CUT_COLUMNS 32 /* narrower cuts meet fewer zeros, but BLAS wants some width */

void spotrf_(const char *uplo, const int *n, float *a, const int *lda, int *info);

bool block_cholesky(float *a, int n, int lda)
{
  int info = 0;
  spotrf_("L", &n, a, &lda, &info);
  return info == 0;
}

/* ---- which rows a cut meets ---- */

/* First unknown of the middle that corner c or a later one has; all layers are alike. */
static int corner_first(const SolidMesh *mesh, int c)
{
  for (; c < mesh->pattern.corners; c++)
    for (int i = 0; i < 3; i++) {
      int dof = mesh->dof[solid_middle_node(mesh, 0, 0, c)][i];
      if (dof >= 0)
        return dof - mesh->arm[0].first_dof;
    }
  return mesh->middle_dofs;
}

/* Unknowns of a section, low .. high - 1, that lie in a quad with one of corners from .. to - 1. */
static void rows_meet(const SolidMesh *mesh, int from, int to, int *low, int *high)
{
  const Pattern *p = &mesh->pattern;
  for (int q = 0; q < p->quads; q++) {
    bool meets = false;
    for (int k = 0; k < 4; k++)
      meets = meets || (p->corner[p->quad[q][k]] >= from && p->corner[p->quad[q][k]] < to);
    for (int k = 0; k < 8 && meets; k++)
      for (int i = 0; i < 3; i++) {
        int dof = mesh->dof[p->quad[q][k]][i]; /* of the neck: all sections are alike */
        if (dof >= 0) {
          *low = dof < *low ? dof : *low;
          *high = dof >= *high ? dof + 1 : *high;
        }
      }
  }
}

/* One end's corners, or those between: even cuts, each meeting what those before it met. */
static void end_cut(CutList *list, const SolidMesh *mesh, int from, int to)
{
  int columns = corner_first(mesh, to) - corner_first(mesh, from);
  int cuts = (columns + CUT_COLUMNS - 1) / CUT_COLUMNS, low = mesh->section_dofs, high = 0;
  for (int k = 0; k < cuts; k++) {
    int a = from + (to - from) * k / cuts, b = from + (to - from) * (k + 1) / cuts;
    rows_meet(mesh, a, b, &low, &high);
    int first = corner_first(mesh, a), n = corner_first(mesh, b) - first;
    if (n > 0)
      list->cut[list->n++] = (Cut){first, n, low, high};
  }
}

void cuts_make(CutList *list, const SolidMesh *mesh)
{
  const Pattern *p = &mesh->pattern;
  int ends = p->low_corners + p->high_corners;
  *list = (CutList){.section = mesh->section_dofs,
                    .middle = mesh->middle_dofs,
                    .own = mesh->section_dofs + mesh->middle_dofs};
  end_cut(list, mesh, 0, p->low_corners);
  end_cut(list, mesh, p->low_corners, ends);
  int middle = corner_first(mesh, ends); /* the last corners meet what both ends have left */
  if (middle < mesh->middle_dofs)
    list->cut[list->n++] = (Cut){middle, mesh->middle_dofs - middle, 0, mesh->section_dofs};
  list->cut[list->n++] = (Cut){mesh->middle_dofs, mesh->section_dofs, 0, mesh->section_dofs};
}

/* ---- elimination ---- */

typedef struct {
  int first, n;
} Rows;

static Fault cut_eliminate(const CutList *list, const Cut *cut, float *panel, float *before,
                           int ld_before)
{
  int ld = list->own + list->section, next = cut->first + cut->n;
  float *column = panel + (size_t)cut->first * (size_t)ld;
  /* rows below: the rest of the middle, the far section, and the section before */
  Rows rows[3] = {{next, list->middle - next},
                  {list->middle + cut->low, cut->first < list->middle ? cut->high - cut->low : 0},
                  {list->own + cut->low, cut->high - cut->low}};
  if (!block_cholesky(column + cut->first, cut->n, ld))
    return FAULT_SINGULAR;
  for (int r = 0; r < 3; r++)
    if (rows[r].n > 0)
      cblas_strsm(CblasColMajor, CblasRight, CblasLower, CblasTrans, CblasNonUnit, rows[r].n,
                  cut->n, 1, column + cut->first, ld, column + rows[r].first, ld);
  for (int c = 0; c < 3; c++) {
    if (rows[c].n <= 0)
      continue;
    float *across = column + rows[c].first;
    bool leaves = c == 2;
    float *to = leaves ? before + (size_t)cut->low * (size_t)(ld_before + 1)
                       : panel + (size_t)rows[c].first * (size_t)(ld + 1);
    cblas_ssyrk(CblasColMajor, CblasLower, CblasNoTrans, rows[c].n, cut->n, -1, across, ld, 1, to,
                leaves ? ld_before : ld);
    for (int r = c + 1; r < 3; r++)
      if (rows[r].n > 0)
        cblas_sgemm(CblasColMajor, CblasNoTrans, CblasTrans, rows[r].n, rows[c].n, cut->n, -1,
                    column + rows[r].first, ld, across, ld, 1, to + (rows[r].first - rows[c].first),
                    ld);
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
