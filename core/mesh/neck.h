/* neck.h - where a bridge is narrowest between its units.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, mm^2, rad.  The area of the section along the span has a least place at each connector; the
 * plane is then tilted until its area is least.  Method and limits: core/SOURCES.md "surfaces". */
#pragma once
#include "mesh/slices.h"

#define NECKS_MOST 15
#define SPAN_STATIONS 320
#define NECK_TILT_MAX (35 * 3.14159265358979 / 180)

typedef struct {
  double x;          /* along the span, where its plane meets the middle of its section */
  double yaw, pitch; /* of its plane, to the span (mesh_frame_tilted)                    */
  MeshFrame frame;   /* its own: origin in the middle of the section, x across it       */
  double area, height, width;
  double waist; /* its area over the smaller of the largest areas on both sides; < 1  */
} Neck;

typedef struct {
  MeshFrame frame;
  double low, high;                                /* of the surface along frame.x              */
  double area[SPAN_STATIONS];                      /* at span_station(i); 0 where there is none */
  Point least[SPAN_STATIONS], most[SPAN_STATIONS]; /* boxes of the sections: z, y */
  Neck neck[NECKS_MOST];
  size_t n_neck; /* from small to large x                     */
} MeshSpan;

double span_station(const MeshSpan *span, size_t i);
/* Cuts along frame.x and finds the necks; none is no fault.  FAULT_DEGENERATE, FAULT_CANCELLED,
 * FAULT_MEMORY. */
MUST_CHECK Fault span_find(const Mesh *mesh, const MeshFrame *frame, const MeshWatch *watch,
                           MeshSpan *span);
/* The neck at a plane set by hand.  x is held inside the surface; FAULT_NO_NECK where it meets
 * nothing; FAULT_RANGE beyond NECK_TILT_MAX. */
MUST_CHECK Fault span_neck_at(const Mesh *mesh, const MeshSpan *span, double x, double yaw,
                              double pitch, Neck *neck);
