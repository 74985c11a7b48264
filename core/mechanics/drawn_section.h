/* drawn_section.h - a drawn closed section: checked, scaled to four half sizes, read ray by ray.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm; rad.  Point.x = z (cheek +), Point.y = y.  The middle of a section is z = 0, half way between
 * its lowest and highest place; wherever it was drawn upwards is the same.  Unit section: low,
 * high, cheek and tongue extremes at 1 from the middle.  Angles run from the gum side (0) to the
 * biting side (pi) over one half.  Rules and limits: core/SOURCES.md "drawn section". */
#pragma once
#include "mechanics/section.h"

#define SECTION_LEAST_MM 0.3    /* smallest height and width of a drawing        */
#define SECTION_LEAST_REACH 0.2 /* of the unit section, from its middle          */
#define SECTION_LEAST_SINE 0.1  /* of the angle between rim and ray              */
#define SECTION_ROUND_LEAST 1.5 /* mean roundness of a drawn section, see below  */
#define SECTION_ROUND_MOST 20.0
#define SECTION_CORNERS 16

/* Whether ribs can follow it.  On false *reason is an English msgid: what is wrong, what to do;
 * *where the place on it. */
bool section_check(const Outline *drawn, Point *where, const char **reason);
/* The extremes of a closed outline, exact. */
void section_box(const Outline *closed, Point *low, Point *high);
/* The drawing with its extremes at these distances from (0, y0), each quarter scaled on its own;
 * counter-clockwise.  `scaled` must be inited.  FAULT_SECTION when section_check() says no. */
MUST_CHECK Fault section_scale(const Outline *drawn, double half_low, double half_high,
                               double half_buccal, double half_lingual, double y0, Outline *scaled);

typedef struct DrawnSection DrawnSection; /* immutable */
MUST_CHECK Fault drawn_section_new(const Outline *drawn, DrawnSection **section);
void drawn_section_free(DrawnSection *section); /* accepts NULL */
/* Exponent of the superellipse with the same area in the unit square, held to the limits above. */
double drawn_section_roundness(const DrawnSection *section);
/* From the middle of the unit section to its rim. */
double drawn_section_reach(const DrawnSection *section, double angle, bool lingual);
/* Largest difference of the reaches of both halves: 0 = cheek and tongue side alike. */
double drawn_section_lopsided(const DrawnSection *section);
/* Angles of the corners of a half, sorted, those on the middle line left out. */
size_t drawn_section_corners(const DrawnSection *section, bool lingual,
                             double angle[SECTION_CORNERS]);
