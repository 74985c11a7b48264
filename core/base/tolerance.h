/* tolerance.h - every tolerance that geometry and mechanics use, named, with its dimension.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#define TOL_POINT_MM 1e-7       /* two points closer than this are the same point               */
#define TOL_FLATTEN_MM 2e-4     /* chord error when an outline is turned into a polyline        */
#define TOL_SYMMETRY_MM 0.01    /* outlines that differ less than this count as mirror images   */
#define TOL_SIDES_MM 0.10       /* buccal and lingual half widths that differ less are averaged */
#define MIN_NECK_MM 0.3         /* thinner than this is "no neck"                               */
#define MAX_SIZE_MM 200.0       /* no dental part is larger; larger input is refused            */
#define MIN_ROOF_RADIUS_MM 0.02 /* sharper roofs are treated as this sharp, and said so         */
