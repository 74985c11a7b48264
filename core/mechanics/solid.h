/* solid.h - the connector as a solid: lofted 20-node bricks in layers, solved by dense blocks.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa.  Model, mesh and measured errors: core/SOURCES.md "solid".  Loads are unit bending
 * and unit shear at the neck, as self-equilibrated tractions on the end faces.  Symmetries are used
 * when they hold. One workspace per thread; buffers are kept between calls. */
#pragma once
#include "mechanics/field.h"
#include "mechanics/loft.h"

typedef enum {
  SOLID_LIVE, /* buccal and lingual averaged; quarter or half model, for every frame              */
  SOLID_FULL, /* no averaging: the true symmetries only, same mesh density                        */
  SOLID_FINE, /* as FULL with a finer mesh: the converged answer                                  */
  SOLID_TRIAL, /* as LIVE with a coarser mesh, without sheets: only for ratios between shapes solved
                  alike */
  SOLID_PROOF /* as FINE, finer still: many seconds, what the tests hold FINE against             */
} SolidGrade;

typedef struct SolidWork SolidWork;
MUST_CHECK Fault solid_work_new(SolidWork **work);
void solid_work_free(SolidWork *work);
/* 2: a thread more where mesial and distal differ; 1 (at first): none.  The figures are the same.
 */
void solid_work_hands(SolidWork *work, int hands);

typedef struct {
  double young_mpa, poisson; /* > 0; [0, 0.49]                              */
  SolidGrade grade;
  int (*cancelled)(void *data); /* may be NULL; checked between layers        */
  void *cancel_data;
  bool bare; /* no sheets: for those who do not draw */
} SolidSettings;

/* Solves both unit loads of the even pair.  *field is new, owned by the caller (field_unref).
 * FAULT_FOLD with *where when an element is inside out; FAULT_CANCELLED. */
MUST_CHECK Fault solid_solve(SolidWork *work, const Loft *loft, const SolidSettings *settings,
                             Field **field, Vec3 *where);
/* The same for sideways bending and twist: same mesh, same points in the same order. */
MUST_CHECK Fault solid_solve_odd(SolidWork *work, const Loft *loft, const SolidSettings *settings,
                                 Field **field, Vec3 *where);
/* Puts sideways bending and twist into a field that solid_solve made of the same loft and settings
 * and that nobody shares yet. */
MUST_CHECK Fault solid_odd_add(SolidWork *work, const Loft *loft, const SolidSettings *settings,
                               Field *field);
