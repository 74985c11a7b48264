/* shape.h - outlines that Soffit proposes and changes: starters, propositions, the moves behind
 * each advice. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  Elevation: y = 0 tissue, y up.  All outlines run from small to large x. */
#pragma once
#include "outline/outline.h"

/* What surrounds a connector: half of the unit on each side. */
typedef struct {
  double length[2]; /* half mesio-distal length of the unit before / after, mm: body length */
  double width[2];  /* bucco-lingual width of the unit before / after                        */
  double height[2]; /* crown height above the tissue line before / after                     */
} Neighbours;

/* Gum side: corners from foot to foot, then straight bodies at y = 0 to -length[0] and +length[1].
 */
MUST_CHECK Fault shape_gingival(const Corner corner[], size_t n, const Neighbours *around,
                                Outline *outline);
/* Biting groove: lowest at (0, groove_y), circular bottom `radius`, straight sides with included
 * angle `open_deg` up to the crown heights, then straight bodies. */
MUST_CHECK Fault shape_occlusal(double groove_y, double radius, double open_deg,
                                const Neighbours *around, Outline *outline);
/* Plan side: half width neck_width/2 at x = 0, circular bottom `radius`, straight sides with
 * `open_deg`, then straight bodies at half the unit widths.  sign +1 buccal (z > 0), -1 lingual. */
MUST_CHECK Fault shape_plan(double neck_width, double radius, double open_deg, int sign,
                            const Neighbours *around, Outline *outline);
/* A plan radius that lets the ribs of this gingival outline stand side by side without folding. */
double shape_plan_radius(const Outline *gingival);

/* Starters in the room of an embrasure: feet half-distance, roof height. U: radius as large as the
 * legs allow with 10 deg lean; V: radius 0.2. */
MUST_CHECK Fault shape_starter_u(double foot, double roof, const Neighbours *around,
                                 Outline *outline);
MUST_CHECK Fault shape_starter_v(double foot, double roof, const Neighbours *around,
                                 Outline *outline);

/* Moves.  Each keeps what it does not name. FAULT_RANGE when there is no room for it. */
MUST_CHECK Fault shape_round_roof(const Outline *gingival, double radius,
                                  Outline *outline); /* roof y and feet kept */
MUST_CHECK Fault shape_move_roof(const Outline *gingival, double new_roof_y,
                                 Outline *outline); /* feet kept, radius kept */
/* Both feet outward by_mm along the body (< 0: inward at their own level); roof and radius kept,
 * the legs turn. */
MUST_CHECK Fault shape_move_feet(const Outline *gingival, double by_mm, Outline *outline);
MUST_CHECK Fault shape_mirror_leg(const Outline *gingival, int keep_side,
                                  Outline *outline); /* -1 left, +1 right */
MUST_CHECK Fault shape_widen(const Outline *plan, double by_mm,
                             Outline *outline); /* neck half width grows by_mm */
/* Best outline in the same room: R(theta) = c exp(-3 theta/theta_e), core/SOURCES.md "best
 * outline"; floored at the radius floor_mm. */
MUST_CHECK Fault shape_best_roof(const Outline *gingival, double floor_mm, Outline *outline);
/* A round notch of a disc: centre on the outline at t, depth and edge radius, cut into the
 * material. */
MUST_CHECK Fault shape_disc_mark(const Outline *gingival, double t, double depth,
                                 double edge_radius, Outline *outline);
