/* loft_side.h - one side of one outline, from the neck outwards: roof arc, leg, body.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to loft.c.  Local axes, mm: u outwards from the neck plane, v in the direction in which
 * the leg runs (away from the material's middle), so that the four outlines look alike.  Turning
 * rad, positive towards the leg.  Source: core/SOURCES.md "ribs". */
#pragma once
#include "outline/outline.h"

typedef enum {
  LOFT_GINGIVAL,
  LOFT_OCCLUSAL,
  LOFT_BUCCAL,
  LOFT_LINGUAL,
  LOFT_OUTLINE_N
} LoftOutline;

typedef struct {
  Point at;      /* local u, v                                                  */
  double length; /* arc length from the neck                                    */
  double turn;   /* direction of travel against u; a corner is two samples      */
  Point ahead;   /* the same as a unit vector                                   */
} SideSample;

typedef struct {
  SideSample *sample; /* owned, n >= 2                                            */
  size_t n;
  double part[4]; /* arc length at s = 0 1 2 3                                */
  bool notch;     /* turns enough to have a roof and a leg of its own         */
} LoftSide;

/* Samples an outline on one side of x = neck_x.  FAULT_NO_NECK where the outline does not cross
 * that plane. */
MUST_CHECK Fault loft_side_new(const Outline *outline, LoftOutline which, int side, double neck_x,
                               LoftSide *out);
void loft_side_clear(LoftSide *side); /* accepts NULL */

double loft_side_reach(const LoftSide *side); /* largest u */
/* Finds the parts; the end lies where u reaches `reach`. */
void loft_side_divide(LoftSide *side, double reach);
/* A side without a notch takes the places of another one's parts: equal u. */
void loft_side_divide_like(LoftSide *side, const LoftSide *like);

double loft_side_length_at(const LoftSide *side, double s);
Point loft_side_at(const LoftSide *side, double length);
double loft_side_turn(const LoftSide *side, double length);
/* Arc length where u first reaches the value; the last length if it never does. */
double loft_side_find(const LoftSide *side, double u);
/* Smallest radius of turning towards the leg on the roof arc, mm; at most LOFT_RADIUS_FLAT. */
#define LOFT_RADIUS_FLAT 50.0
double loft_side_radius(const LoftSide *side);
