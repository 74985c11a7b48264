/* plane_element.h - shape functions and integration points of the six-node triangle.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "mechanics/plane_mesh.h"

#define TRIANGLE_GAUSS 3
#define EDGE_GAUSS 3

/* Places of the nodes in the unit triangle. */
static const double triangle_node[6][2] = {{0, 0}, {1, 0}, {0, 1}, {0.5, 0}, {0.5, 0.5}, {0, 0.5}};

typedef struct {
  Point at;
  double dx[6], dy[6]; /* derivatives of the shape functions                       */
  double area;         /* half the Jacobian: of the triangle, or of an integration point */
} TrianglePoint;

static inline void triangle_values(double r, double s, double n[6])
{
  double l = 1 - r - s;
  n[0] = l * (2 * l - 1), n[1] = r * (2 * r - 1), n[2] = s * (2 * s - 1);
  n[3] = 4 * l * r, n[4] = 4 * r * s, n[5] = 4 * s * l;
}

/* Shape functions' values and derivatives at a place (r, s) of the unit triangle. */
static inline TrianglePoint triangle_place(const PlaneMesh *mesh, const PlaneElement *e, double r,
                                           double s)
{
  double l = 1 - r - s, n[6];
  triangle_values(r, s, n);
  const double dr[6] = {1 - 4 * l, 4 * r - 1, 0, 4 * (l - r), 4 * s, -4 * s},
               ds[6] = {1 - 4 * l, 0, 4 * s - 1, -4 * r, 4 * r, 4 * (l - s)};
  TrianglePoint p = {.at = {0, 0}};
  double xr = 0, yr = 0, xs = 0, ys = 0;
  for (int i = 0; i < 6; i++) {
    Point at = mesh->at[e->node[i]];
    p.at.x += n[i] * at.x, p.at.y += n[i] * at.y;
    xr += dr[i] * at.x, yr += dr[i] * at.y, xs += ds[i] * at.x, ys += ds[i] * at.y;
  }
  double jacobian = xr * ys - xs * yr, inverse = jacobian > 0 || jacobian < 0 ? 1 / jacobian : 0;
  for (int i = 0; i < 6; i++) {
    p.dx[i] = (ys * dr[i] - yr * ds[i]) * inverse;
    p.dy[i] = (xr * ds[i] - xs * dr[i]) * inverse;
  }
  p.area = jacobian / 2;
  return p;
}

/* Integration point g of an element; area <= 0 when it is inside out there. */
static inline TrianglePoint triangle_point(const PlaneMesh *mesh, const PlaneElement *e, int g)
{
  static const double place[TRIANGLE_GAUSS][2] = {
      {1.0 / 6, 1.0 / 6}, {2.0 / 3, 1.0 / 6}, {1.0 / 6, 2.0 / 3}};
  TrianglePoint p = triangle_place(mesh, e, place[g][0], place[g][1]);
  p.area /= TRIANGLE_GAUSS;
  return p;
}

/* Value at integration point g carried to the three corners and the three middles. */
static inline void triangle_carry(const double gauss[TRIANGLE_GAUSS], double node[6])
{
  double sum = gauss[0] + gauss[1] + gauss[2];
  for (int i = 0; i < 3; i++)
    node[i] = 2 * gauss[i] - sum / 3;
  for (int i = 0; i < 3; i++)
    node[3 + i] = (node[i] + node[(i + 1) % 3]) / 2;
}

typedef struct {
  Point at, outward; /* unit normal                                            */
  double n[3];       /* shape functions of first, last, middle                 */
  double length;     /* weight times length                                    */
} EdgePoint;

static inline EdgePoint edge_point(const PlaneMesh *mesh, const PlaneEdge *edge, int g)
{
  static const double place[EDGE_GAUSS] = {-0.774596669241483377, 0, 0.774596669241483377},
                      weight[EDGE_GAUSS] = {5.0 / 9, 8.0 / 9, 5.0 / 9};
  double r = place[g];
  EdgePoint p = {.n = {r * (r - 1) / 2, r * (r + 1) / 2, 1 - r * r}};
  const double d[3] = {r - 0.5, r + 0.5, -2 * r};
  Point along = {0, 0};
  for (int i = 0; i < 3; i++) {
    Point at = mesh->at[edge->node[i]];
    p.at = point_add(p.at, point_scale(at, p.n[i]));
    along = point_add(along, point_scale(at, d[i]));
  }
  double length = point_length(along);
  p.outward = point(along.y / length, -along.x / length);
  p.length = length * weight[g];
  return p;
}
