/* stroke_doubt.h - how well a stroke of the pen tells the radius of the roof that it drew.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The pen scatters: a corner whose arc is less than a few points long may have been any of several.
 * Method, constants and what they cover: core/SOURCES.md "doubt of a drawn roof". */
#pragma once
#include "outline/stroke.h"

#define STROKE_DOUBT_MOST 300.0 /* percent; beyond it nothing is known anyway */

/* Standard error of the roof radius of `outline`, as a share of the radius that is read from it.
 *   pen, n    in   the stroke
 *   outline   in   the gum side with the stroke set into it
 *   percent   out  >= 0; NaN: the stroke does not reach the sharpest place of the roof
 * Faults as stroke_fit().  5 to 60 ms: for when the pen is lifted. */
MUST_CHECK Fault stroke_roof_doubt(const PenPoint pen[], size_t n, const Outline *outline,
                                   double *percent);
