/* delaunay.h - constrained Delaunay triangulation of a closed polygon, refined to a size.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Decisions are exact: vertices are snapped to an integer grid of 2^25 steps over the polygon (the
 * given doubles are kept beside it) and every test is done in 64- or 128-bit integers.  Methods:
 * incremental insertion with Lawson flips; forced edges after Sloan (1993); refinement by points on
 * the bisector of the shortest edge (off-centres after Uengoer 2004, front-like sizes).  The
 * boundary is never split: it comes sampled at the wanted size.  Source: core/SOURCES.md "plane".
 */
#pragma once
#include "base/fault.h"
#include "base/vec.h"
#include <stddef.h>
#include <stdint.h>

typedef struct {
  int32_t v[3];  /* corners, counter-clockwise                                     */
  int32_t n[3];  /* neighbour across the edge opposite v[i]; -1 none               */
  bool fixed[3]; /* that edge belongs to the boundary                              */
  bool inside;
  bool settled; /* refinement has nothing more to do here                         */
} Triangle;

typedef struct {
  Point *at;          /* n_vertex; the first three are the corners of the hull        */
  int32_t (*grid)[2]; /* the same on the grid                                         */
  int32_t *touching;  /* one triangle at each vertex                                  */
  size_t n_vertex, room_vertex;
  Triangle *triangle;
  size_t n_triangle, room_triangle;
  int32_t *stack; /* work of flips, room_stack                                    */
  size_t room_stack;
  Point origin;
  double step;  /* mm of a grid step                                            */
  int32_t last; /* where the last search ended                                  */
} Delaunay;

#define DELAUNAY_HULL 3 /* vertices before the caller's first                           */

void delaunay_clear(Delaunay *mesh); /* accepts zeroed */

/* Triangulates the inside of the counter-clockwise polygon at[n]: vertex i of the polygon is vertex
 * DELAUNAY_HULL + i of the mesh.  Buffers of *mesh are used again.  FAULT_CROSSING with *where when
 * edges cross or touch, FAULT_DEGENERATE for repeated points, FAULT_RANGE outside 3 .. 100 000. */
MUST_CHECK Fault delaunay_polygon(Delaunay *mesh, const Point at[], size_t n, Point *where);

/* Inserts inner points until triangles are as small as size() asks and as regular as the boundary
 * lets them be; at most `most` vertices in all.  size(p) > 0 must change by less than 1 mm a mm. */
MUST_CHECK Fault delaunay_refine(Delaunay *mesh, double (*size)(Point at, const void *data),
                                 const void *data, size_t most);

/* For delaunay_refine.c and the search in plane_mesh.c. */
int32_t delaunay_locate(Delaunay *mesh, int32_t vertex); /* a triangle that holds it, or -1 */
MUST_CHECK Fault delaunay_vertex_add(Delaunay *mesh, Point at, int32_t *vertex);
MUST_CHECK Fault delaunay_vertex_insert(Delaunay *mesh, int32_t vertex, int32_t triangle,
                                        bool *done);
