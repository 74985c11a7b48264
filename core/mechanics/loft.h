/* loft.h - the body between four outlines: ribs that join points of equal s.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Units mm.  x mesio-distal, y up, z buccal +.  On each side of the neck every outline is split
 * into roof arc s in [0,1], leg s in [1,2], body s in [2,3]; a rib joins the four points of equal
 * s: q in [-1,1]; x = x_p (1-q^2) + x_g q^2 (q<0), x_p (1-q^2) + x_o q^2 (q>0) y = y0 + |q| (y_g -
 * y0) or q (y_o - y0);  z = +w_b or -w_l times (1-|q|^n)^(1/n), or as drawn. Where the plan notch
 * is narrower than the gingival one, equal s folds; plan points are then paired by equal x
 * (repaired = true). Source: core/SOURCES.md "ribs". */
#pragma once
#include "outline/outline.h"

typedef struct {
  double s;                 /* 0 neck, 1 end of the arc, 2 foot, 3 far end                   */
  Point gingival, occlusal; /* elevation                                                     */
  double x_plan;            /* x of the plan points                                          */
  double buccal, lingual;   /* half widths, > 0                                              */
  double roundness;         /* n                                                             */
  double drawn; /* share of the drawn section in the shape; 0: |q|^n + |zeta|^n = 1         */
  double tilt, tilt_y; /* the rib leans: x goes on by tilt (y - tilt_y); 0: upright           */
  double grow[4]; /* of the unit section: gum side, biting side, cheek, tongue; 1 unless drawn */
} Rib;

/* The rib's x at a level, y0 + q (end - y0) of its end there. */
double rib_x(const Rib *rib, double y0, double y);

typedef struct Loft Loft; /* immutable after loft_new: may be shared by threads */

typedef struct {
  const Outline *gingival, *occlusal, *buccal, *lingual; /* borrowed during loft_new only */
  double neck_x; /* plane of the neck: where the outlines are split         */
  double roundness_neck, roundness_body; /* superellipse exponents, 1.5 .. 8; default 2, 4 */
  const Outline *section; /* drawn section of the neck, borrowed during loft_new only; NULL: by
                             roundness_neck.  Turns into the body's along the legs */
} LoftInput;

MUST_CHECK Fault loft_new(const LoftInput *input, Loft **loft,
                          Point *where); /* where: fold or crossing */
/* The side (-1 or 1) of the neck with its mirror image in place of the other; 0: both as drawn. */
MUST_CHECK Fault loft_new_mirrored(const LoftInput *input, int side, Loft **loft, Point *where);
void loft_free(Loft *loft);

double
loft_tilt(const Loft *loft); /* of the ribs, see Rib; 0 for a neck that stands nearly upright */
double loft_y0(const Loft *loft); /* level of the widest place                            */
bool loft_repaired(const Loft *loft);
bool loft_mirror_x(const Loft *loft); /* mesial = distal within TOL_SYMMETRY_MM               */
bool loft_mirror_z(
    const Loft *loft); /* buccal = lingual within TOL_SYMMETRY_MM, and section_even */
double loft_side_difference(const Loft *loft); /* largest |buccal - lingual|, mm                 */
/* side -1 or +1, s in [0, 3].  dx-derivatives are taken by the caller. */
Rib loft_rib(const Loft *loft, int side, double s);
/* The point of a rib by its place in the unit section: q and zeta in [-1,1], before it is grown to
 * the outlines; z = w zeta.  mean_sides uses (buccal+lingual)/2 on both sides. */
Vec3 loft_place(const Rib *rib, double y0, double q, double zeta, bool mean_sides);
/* From the middle of the unit section to its rim at an angle, 0 gum side, pi biting side, given by
 * cosine and sine; ratio: loft_section_ratio() of that angle and half, the same for every rib. */
double rib_reach(const Rib *rib, double cosine, double sine, double ratio);
double loft_section_ratio(const Loft *loft, double angle, bool lingual);
/* The angle that a mesh of `cells` even cells from gum to biting side gives its place at phi, so
 * that the corners of a drawn section fall between cells; phi itself without corners. */
double loft_section_angle(const Loft *loft, double phi, int cells, bool lingual);
/* Cheek and tongue halves of the unit section are alike within TOL_SYMMETRY_MM: the outlines alone
 * tell the sides apart. */
bool loft_section_even(const Loft *loft);
/* The drawn section has corners, or is rounded as tightly: stress piles up along them. */
bool loft_section_sharp(const Loft *loft);
/* Arc length of the gingival outline in [s0, s1] of a side, and its smallest radius there. */
double loft_gingival_length(const Loft *loft, int side, double s0, double s1);
double loft_gingival_radius(const Loft *loft, int side);
double loft_occlusal_radius(const Loft *loft, int side);
/* How far the gingival outline has turned towards its leg at s, rad. */
double loft_gingival_turn(const Loft *loft, int side, double s);
