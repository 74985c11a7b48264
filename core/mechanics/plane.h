/* plane.h - plane stress with thickness: bars, bare silhouettes, connectors whose ribs fold.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa.  Loads are the unit bending and unit shear at the neck (field.h), as
 * self-equilibrated tractions on the two end faces.  Both recoveries of the stress (direct and
 * extrapolated) are kept. Model, calibration and limits: core/SOURCES.md "plane".  One workspace
 * per thread. */
#pragma once
#include "mechanics/field.h"
#include "mechanics/loft.h"

typedef struct PlaneWork PlaneWork;
MUST_CHECK Fault plane_work_new(PlaneWork **work);
void plane_work_free(PlaneWork *work); /* accepts NULL */

typedef struct {
  double young_mpa, poisson; /* > 0; [0, 0.49]                                  */
  double fineness;           /* elements a roof radius, 2 .. 40                 */
} PlaneSettings;
#define PLANE_FINENESS 7.0

typedef struct {
  double neck_height, neck_x; /* shortest way from the lower to the upper edge, its middle   */
  Point neck_low, neck_high;  /* its ends                                                    */
  double x0, x1;              /* the loaded ends                                             */
  double roof_radius;         /* smallest hollow radius of the lower edge; INFINITY if none  */
  double nominal_per_n_mm;    /* 6 / (t h^2) at the neck: MPa of 1 N mm                      */
  size_t nodes, unknowns;     /* of the mesh                                                 */
  double error_percent;       /* estimated discretisation error of the bending peak          */
} PlaneReading;

/* A closed silhouette (counter-clockwise, y up) of constant thickness, loaded on the straight
 * upright edges at its extreme x.  FAULT_CROSSING and FAULT_MESH with *where; FAULT_DEGENERATE when
 * an end is no straight upright edge; FAULT_RANGE. */
MUST_CHECK Fault plane_silhouette(PlaneWork *work, const Outline *silhouette, double thickness,
                                  const PlaneSettings *settings, Field **field,
                                  PlaneReading *reading, Point *where);

/* A connector: thickness = buccal + lingual half width, constant along a rib where the loft has
 * ribs, else along x (plan outlines by equal x, wider band); stress corrected to the solid by the
 * calibrated factor of the neck section (its height from the elevation, its width from the plan).
 * The loads act at input->neck_x. */
MUST_CHECK Fault plane_connector(PlaneWork *work, const LoftInput *input,
                                 const PlaneSettings *settings, Field **field,
                                 PlaneReading *reading, Point *where);
