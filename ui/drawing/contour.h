/* contour.h - lines drawn out of a triangle mesh: where the stress has a level, and where the mesh
 * ends. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm of the sheet.  Method: marching triangles; a crossing is known by the edge it lies on, so
 * pieces join exactly. A vertex that has exactly the level counts as above it, so every triangle
 * has no or two crossings. */
#pragma once
#include "mechanics/field.h"

typedef struct {
  Point *at;     /* owned, all lines one after the other                      */
  size_t n;      /* points                                                    */
  size_t *start; /* owned; line i is at[start[i]] .. at[start[i + 1] - 1]     */
  size_t n_line; /* start has n_line + 1 entries when n_line > 0              */
} LineSet;
void line_set_clear(LineSet *lines); /* accepts NULL and cleared ones */

/* Lines of value == level; triangles with a NaN are left out.  A closed line repeats its first
 * point. lines  out  replaced; needs no init; empty if the level is nowhere */
MUST_CHECK Fault contour_find(const FieldSheet *sheet, const float value[], double level,
                              LineSet *lines);
/* The rim of the mesh: edges that belong to one triangle only, chained. */
MUST_CHECK Fault contour_rim(const FieldSheet *sheet, LineSet *lines);
