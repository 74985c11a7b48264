/* slices.h - a surface cut across its span, again and again.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  All places are those of the frame: x along the span; in a section Point.x = z, Point.y = y.
 * Material lies on the left of a section's loops, seen so that z points right and y up.  Immutable
 * after slices_new: may be shared by threads.  Method: core/SOURCES.md "surfaces". */
#pragma once
#include "mesh/mesh.h"

typedef struct Slices Slices;

/* Only what lies between low and high in the frame is kept; the mesh is not needed after.
 * FAULT_DEGENERATE when nothing does. */
MUST_CHECK Fault slices_new(const Mesh *mesh, const MeshFrame *frame, Vec3 low, Vec3 high,
                            const MeshWatch *watch, Slices **slices);
void slices_free(Slices *slices);        /* accepts NULL */
double slices_low(const Slices *slices); /* x of the first and last vertex kept */
double slices_high(const Slices *slices);

typedef struct {
  double area;     /* holes taken off; wrong where the surface is open */
  Point low, high; /* box: least z, least y; largest                   */
  Point centre;    /* of the area; of the box when there is none       */
  size_t crossed;  /* triangles cut                                    */
} Slice;

/* The section at x; false where there is none. */
bool slices_at(const Slices *slices, double x, Slice *slice);
/* The same of a plane through (x, y, z) turned by yaw and pitch (mesh_frame_tilted). */
bool slices_tilted(const Slices *slices, Vec3 through, double yaw, double pitch, Slice *slice);

/* One closed line of a section. */
typedef struct {
  Point *at; /* owned; the last is joined to the first          */
  size_t n;
  double area;     /* > 0 material inside, < 0 a hole             */
  double gap;      /* largest way that had to be bridged where the surface is open, mm */
  size_t triangle; /* number in the file of one of its triangles  */
} Loop;

typedef struct {
  Loop *loop; /* owned, largest |area| first */
  size_t n;
} Loops;

/* Gaps up to bridge_mm are closed with a straight line.
 * FAULT_MESH with the number of a triangle when a line does not close. */
MUST_CHECK Fault slices_loops(const Slices *slices, double x, double bridge_mm, Loops *loops,
                              size_t *triangle);
void loops_clear(Loops *loops);
