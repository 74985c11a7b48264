/* plane_size.h - how fine the walls of a plane mesh are, and where their vertices go.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "mechanics/plane_mesh.h"

/* Fills wall, wall_size and wall_t from the outline. */
MUST_CHECK Fault plane_walls_make(PlaneMesh *mesh, const Outline *closed, double fineness);
/* Wanted edge length at a place inside. */
double plane_size_at(Point at, const void *mesh);
