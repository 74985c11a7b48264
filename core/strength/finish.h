/* finish.h - states of a surface and what they do to its strength.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Factors are ratios to the reference state "as-fired" = 1; ranges are rough (core/SOURCES.md
 * "finish"). */
#pragma once
#include "base/banded.h"
#include <stdbool.h>

typedef enum {
  FINISH_UNKNOWN,
  FINISH_AS_MILLED,
  FINISH_SOFT_SMOOTHED,
  FINISH_AS_FIRED,
  FINISH_COARSE_GROUND,
  FINISH_COARSE_GROUND_DRY,
  FINISH_FINE_GROUND,
  FINISH_DISC_CUT,
  FINISH_BLASTED,
  FINISH_RUBBER_SMOOTH,
  FINISH_HIGH_POLISH,
  FINISH_GLAZED_OVER_POLISH,
  FINISH_GLAZED_OVER_GROUND,
  FINISH_REGEN_FIRED,
  FINISH_POLISHED_THEN_REGEN,
  FINISH_N
} FinishState;

/* Zones of one connector (first five, same order as SurfaceZone) and of a bridge. */
typedef enum {
  ZONE_ROOF,
  ZONE_LEGS,
  ZONE_GROOVE,
  ZONE_CHEEK,
  ZONE_TONGUE,
  ZONE_NECK_N,
  ZONE_SADDLE = ZONE_NECK_N,
  ZONE_INSIDE,
  ZONE_EDGES,
  ZONE_BITING_FACE,
  ZONE_N
} FinishZone;

const char *finish_id(FinishState state);   /* "as-milled": file and JSON */
const char *finish_name(FinishState state); /* bench words, English msgid */
bool finish_from_id(const char *id, FinishState *state);
const char *zone_id(FinishZone zone);
const char *zone_name(FinishZone zone);
bool zone_from_id(const char *id, FinishZone *zone);

/* Strength of `state` as a multiple of the strength of bars finished as `reference`.
 * gain_top limits the upper end (Material.polish_gain_top).  as-milled -> high-polish is +56 % (0
 * to +90). */
Banded finish_factor(FinishState state, FinishState reference, double gain_top);
const char *finish_source(FinishState state); /* English msgid */
