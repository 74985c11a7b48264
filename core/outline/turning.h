/* turning.h - an outline as its direction over its arc length: what curvature readings are taken
 * from. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm, angles rad.  A corner is two places of equal s.  A radius is read as the shortest arc
 * that turns by a given angle, divided by that angle: exact on circles, 0 at a sharp corner, and
 * calm where a single knot wiggles.  Internal to core/outline.  Method: core/SOURCES.md "radius of
 * a drawn line". */
#pragma once
#include "base/banded.h"
#include "outline/outline.h"

#define RADIUS_FLAT_MM 200.0 /* read where a line hardly turns */

typedef struct {
  double s, t;  /* arc length and place on the outline             */
  double theta; /* direction, continued beyond pi, from the start  */
  Point at;
} TurnPlace;

typedef struct {
  TurnPlace *place; /* owned */
  size_t n;
} Turning;

typedef struct {
  double s0, s1;
} Arc;

/* `flip` mirrors the outline upside down: a biting groove becomes a roof. */
MUST_CHECK Fault turning_of(const Outline *outline, bool flip, Turning *turning);
void turning_clear(Turning *turning);
TurnPlace turning_at(const Turning *turning, double s);

/* Shortest arc inside places lo..hi whose net turn is `turn` (negative = right).  False if there is
 * none. */
bool turning_shortest(const Turning *turning, size_t lo, size_t hi, double turn, Arc *arc);
/* Smallest radius among the right turns inside lo..hi, with the band from halving and doubling the
 * angle that it is read over; RADIUS_FLAT_MM when the line turns less than 5 degrees. */
Banded turning_radius(const Turning *turning, size_t lo, size_t hi, Arc *arc);
