/* material.h - material cards: what a ceramic is, and where each figure comes from.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * MPa, MPa sqrt(m), ratios.  Cards are data (data/materials.xml, read by casefile/material_xml). */
#pragma once
#include "base/fault.h"

typedef enum { BAR_THREE_POINT, BAR_FOUR_POINT_QUARTER, BAR_FOUR_POINT_THIRD, BAR_DISC } BarTest;

typedef struct {
  char id[32];   /* "3y", "4y", "5y", "own"                                             */
  char name[64]; /* English msgid for shipped cards, free text for own ones             */
  double young_mpa, poisson;
  double toughness; /* K_Ic, MPa sqrt(m)                                                   */
  double toughness_percent; /* band, +-                                                           */
  double strength_mpa;     /* characteristic strength of the bars, 63.2 %                         */
  double strength_percent; /* band, +-                                                            */
  double weibull;          /* modulus m                                                           */
  BarTest bar;             /* what the strength was measured with                                 */
  double bar_span, bar_width,
      bar_thickness;   /* mm (outer span; disc: support circle, piston, thickness) */
  char bar_finish[24]; /* finish state id of the bars, e.g. "high-polish"                     */
  int iso_class;       /* ISO 6872 class 1-5                                                  */
  double
      polish_gain_top; /* upper limit of the finish factor for this material, e.g. 1.25; 1 = none */
  char source[160];    /* where the figures are from, and how well known                      */
  char confidence[16]; /* "read", "memory", "own"                                             */
} Material;

MUST_CHECK Fault material_check(const Material *material);
/* Effective surface of the bars, mm^2 (core/SOURCES.md "effective surface"). */
double material_bar_surface(const Material *material);
