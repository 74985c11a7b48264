/* treatment.c - see treatment.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "strength/treatment.h"
#include "base/phrase.h"
#include "strength/crack.h"
#include <math.h>

#define LONG_Y 1.989 /* 1.122 sqrt(pi): edge crack, its depth small against the neck (crack.h) */

bool finish_polished(FinishState state)
{
  return state == FINISH_HIGH_POLISH || state == FINISH_GLAZED_OVER_POLISH ||
         state == FINISH_POLISHED_THEN_REGEN;
}

static FinishState after_heat(FinishState before)
{
  if (finish_polished(before))
    return before == FINISH_GLAZED_OVER_POLISH ? before : FINISH_POLISHED_THEN_REGEN;
  switch (before) {
  case FINISH_COARSE_GROUND:
  case FINISH_COARSE_GROUND_DRY:
  case FINISH_FINE_GROUND:
  case FINISH_RUBBER_SMOOTH:
  case FINISH_BLASTED:
    return FINISH_REGEN_FIRED; /* the pressed layer goes, the scratches stay */
  default:
    return before; /* nothing pressed to take back; cuts and milling marks stay what they are */
  }
}

FinishState finish_after(FinishState before, Treatment treatment, bool dry)
{
  switch (treatment) {
  case TREAT_DISC:
    return FINISH_DISC_CUT;
  case TREAT_GROUND:
    return dry ? FINISH_COARSE_GROUND_DRY : FINISH_COARSE_GROUND;
  case TREAT_BLASTED:
    return FINISH_BLASTED;
  case TREAT_HEAT:
    return after_heat(before);
  case TREAT_GLAZE:
    return finish_polished(before) ? FINISH_GLAZED_OVER_POLISH : FINISH_GLAZED_OVER_GROUND;
  case TREAT_POLISH:
    return before == FINISH_DISC_CUT ? before : FINISH_HIGH_POLISH;
  case TREAT_N:
    break;
  }
  return before;
}

const char *treatment_source(Treatment treatment)
{
  static const char *const source[TREAT_N] = {
      [TREAT_DISC] = N_("common practice, no source; against it Acta Biomater 2008;4:1440"),
      [TREAT_GROUND] = N_("direction: Dent Mater 1999;15:426; range from memory"),
      [TREAT_BLASTED] = N_("Dent Mater 1999;15:426 (up at first); range from memory"),
      [TREAT_HEAT] = N_("Dent Mater J 2008;27:408; range from memory"),
      [TREAT_GLAZE] = N_("common practice, no source"),
      [TREAT_POLISH] = N_("Materials 2016;9:180; +56 % over milled is common practice, no source"),
  };
  return (unsigned)treatment < TREAT_N ? source[treatment] : "";
}

Banded finish_flaw_um(double toughness, double strength_mpa, Banded factor)
{
  return banded(crack_scratch_um(toughness, strength_mpa * factor.value),
                crack_scratch_um(toughness, strength_mpa * factor.high),
                crack_scratch_um(toughness, strength_mpa * factor.low));
}

const char disc_depth_source[] = N_(
    "recorded depth of the disc mark as a long crack (edge crack, K_Ic of the card); the flaw at "
    "its bottom: common practice, no source");

static double disc_end(double state, double toughness, double strength_mpa, double depth,
                       double edge_radius)
{
  double root = toughness / (LONG_Y * strength_mpa * state), flaw = root * root; /* m */
  double crack = toughness / (LONG_Y * strength_mpa * sqrt(depth * 1e-3 + flaw));
  double notch = edge_radius > 0 ? state / (1 + 2 * sqrt(depth / edge_radius)) : 0;
  return fmax(crack, notch);
}

Banded disc_factor(Banded state, Banded toughness, double strength_mpa, double depth,
                   double edge_radius)
{
  if (!(depth > 0 && toughness.low > 0 && strength_mpa > 0))
    return state;
  return banded(disc_end(state.value, toughness.value, strength_mpa, depth, edge_radius),
                disc_end(state.low, toughness.low, strength_mpa, depth, edge_radius),
                disc_end(state.high, toughness.high, strength_mpa, depth, edge_radius));
}
