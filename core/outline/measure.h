/* measure.h - distance, angle and circle of places that somebody pointed at, with their bands.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, degrees.  Each place is known to `within` mm, >= 0, any way; the bands are the worst case of
 * that.  Method: core/SOURCES.md "measuring". */
#pragma once
#include "base/banded.h"
#include "base/fault.h"
#include "base/vec.h"
#include <stddef.h>

/* A place on the drawing, or one where the line was taken, is known to this: the readings' step. */
#define MEASURE_DRAWN_MM 0.01

typedef struct {
  Point at;
  double within;
} MeasuredPlace;

typedef struct {
  Banded distance;  /* >= 0                                                         */
  Banded angle_deg; /* from level, anticlockwise, (-180, 180]; band as wide as needed */
  Banded along, up; /* parts of the way, signed                                     */
} MeasuredWay;
/* Two places that are one within their bands: the angle's band is the full turn. */
MUST_CHECK Fault measure_way(const MeasuredPlace place[2], MeasuredWay *way);

typedef struct {
  Point centre;
  Banded radius;
  Banded corner_deg; /* angle at the place in the middle, between the other two: 0 .. 180 */
} MeasuredCircle;
/* FAULT_DEGENERATE: two places are one, or all lie in one line within their bands. */
MUST_CHECK Fault measure_circle(const MeasuredPlace place[3], MeasuredCircle *circle);
