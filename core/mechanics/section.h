/* section.h - properties of a cross-section at the neck.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Axes: y up (occlusal +), z buccal +.  mm, mm^2, mm^3, mm^4.  Sources: core/SOURCES.md "section".
 */
#pragma once
#include "outline/outline.h"

typedef struct {
  double area;
  double y, z;           /* centroid                                                         */
  double i_y, i_z, i_yz; /* second moments about centroidal axes; i_z is about the z axis:
                            bending in the elevation                                         */
  double w_gingival, w_occlusal; /* i_z over the distance to the lowest / highest fibre          */
  double w_buccal, w_lingual;    /* i_y over the distance to the outermost fibre                 */
  double torsion;             /* Saint-Venant constant J                                          */
  double shear_stress_factor; /* largest shear stress = factor * V / area (vertical force)       */
  double height, width;       /* extents                                                          */
} Section;

/* |y/(h/2)|^n + |z/(w/2)|^n = 1, exponent n in [1, 50]; centred on y0. n = 2 is an ellipse. */
MUST_CHECK Fault section_superellipse(double height, double width, double n, double y0,
                                      Section *section);
/* The same without the torsion constant (NaN), which takes nine tenths of the time. */
MUST_CHECK Fault section_superellipse_bent(double height, double width, double n, double y0,
                                           Section *section);
/* Upper and lower half and both sides may differ: half heights from the widest level y0, half
 * widths. */
MUST_CHECK Fault section_quarters(double half_low, double half_high, double half_buccal,
                                  double half_lingual, double n, double y0, Section *section);
/* Any closed outline (Point.x = z, Point.y = y), drawn either way round.  J by boundary elements,
 * see SOURCES.  FAULT_CROSSING; FAULT_DEGENERATE when open or a sliver (thinner than about 1 : 18).
 */
MUST_CHECK Fault section_from_outline(const Outline *closed, Section *section);
/* The neck of a connector: a drawn section with its extremes at these distances from (0, y0)
 * (drawn_section.h), or by roundness n where `drawn` is NULL.  FAULT_SECTION. */
MUST_CHECK Fault section_neck(const Outline *drawn, double half_low, double half_high,
                              double half_buccal, double half_lingual, double n, double y0,
                              Section *section);
