/* odd_section.h - sideways bending and twist of a connector, by section formulas.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, MPa.  The solids answer the loads that are even about z = 0.  What is odd about it - lateral
 * bending, lateral shear, torsion - is put beside them at every surface point: L z / I, the
 * shear of the section, Saint-Venant's twist, each on the section cut there, and near the neck
 * times Neuber's notch factors of roof, groove and plan.  A wider band, told apart in the answer.
 * Sources: core/SOURCES.md "sideways bending and twist". */
#pragma once
#include "mechanics/field.h"
#include "outline/outline.h"

#define ODD_BAND_PERCENT 30.0
#define ODD_BAND_DRAWN 15.0 /* more: the rim of a drawn section is taken for an ellipse's */

typedef struct {
  const Outline *side[4]; /* gingival, occlusal, buccal, lingual; borrowed        */
  double neck_x, roundness, poisson;
  const Outline *section; /* drawn, borrowed; NULL: by roundness */
} OddInput;

/* Fills the odd stresses of a field that nobody shares yet.  FAULT_MEMORY, or why there is none:
 * odd_band_percent stays 0 then. */
MUST_CHECK Fault odd_section_add(const OddInput *input, Field *field);
