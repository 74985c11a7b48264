/* plane_reading.c - what a plane body is made of: its walls, its neck, its roof.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm. */
#include "plane_body.h"

/* ---- walls: two upright ends, what lies between them below and above ---- */

Fault plane_walls_name(PlaneWork *work, Point *where)
{
  const PlaneMesh *mesh = &work->mesh;
  double x0, x1;
  plane_mesh_reach(mesh, &x0, &x1);
  double near = 1e-6 * (x1 - x0);
  size_t n = mesh->n_edge, left = n;
  for (size_t i = 0; i < n; i++) {
    double a = mesh->at[mesh->edge[i].node[0]].x, b = mesh->at[mesh->edge[i].node[1]].x;
    work->wall[i] = a - x0 < near && b - x0 < near   ? WALL_LEFT
                    : x1 - a < near && x1 - b < near ? WALL_RIGHT
                                                     : WALL_LOWER;
    if (work->wall[i] == WALL_LEFT)
      left = i;
  }
  Wall wall = WALL_LOWER;
  bool right = false;
  for (size_t k = 1; k < n && left < n; k++) { /* counter-clockwise from the left end */
    size_t i = (left + k) % n;
    if (work->wall[i] == WALL_RIGHT) {
      if (wall == WALL_UPPER && work->wall[(i + n - 1) % n] != WALL_RIGHT)
        left = n; /* a second right end */
      right = true;
      wall = WALL_UPPER;
    } else if (work->wall[i] == WALL_LOWER)
      work->wall[i] = (unsigned char)wall;
  }
  *where = point(left == n ? x0 : x1, 0);
  return left < n && right ? FAULT_NONE : FAULT_DEGENERATE;
}

static Point outline_round(const Outline *o, double t)
{
  return outline_at(o, outline_wrap(o, t));
}

/* Place within `reach` of t that is nearest to p: the distance has one minimum there. */
static double nearest_about(const Outline *o, double t, double reach, Point p)
{
  double low = t - reach, high = t + reach;
  for (int i = 0; i < 32; i++) {
    double a = low + (high - low) / 3, b = high - (high - low) / 3;
    if (point_distance(outline_round(o, a), p) < point_distance(outline_round(o, b), p))
      high = b;
    else
      low = a;
  }
  return (low + high) / 2;
}

/* The shortest way between lower and upper edge; of equal ones the one nearest to the middle.  From
 * vertex and chord first, then on the drawn curves, each end in turn. */
static void neck_find(const PlaneWork *work, const Outline *o, PlaneReading *reading)
{
  const PlaneMesh *mesh = &work->mesh;
  double x0, x1, least = INFINITY, off = INFINITY, t[2] = {0}, reach[2] = {0};
  plane_mesh_reach(mesh, &x0, &x1);
  double same = 1e-7 * (x1 - x0);
  for (size_t i = 0; i < 2 * mesh->n_edge; i++) {
    const PlaneEdge *lower = &mesh->edge[i / 2];
    if (work->wall[i / 2] != WALL_LOWER)
      continue;
    Point low = mesh->at[lower->node[i % 2 ? 2 : 0]];
    for (size_t k = 0; k < mesh->n_edge; k++) {
      const PlaneEdge *upper = &mesh->edge[k];
      if (work->wall[k] != WALL_UPPER)
        continue;
      Point a = mesh->at[upper->node[0]], along = point_sub(mesh->at[upper->node[1]], a);
      double f = point_dot(point_sub(low, a), along) / point_dot(along, along);
      f = fmin(1, fmax(0, f));
      Point high = point_add(a, point_scale(along, f));
      double height = point_distance(low, high), aside = fabs((low.x + high.x - x0 - x1) / 2);
      if (height < least - same || (height < least + same && aside < off)) {
        least = height, off = aside;
        reach[0] = (lower->t1 - lower->t0) / 2, reach[1] = upper->t1 - upper->t0;
        t[0] = lower->t0 + (i % 2 ? reach[0] : 0), t[1] = upper->t0 + f * reach[1];
      }
    }
  }
  for (int k = 0; k < 12; k++)
    t[k % 2] = nearest_about(o, t[k % 2], reach[k % 2], outline_round(o, t[1 - k % 2]));
  reading->x0 = x0, reading->x1 = x1;
  reading->neck_low = outline_round(o, t[0]);
  reading->neck_high = outline_round(o, t[1]);
  reading->neck_height = point_distance(reading->neck_low, reading->neck_high);
  reading->neck_x = (reading->neck_low.x + reading->neck_high.x) / 2;
}

/* Smallest hollow radius of the lower edge; nil at a hollow corner. */
static double roof_radius(const PlaneWork *work, const Outline *o)
{
  double most = 0;
  for (size_t i = 0; i < work->mesh.n_edge; i++) {
    const PlaneEdge *edge = &work->mesh.edge[i];
    if (work->wall[i] != WALL_LOWER)
      continue;
    for (int k = 0; k < 4; k++) {
      double t = edge->t0 + (k + 0.5) / 4 * (edge->t1 - edge->t0);
      most = fmax(most, -outline_curvature(o, outline_wrap(o, t)));
    }
    Point in, out;
    outline_derivatives(o, outline_wrap(o, edge->t1 - 1e-6), &in, NULL);
    outline_derivatives(o, outline_wrap(o, edge->t1) + 1e-6, &out, NULL);
    if (work->wall[(i + 1) % work->mesh.n_edge] == WALL_LOWER &&
        atan2(point_cross(in, out), point_dot(in, out)) < -0.15)
      return 0;
  }
  return most > 1e-6 ? 1 / most : INFINITY;
}

void plane_reading_make(const PlaneWork *work, const Outline *closed, PlaneReading *reading)
{
  neck_find(work, closed, reading);
  reading->roof_radius = roof_radius(work, closed);
  reading->nodes = work->mesh.n_node;
  reading->unknowns = 2 * work->mesh.n_node - 3;
}
