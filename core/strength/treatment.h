/* treatment.h - what happens to a surface after firing, and the state it leaves.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Two states are never multiplied: the last that reached the bottom of the scratches counts (trade
 * practice, core/SOURCES.md "treatments"). */
#pragma once
#include "strength/finish.h"

typedef enum {
  TREAT_DISC,    /* a separating disc touched the fired piece */
  TREAT_GROUND,  /* coarse diamond                            */
  TREAT_BLASTED, /* alumina grain under pressure              */
  TREAT_HEAT,    /* regeneration or build-up firing           */
  TREAT_GLAZE,   /* glaze fired on                            */
  TREAT_POLISH,  /* rubber coarse, middle, fine, then gloss   */
  TREAT_N
} Treatment;

/* The state that a treatment leaves.  Heat closes no scratches; glaze over anything that is not
 * polished is glaze over scratches; polish heals all but a disc cut, which has to be hollowed out
 * first.
 *   dry  in  without water; counts for TREAT_GROUND */
FinishState finish_after(FinishState before, Treatment treatment, bool dry);
/* High gloss, with or without glaze or a firing on it. */
bool finish_polished(FinishState state);
const char *treatment_source(Treatment treatment); /* English msgid */

/* Depth of the semicircular flaw that breaks at the strength of this surface, um: (K_Ic / (Y sigma
 * f))^2.
 *   strength_mpa  in  of the bars;  factor  in  as finish_factor() gives it for the bars' finish
 * The shallow end belongs to the high factor. */
Banded finish_flaw_um(double toughness, double strength_mpa, Banded factor);
/* Factor of a disc mark of known depth, mm: the long crack as deep as the mark and the flaw at its
 * bottom together, or that flaw alone in the stress at the bottom of the blunt notch, whichever
 * carries more.  Falls with depth and with sharpness; without a depth it is the state's.
 *   state        in  of FINISH_DISC_CUT over the bars: the flaw at the bottom
 *   toughness    in  K_Ic with its band
 *   edge_radius  in  of the bottom; NaN: not known, taken as sharp */
Banded disc_factor(Banded state, Banded toughness, double strength_mpa, double depth,
                   double edge_radius);
extern const char disc_depth_source[]; /* English msgid */
