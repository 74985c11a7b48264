/* finish.c - the states of a surface as one table.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Factors against as-fired = 1.  Low and high ends are rough (trade habit and abstracts,
 * core/SOURCES.md "finish"); best values are set so that as-milled to high-polish is +56 %, a
 * common-practice figure whose own band is 0 to +90 %. */
#include "strength/finish.h"
#include "base/phrase.h"
#include <math.h>
#include <string.h>

#define POLISH_GAIN_MOST 0.9

static const struct {
  const char *id, *name;
  double low, best, high;
  const char *source;
} state_table[FINISH_N] = {
    [FINISH_UNKNOWN] = {"unknown", N_("not recorded"), 0.6, 0.72, 0.9,
                        N_("treated as ground coarse; common practice, no source")},
    [FINISH_AS_MILLED] = {"as-milled", N_("milled only"), 0.75, 0.75, 1.0,
                          N_("direction: common practice; range from memory")},
    [FINISH_SOFT_SMOOTHED] = {"soft-smoothed", N_("smoothed soft"), 1.0, 1.0, 1.0,
                              N_("reference once fired; Materials 2016;9:180")},
    [FINISH_AS_FIRED] = {"as-fired", N_("as fired"), 1.0, 1.0, 1.0, N_("reference")},
    [FINISH_COARSE_GROUND] = {"coarse-ground", N_("ground coarse"), 0.6, 0.72, 0.9,
                              N_("direction: Dent Mater 1999;15:426; range from memory")},
    [FINISH_COARSE_GROUND_DRY] = {"coarse-ground-dry", N_("ground coarse, dry"), 0.5, 0.65, 0.85,
                                  N_("common practice, no source")},
    [FINISH_FINE_GROUND] = {"fine-ground", N_("ground fine, wet"), 0.85, 0.95, 1.1,
                            N_("from memory; one study found no harm")},
    [FINISH_DISC_CUT] = {"disc-cut", N_("disc mark"), 0.4, 0.6, 0.8,
                         N_("common practice, no source; against it Acta Biomater 2008;4:1440")},
    [FINISH_BLASTED] = {"blasted", N_("blasted"), 0.9, 1.0, 1.2,
                        N_("Dent Mater 1999;15:426 (up at first); range from memory")},
    [FINISH_RUBBER_SMOOTH] = {"rubber-smooth", N_("rubber, middle"), 0.9, 1.0, 1.1,
                              N_("from memory")},
    [FINISH_HIGH_POLISH] =
        {"high-polish", N_("high gloss"), 1.0, 1.17, 1.25,
         N_("Materials 2016;9:180; +56 % over milled is common practice, no source")},
    [FINISH_GLAZED_OVER_POLISH] = {"glazed-over-polish", N_("polished, then glazed"), 0.85, 0.95,
                                   1.0, N_("from memory")},
    [FINISH_GLAZED_OVER_GROUND] = {"glazed-over-ground", N_("glazed over scratches"), 0.6, 0.7,
                                   0.85, N_("common practice, no source")},
    [FINISH_REGEN_FIRED] = {"regen-fired", N_("regeneration firing after grinding"), 0.7, 0.85, 1.0,
                            N_("Dent Mater J 2008;27:408; range from memory")},
    [FINISH_POLISHED_THEN_REGEN] = {"polished-then-regen", N_("polished, then regeneration firing"),
                                    0.95, 1.02, 1.1, N_("from memory")},
};

static const struct {
  const char *id, *name;
} zone_table[ZONE_N] = {
    [ZONE_ROOF] = {"roof", N_("roof")},
    [ZONE_LEGS] = {"legs", N_("legs")},
    [ZONE_GROOVE] = {"groove", N_("biting groove")},
    [ZONE_CHEEK] = {"cheek-side", N_("cheek side")},
    [ZONE_TONGUE] = {"tongue-side", N_("tongue side")},
    [ZONE_SADDLE] = {"saddle", N_("tissue side")},
    [ZONE_INSIDE] = {"inside", N_("inside")},
    [ZONE_EDGES] = {"edges", N_("crown edges")},
    [ZONE_BITING_FACE] = {"biting-face", N_("biting face")},
};

const char *finish_id(FinishState state)
{
  return state_table[(unsigned)state < FINISH_N ? state : FINISH_UNKNOWN].id;
}

const char *finish_name(FinishState state)
{
  return state_table[(unsigned)state < FINISH_N ? state : FINISH_UNKNOWN].name;
}

const char *finish_source(FinishState state)
{
  return state_table[(unsigned)state < FINISH_N ? state : FINISH_UNKNOWN].source;
}

bool finish_from_id(const char *id, FinishState *state)
{
  for (int i = 0; id && i < FINISH_N; i++)
    if (strcmp(id, state_table[i].id) == 0) {
      *state = (FinishState)i;
      return true;
    }
  return false;
}

const char *zone_id(FinishZone zone)
{
  return (unsigned)zone < ZONE_N ? zone_table[zone].id : "";
}

const char *zone_name(FinishZone zone)
{
  return (unsigned)zone < ZONE_N ? zone_table[zone].name : "";
}

bool zone_from_id(const char *id, FinishZone *zone)
{
  for (int i = 0; id && i < ZONE_N; i++)
    if (strcmp(id, zone_table[i].id) == 0) {
      *zone = (FinishZone)i;
      return true;
    }
  return false;
}

/* as-milled to high-polish has a figure of its own, whose band is wider than those of the two
 * states; a material that gains less from polish keeps that part of it. */
static Banded polish_gain(double gain_top)
{
  double milled = state_table[FINISH_AS_MILLED].best,
         polished = state_table[FINISH_HIGH_POLISH].best;
  double kept = fmax(0, fmin(gain_top, polished) - milled) / (polished - milled);
  return banded(1 + (polished / milled - 1) * kept, 1, 1 + POLISH_GAIN_MOST * kept);
}

Banded finish_factor(FinishState state, FinishState reference, double gain_top)
{
  if ((unsigned)state >= FINISH_N)
    state = FINISH_UNKNOWN;
  if ((unsigned)reference >= FINISH_N)
    reference = FINISH_AS_FIRED;
  if (!(gain_top > 0))
    gain_top = INFINITY;
  if (state == reference)
    return banded(1, 1, 1); /* the bars themselves: nothing to convert */
  if (state == FINISH_HIGH_POLISH && reference == FINISH_AS_MILLED)
    return polish_gain(gain_top);
  if (state == FINISH_AS_MILLED && reference == FINISH_HIGH_POLISH) {
    Banded gain = polish_gain(gain_top);
    return banded(1 / gain.value, 1 / gain.high, 1 / gain.low);
  }
  /* the bars' finish is known, so only the band of the state counts */
  double bars = fmin(state_table[reference].best, gain_top);
  return banded(fmin(state_table[state].best, gain_top) / bars,
                fmin(state_table[state].low, gain_top) / bars,
                fmin(state_table[state].high, gain_top) / bars);
}
