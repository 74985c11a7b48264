/* section_torsion.h - Saint-Venant torsion constant of any section by a boundary integral.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, mm^4.  Private to section*.c. */
#pragma once
#include "base/fault.h"
#include "base/vec.h"
#include <stddef.h>

#define TORSION_MOST 640 /* points on the rim */

/* J of the closed polygon rim[0 .. n-1], counter-clockwise, which does not cross itself; 8 to
 * TORSION_MOST points, none repeated.  area: of the true outline that the polygon stands for; J is
 * scaled to it (J goes with the square). FAULT_DEGENERATE for a sliver (about 1 : 18).  Points
 * crowd toward corners for best results.  Method and measured errors: core/SOURCES.md "torsion". */
MUST_CHECK Fault section_torsion(const Point rim[], size_t n, double area, double *torsion);
