/* plane_mesh.h - an outline's inside as curved six-node triangles, fine where the outline turns.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  Sizes: roof radius / fineness at hollow turns, a third of the way to the opposite wall,
 * growing inward by 0.5 a mm.  Measured: core/SOURCES.md "plane". */
#pragma once
#include "mechanics/delaunay.h"
#include "outline/outline.h"

typedef struct {
  int32_t node[6]; /* corners counter-clockwise, then the middles of edges 0-1, 1-2, 2-0 */
} PlaneElement;

typedef struct {
  int32_t node[3]; /* first, last, middle; material on the left of first -> last      */
  int32_t element;
  double t0, t1; /* places on the outline; t1 > t0                                  */
} PlaneEdge;

typedef struct {
  Point *at; /* n_node; the corners of elements come first                      */
  size_t n_node, n_corner;
  PlaneElement *element;
  size_t n_element;
  PlaneEdge *edge; /* n_edge, in the order of the outline                             */
  size_t n_edge;
  /* private work, kept between calls */
  Delaunay triangles;
  int32_t *element_of; /* triangle -> element, -1 outside                            */
  struct WallSample *sample;
  size_t n_sample, room_sample;
  Point *wall; /* vertices of the outline, their sizes and places                 */
  double *wall_size, *wall_t;
  size_t n_wall, room_wall, room_node, room_element;
  int32_t *number, *middle; /* vertex -> node, triangle edge -> middle node                    */
} PlaneMesh;

/* closed: counter-clockwise.  fineness: elements a radius, 2 .. 40 (PLANE_FINENESS is the live
 * one).  *mesh starts zeroed and may be used again.  FAULT_CROSSING, FAULT_MESH with *where;
 * FAULT_RANGE. */
MUST_CHECK Fault plane_mesh_make(PlaneMesh *mesh, const Outline *closed, double fineness,
                                 Point *where);
void plane_mesh_clear(PlaneMesh *mesh);
/* Smallest and largest x of the walls. */
void plane_mesh_reach(const PlaneMesh *mesh, double *x0, double *x1);

/* The element that holds a place (or the nearest one at hand) and the place's shape functions. */
typedef struct {
  int32_t element;
  double n[6];
} PlanePlace;
MUST_CHECK Fault plane_mesh_find(PlaneMesh *mesh, Point at, PlanePlace *place);
