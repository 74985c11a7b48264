/* solid_cut.h - the columns of a layer's panel in cuts that leave out most of its zeros.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to solid*.c.  Before it is eliminated, an unknown of a layer's middle meets only its own
 * bricks' and what the earlier ones of its end have left; in the last layer of an arm, behind which
 * nothing was eliminated yet, those of the far section too.  The pattern's order (solid_pattern.h)
 * keeps that to one stretch of a section: a third of the work of dense blocks is saved.  What lies
 * outside a cut's rows is neither cleared, nor written, nor read.
 * Panels: solid_layer.h.  Source: core/SOURCES.md "solid, equations". */
#pragma once
#include "solid_mesh.h"

#define CUTS_MAX 24
#define CUT_ROWS 4

typedef struct {
  int first, n;
} Rows;

/* Columns of a panel, and the rows below them that they meet: those from `own` on are the section
 * before's and come last, in one stretch. */
typedef struct {
  Rows columns;
  int n;
  Rows rows[CUT_ROWS];
} Cut;

typedef struct {
  int own, ld; /* unknowns of a layer; with the section before */
  int n;
  Cut cut[CUTS_MAX];
} CutList;

/* Of the last layer of an arm, or of any other. */
void cuts_make(CutList *list, const SolidMesh *mesh, bool last);
/* Sets what belongs to the cuts to 0. */
void cuts_clear(const CutList *list, float *panel);
/* Cholesky of a layer's own columns; what they leave to the section before is taken from `before`
 * (lower half, leading dimension ld_before).  FAULT_SINGULAR. */
MUST_CHECK Fault cuts_eliminate(const CutList *list, float *panel, float *before, int ld_before);

/* Cholesky of an n x n block, lower half; false: not positive. */
MUST_CHECK bool block_cholesky(float *a, int n, int lda);
