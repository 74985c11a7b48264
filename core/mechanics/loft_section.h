/* loft_section.h - the drawn section of a loft's neck and its way into the body's superellipse.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to loft.c.  Unit section, angles as in drawn_section.h.  Source: core/SOURCES.md "drawn
 * section". */
#pragma once
#include "mechanics/drawn_section.h"
#include "mechanics/loft.h"

typedef struct LoftSection LoftSection;
MUST_CHECK Fault loft_section_new(const Outline *drawn, double roundness_body,
                                  LoftSection **section);
void loft_section_free(LoftSection *section); /* accepts NULL */
double loft_section_roundness(const LoftSection *section);
/* Largest turning of the drawn rim within 10 degrees seen from its middle, rad. */
double loft_section_most_turn(const LoftSection *section);
double loft_section_lopsided(const LoftSection *section);
/* Drawn reach over that of the superellipse of mean roundness. */
double loft_section_drawn_ratio(const LoftSection *section, double angle, bool lingual);
double loft_section_drawn_angle(const LoftSection *section, double phi, int cells, bool lingual);
/* Fills share and growth of a rib whose shape is the body's by this share. */
void loft_section_blend(const LoftSection *section, double body, Rib *rib);
