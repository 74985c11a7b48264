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
  double lean; /* middle of the material above (+) or below the middle of its boxes, share of their
                  height: hollow crowns lean to the biting side          */
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

#define NECK_NONE SIZE_MAX
/* Which neck belongs to which connector of a case: each takes the nearest one that is left, in
 * order along the span.
 *   at      in   n places that the sizes of the units give, in shares of the span, rising
 *   neck    out  index, or NECK_NONE
 * Returns the mean distance of the pairs in shares of the span, 1 for each connector without one.
 * With `reversed` the span is read from its other end (and neck[] counts as if it were turned). */
double span_match(const MeshSpan *span, const double at[], size_t n, bool reversed, size_t neck[]);
