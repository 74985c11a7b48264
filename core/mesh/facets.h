/* facets.h - a line cut out of flat triangles, and the curve that its corners lie on.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  Corners of triangles lie on the surface that was meant, their sides inside of its bends: a
 * roof read off the sides is too round or, where they are long, a row of corners.  Internal to
 * core/mesh.  Method: core/SOURCES.md "surfaces". */
#pragma once
#include "base/fault.h"
#include "base/vec.h"
#include <stddef.h>

typedef struct {
  Point *at;    /* owned, n: corners, straight between them               */
  double *bend; /* owned, n: curvature of the side behind each, left +    */
  double *way;  /* owned, n: to each, along the straight sides            */
  size_t n;
} FacetLine;

/* From places on the line, closer than its corners are: n >= 2. */
MUST_CHECK Fault facets_find(const Point at[], size_t n, FacetLine *facets);
void facets_clear(FacetLine *facets); /* accepts cleared ones */
/* On the curve, `way` along the sides. */
Point facets_at(const FacetLine *facets, double way);
/* Largest turn at one corner near p, rad: at the ends of the nearest side and the next ones. */
double facets_turn(const FacetLine *facets, Point p);
