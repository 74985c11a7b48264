/* drawn.h - what a line drawn by hand leaves open: the roof radius and the pull that goes with it.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A pen scatters, a photo has an error of scale, a surface was cut into places: what a line was
 * taken from is known so well and no better.  All of it widens bands here and nowhere else; it
 * moves no middle.  Source: core/SOURCES.md "doubt of a drawn roof". */
#pragma once
#include "casefile/case.h"

/* Standard error of the roof radius, percent; 0 where the gum side was typed or proposed. */
double connector_roof_doubt(const Connector *connector);
/* Set with an outline.  0 or NaN: exact. */
void connector_roof_doubt_set(Connector *connector, double percent);
/* The gum side becomes `outline` by hand moves (knots, eraser): what was not known of the roof, in
 * mm, stays not known. */
MUST_CHECK Fault connector_gum_side_move(Connector *connector, const Outline *outline);
/* Of a roof radius taken off a surface whose triangles turn by `turn` rad at one corner there
 * (Trace.roof_turn). */
double surface_roof_doubt(double radius, double turn);

/* Shares of the radius at the ends of its band, 5 and 95 of 100. */
typedef struct {
  double low, high;
} RoofShare;
RoofShare drawn_share(double doubt_percent);
Banded drawn_radius(Banded radius, double doubt_percent);

/* Pull at the hot spot when the roof is as round, as sharp as the band allows, over the pull as
 * drawn. */
RoofShare drawn_pull(double doubt_percent);
/* Error of the pull at the hot spot from all that the line was taken from, percent: the photo's
 * scale and the roof's doubt, independent of each other. */
double line_pull_percent(double trace_percent, double doubt_percent, const Form *form);
