/* delaunay_refine.c - inner points on the bisectors of short edges, where the size asks for them.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "delaunay.h"

#define LARGE 0.78     /* circumradius over wanted size: an equilateral triangle has 0.577     */
#define LEAN 1.0       /* circumradius over shortest edge: 30 degrees                          */
#define NEAR 0.62      /* of the wanted size: no two vertices come closer                      */
#define NEAR_WALL 0.45 /* of the wanted size: nor a vertex to the boundary                     */

typedef struct {
  double circumradius, shortest;
  int base; /* corner opposite the shortest edge */
} Quality;

static Quality quality_of(const Delaunay *mesh, const Triangle *t)
{
  double length[3], area;
  Quality q = {0, INFINITY, 0};
  for (int i = 0; i < 3; i++) {
    length[i] = point_distance(mesh->at[t->v[(i + 1) % 3]], mesh->at[t->v[(i + 2) % 3]]);
    if (length[i] < q.shortest) {
      q.shortest = length[i];
      q.base = i;
    }
  }
  Point a = mesh->at[t->v[0]];
  area = 0.5 * point_cross(point_sub(mesh->at[t->v[1]], a), point_sub(mesh->at[t->v[2]], a));
  q.circumradius = area > 0 ? length[0] * length[1] * length[2] / (4 * area) : INFINITY;
  return q;
}

/* Where the next vertex goes: over the shortest edge, as high as its size asks, not past the
 * circumcentre. */
static Point candidate_of(const Delaunay *mesh, const Triangle *t, Quality q,
                          double (*size)(Point, const void *), const void *data)
{
  Point a = mesh->at[t->v[(q.base + 1) % 3]], b = mesh->at[t->v[(q.base + 2) % 3]];
  Point middle = point_mix(a, b, 0.5), along = point_sub(b, a);
  Point inward = point(-along.y / q.shortest, along.x / q.shortest);
  double half = q.shortest / 2;
  double centre = isfinite(q.circumradius)
                      ? sqrt(fmax(0, q.circumradius * q.circumradius - half * half))
                      : INFINITY;
  double h = size(point_add(middle, point_scale(inward, 0.87 * q.shortest)), data);
  double side = fmin(fmax(h, 0.8 * q.shortest), 1.35 * q.shortest);
  double height = sqrt(fmax(side * side - half * half, 0.25 * half * half));
  return point_add(middle, point_scale(inward, fmin(height, centre)));
}

static double wall_distance(Point p, Point a, Point b)
{
  Point along = point_sub(b, a), to = point_sub(p, a);
  double t = fmin(1, fmax(0, point_dot(to, along) / point_dot(along, along)));
  return point_distance(p, point_mix(a, b, t));
}

/* Not too near to the vertices and walls of the triangle it falls in and of its neighbours. */
static bool has_room(const Delaunay *mesh, int32_t at, Point p, double h)
{
  for (int k = -1; k < 3; k++) {
    int32_t i = k < 0 ? at : mesh->triangle[at].n[k];
    if (i < 0 || (k >= 0 && mesh->triangle[at].fixed[k]))
      continue;
    const Triangle *t = &mesh->triangle[i];
    for (int c = 0; c < 3; c++) {
      if (point_distance(p, mesh->at[t->v[c]]) < NEAR * h)
        return false;
      if (t->fixed[c] && wall_distance(p, mesh->at[t->v[(c + 1) % 3]],
                                       mesh->at[t->v[(c + 2) % 3]]) < NEAR_WALL * h)
        return false;
    }
  }
  return true;
}

Fault delaunay_refine(Delaunay *mesh, double (*size)(Point at, const void *data), const void *data,
                      size_t most)
{
  bool added = true;
  while (added) {
    added = false;
    for (int32_t i = 0; i < (int32_t)mesh->n_triangle; i++) {
      Triangle *t = &mesh->triangle[i];
      if (!t->inside || t->settled)
        continue;
      t->settled = true;
      if (mesh->n_vertex >= most)
        return FAULT_NONE;
      Point a = mesh->at[t->v[0]], b = mesh->at[t->v[1]], c = mesh->at[t->v[2]];
      double wanted = size(point((a.x + b.x + c.x) / 3, (a.y + b.y + c.y) / 3), data);
      Quality q = quality_of(mesh, t);
      if (q.circumradius <= LARGE * wanted &&
          (q.circumradius <= LEAN * q.shortest || q.circumradius < 0.5 * wanted))
        continue;
      Point p = candidate_of(mesh, t, q, size, data);
      int32_t vertex = -1;
      Fault fault = delaunay_vertex_add(mesh, p, &vertex);
      if (fault)
        return fault;
      bool done = false;
      mesh->last = i;
      int32_t home = delaunay_locate(mesh, vertex);
      if (home >= 0 && mesh->triangle[home].inside &&
          has_room(mesh, home, p, fmin(size(p, data), q.circumradius))) {
        fault = delaunay_vertex_insert(mesh, vertex, home, &done);
        if (fault)
          return fault;
      }
      if (done) {
        added = true;
        i--; /* its triangles have changed: look again */
      } else {
        mesh->n_vertex--;
      }
    }
  }
  return FAULT_NONE;
}
