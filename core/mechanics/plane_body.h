/* plane_body.h - the parts of a plane answer that silhouettes and connectors share.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to plane*.c.  mm, N, MPa. */
#pragma once
#include "plane.h"
#include "plane_field.h"

struct PlaneWork {
  PlaneMesh mesh;
  PlaneFactor *factor;
  unsigned char *held, *wall;
  double *load, *displacement;          /* UNIT_LOAD_N vectors of 2 n_node each           */
  double (*stress[2 * UNIT_LOAD_N])[3]; /* direct and extrapolated of each unit load      */
  size_t room;
};

MUST_CHECK Fault plane_settings_check(const PlaneSettings *settings);
/* Mesh, walls and readings of the closed outline. */
MUST_CHECK Fault plane_body_make(PlaneWork *work, const Outline *closed, double fineness,
                                 PlaneReading *reading, Point *where);
/* Solves both unit loads at neck_x and fills a new field. */
MUST_CHECK Fault plane_body_solve(PlaneWork *work, const PlaneMaterial *material, double neck_x,
                                  const Loft *loft, PlaneCorrection correction, Field **field,
                                  PlaneReading *reading);

/* Names the walls of the mesh.  FAULT_DEGENERATE when an end is no straight upright edge. */
MUST_CHECK Fault plane_walls_name(PlaneWork *work, Point *where);
/* Neck, ends, roof radius, sizes. */
void plane_reading_make(const PlaneWork *work, const Outline *closed, PlaneReading *reading);

/* Place where an outline (running to large x) first reaches x, from its start or from its end. */
double plane_place_of_x(const Outline *outline, double x, bool from_end);
