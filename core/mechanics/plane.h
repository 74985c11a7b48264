/* plane.h - plane stress with thickness: bars, bare silhouettes, and connectors whose loft is refused.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa.  Curved six-node triangles on an own constrained Delaunay mesh, CHOLMOD.  Model, calibration and
 * limits: core/SOURCES.md "plane".  One workspace per thread. */
#pragma once
#include "mechanics/field.h"
#include "mechanics/loft.h"

typedef struct PlaneWork PlaneWork;
MUST_CHECK Fault plane_work_new(PlaneWork **work);
void plane_work_free(PlaneWork *work);

typedef struct {
  double young_mpa, poisson;
  double fineness;  /* elements per root radius: 6 default, up to 16; scales all sizes                  */
} PlaneSettings;

/* Thickness at a point; must be > 0 inside. */
typedef double (*PlaneThickness)(Point at, void *data);

typedef struct {
  double neck_height, neck_x;   /* thinnest vertical-ish section                     */
  Point neck_low, neck_high;
  double roof_radius;           /* smallest notch radius on the lower edge           */
  double nominal_per_n_mm;      /* 6/(t h^2) at the neck                             */
  size_t nodes, unknowns;
  double error_percent;         /* estimated discretisation error of the peak        */
} PlaneReading;

/* A closed silhouette (counter-clockwise, y up), constant thickness t, loaded on its two vertical straight ends
 * at the extreme x.  Field has SHEET_ELEVATION and a surface of the edge times thickness. The moment and
 * the shear of the unit loads act at the neck section. */
MUST_CHECK Fault plane_silhouette(PlaneWork *work, const Outline *silhouette, double thickness,
                                  const PlaneSettings *settings, Field **field, PlaneReading *reading, Point *where);
/* A connector by its ribs: thickness t = buccal + lingual half width, constant along a rib; the field is
 * corrected to the solid by the calibrated factor (neck section I/c and b/c). */
MUST_CHECK Fault plane_connector(PlaneWork *work, const LoftInput *input, const PlaneSettings *settings, Field **field,
                                 PlaneReading *reading, Point *where);
