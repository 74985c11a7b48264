/* edge_cling.h - the strongest edge of a picture near a stroke.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Pictures are plain grey arrays, 0 .. 1, rows from the top, px; pixel (i, j) covers its square and
 * has its middle at (i + 0.5, j + 0.5).  Edge: a ridge of the gradient of the picture smoothed by a
 * Gauss curve, in the direction of the gradient (Canny's non-maximum suppression).  Method:
 * core/SOURCES.md "photo". */
#pragma once
#include "base/fault.h"
#include "base/vec.h"
#include <stddef.h>

typedef struct {
  const float *grey; /* borrowed; width * height */
  int width, height;
} GreyPicture;

#define EDGE_SIGMA_PX 1.5
#define EDGE_REACH_MOST_PX 64

/* Steps below this part of black to white are no edge. */
#define EDGE_LEAST 0.06

/* Every point is moved across the stroke to the strongest edge within `reach_px` of it, nearer ones
 * counting for more (half at the rim); points without an edge move as their neighbours do, and
 * moves that no neighbour shares are taken out.  at: n >= 1 points px; clung: out, n points, may be
 * `at`.  FAULT_MEMORY, FAULT_RANGE, FAULT_NOT_FINITE. */
MUST_CHECK Fault stroke_cling(const GreyPicture *picture, const Point at[], size_t n,
                              double reach_px, Point clung[]);
