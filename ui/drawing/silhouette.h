/* silhouette.h - the bridge in one line: the connectors' outlines joined over the units.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Decoration lies outside of what is calculated: cusps on the biting edge, rounded ends of the end
 * units. */
#pragma once
#include "assess.h"
#include "ui/drawing/ink.h"

/* View: x along the span from the far end of the first unit, y above the tissue line.  A closed
 * path is added. */
void path_silhouette(cairo_t *cr, View view, const Assessment *a);
/* Highest place of the biting edge at x, mm. */
double silhouette_top(const Assessment *a, double x);
/* The prepared tooth or implant inside an abutment; nothing for pontics. */
void path_die(cairo_t *cr, View view, const Assessment *a, size_t unit);
/* Middle of a unit along the span, mm. */
double silhouette_middle(const Assessment *a, size_t unit);
