/* hollow.h - the embrasure as a hollow in an outline: roof, feet, legs, roof zone.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm, angles degrees.  Side 0 is the left (small x), side 1 the right.  Internal to
 * core/outline. Method: core/SOURCES.md "roof, feet and legs". */
#pragma once
#include "outline/turning.h"

typedef struct {
  Point roof; /* highest place; the middle of a flat one           */
  double roof_t;
  Point foot[2];                /* where the legs end                                */
  size_t foot_at[2];            /* the same as places of the turning                 */
  double depth;                 /* roof above the mean height of the feet            */
  double lean_deg[2];           /* from upright, + = opening to the gum              */
  size_t zone_lo, zone_hi;      /* places of the roof zone: top 40 % of the depth  */
  double zone_left, zone_right; /* x of its lower ends                        */
  double top_share;             /* width 20 % below the roof over the foot distance  */
} Hollow;

/* Any outline has one; a flat or rising one has depth 0. */
Hollow hollow_read(const Turning *turning);
