/* flow.h - how the pull runs through the material: stream lines of the direction of the first
 * principal stress. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  The lines start on a cut through the sheet; between two of them the cut carries the same
 * share of the pull, so crowding lines mean a hard pull.  They end where the pull ends, at the rim,
 * or at their reach. */
#pragma once
#include "ui/drawing/contour.h"

#define FLOW_MAX_LINES 64

/*   value, angle  in  n_vertex, as field_shade gives them
 *   from, to      in  ends of the cut, mm
 *   n             in  1 .. FLOW_MAX_LINES
 *   reach_mm      in  longest run of a line to either side of the cut, > 0
 *   lines         out replaced; at most n lines; empty when nothing is pulled on the cut */
MUST_CHECK Fault flow_lines(const FieldSheet *sheet, const float value[], const float angle[],
                            Point from, Point to, size_t n, double reach_mm, LineSet *lines);
