/* plane_field.h - from a plane solution to a Field: picture, surface, places of the peak.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "mechanics/field.h"
#include "mechanics/loft.h"
#include "mechanics/plane_solve.h"

typedef enum { WALL_LEFT, WALL_LOWER, WALL_RIGHT, WALL_UPPER } Wall;

/* What a plane stress is multiplied by: from the lowest to the highest place of the neck, evenly.
 */
typedef struct {
  double low, high, low_y, high_y;
} PlaneCorrection;

typedef struct {
  PlaneMesh *mesh; /* its triangles are searched                                      */
  const PlaneMaterial *material;
  const unsigned char *wall; /* Wall of each edge                                     */
  /* stress of each unit load at the nodes, both recoveries */
  double (*direct[UNIT_LOAD_N])[3], (*extrapolated[UNIT_LOAD_N])[3];
  const Loft *loft; /* the real surface, or NULL: the flat faces and the edges       */
  PlaneCorrection correction;
} PlaneSolution;

MUST_CHECK Fault plane_field_fill(const PlaneSolution *solution, Field *field);
/* Places and triangles of a sheet, four to an element; its stress is nil. */
MUST_CHECK Fault plane_sheet_shape(const PlaneMesh *mesh, FieldSheet *sheet);
