/* solid_cut.h - one layer eliminated in cuts that leave out most of its zeros.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to solid*.c.  Before it is eliminated, an unknown of a layer's middle meets only its own
 * bricks' and what the earlier ones of its end have left.  The pattern's order (solid_pattern.h)
 * keeps that to one stretch of both sections: a third of the work of dense blocks is saved.
 * Panels: solid_layer.h.  Source: core/SOURCES.md "solid, equations". */
#pragma once
#include "solid_mesh.h"

#define CUTS_MAX 24

/* Columns first .. first + n - 1 of a panel; of both sections they meet rows low .. high - 1. */
typedef struct {
  int first, n, low, high;
} Cut;

typedef struct {
  int n, own, section, middle;
  Cut cut[CUTS_MAX]; /* the last one is the far section */
} CutList;

void cuts_make(CutList *list, const SolidMesh *mesh);
/* Cholesky of a layer's own columns; what they leave to the section before is taken from `before`
 * (lower half, leading dimension ld_before).  FAULT_SINGULAR. */
MUST_CHECK Fault cuts_eliminate(const CutList *list, float *panel, float *before, int ld_before);

/* Cholesky of an n x n block, lower half; false: not positive. */
MUST_CHECK bool block_cholesky(float *a, int n, int lda);
