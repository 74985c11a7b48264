/* snap.h - where a dragged place comes to rest: grid, knots, cutter radius, symmetric axis.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  Pure: the same place and targets give the same answer. */
#pragma once
#include "outline/outline.h"

typedef enum { SNAP_GRID, SNAP_KNOTS, SNAP_CUTTER, SNAP_AXIS, SNAP_KINDS } SnapKind;

typedef struct {
  bool on;
  bool kind[SNAP_KINDS];
  double grid_mm; /* > 0 */
} SnapSettings;
SnapSettings snap_settings_default(void);

/* What there is to snap to. */
typedef struct {
  const Outline *line[2]; /* knots and, measuring, the lines themselves; NULL: none              */
  size_t except;          /* knot of line[0] that is dragged; SIZE_MAX: none                     */
  bool onto;              /* measuring: onto knots and lines; else beside knots, not onto them   */
  double axis_x;          /* NaN: none                                                           */
  Point cutter;           /* its middle                                                          */
  double cutter_radius;   /* 0: none                                                             */
} SnapTargets;

typedef struct {
  Point at;
  const char *word[2]; /* msgids of what it came to rest on, x first; NULL: nothing  */
  Point from[2];       /* the knot that it stands level with or above; NaN: none     */
  bool on_line;        /* at a knot or on a line                                     */
} Snap;

/* Where an end of a stroke joins line[0], no more than join_mm away from it: at a knot, across the
 * axis from the other end `mate` (NaN: none), on the axis, on the grid; else at the nearest place.
 * Places are moved along the line by reach_mm at most.  at = NaN: the line is out of reach, or
 * nothing snaps. */
Snap snap_end(const SnapSettings *settings, const SnapTargets *targets, Point mate, Point at,
              double join_mm, double reach_mm);

/* `reach_mm` > 0: how near is near enough. */
Snap snap_place(const SnapSettings *settings, const SnapTargets *targets, Point at,
                double reach_mm);
