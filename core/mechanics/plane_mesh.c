/* plane_mesh.c - triangles to curved six-node elements.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "plane_mesh.h"
#include "plane_element.h"
#include "plane_size.h"
#include <stdlib.h>
#include <string.h>

#define MOST_VERTICES 60000
#define THINNEST                                                                                   \
  0.3 /* smallest Jacobian over its straight value: else the edge is straightened                  \
       */

void plane_mesh_clear(PlaneMesh *mesh)
{
  delaunay_clear(&mesh->triangles);
  free(mesh->at);
  free(mesh->element);
  free(mesh->edge);
  free(mesh->sample);
  free(mesh->wall);
  free(mesh->wall_size);
  free(mesh->wall_t);
  free(mesh->number);
  free(mesh->middle);
  free(mesh->element_of);
  *mesh = (PlaneMesh){0};
}

static Fault room_make(PlaneMesh *mesh, size_t vertices, size_t triangles)
{
  size_t nodes = vertices + 3 * triangles + 3;
  free(mesh->number);
  free(mesh->middle);
  free(mesh->element_of);
  mesh->element_of = malloc(triangles * sizeof *mesh->element_of);
  mesh->number = malloc(vertices * sizeof *mesh->number);
  mesh->middle = malloc(3 * triangles * sizeof *mesh->middle);
  if (nodes > mesh->room_node) {
    free(mesh->at);
    mesh->at = malloc(nodes * sizeof *mesh->at);
    mesh->room_node = mesh->at ? nodes : 0;
  }
  if (triangles > mesh->room_element) {
    free(mesh->element);
    mesh->element = malloc(triangles * sizeof *mesh->element);
    mesh->room_element = mesh->element ? triangles : 0;
  }
  free(mesh->edge);
  mesh->edge = malloc(mesh->n_wall * sizeof *mesh->edge);
  return mesh->number && mesh->middle && mesh->element_of && mesh->at && mesh->element && mesh->edge
             ? FAULT_NONE
             : FAULT_MEMORY;
}

/* Smallest Jacobian at the six nodes over that of the straight triangle. */
static double thinnest_of(const PlaneMesh *mesh, const PlaneElement *e)
{
  Point a = mesh->at[e->node[0]], b = mesh->at[e->node[1]], c = mesh->at[e->node[2]];
  double straight = point_cross(point_sub(b, a), point_sub(c, a)) / 2, least = INFINITY;
  for (int k = 0; k < 6; k++)
    least = fmin(least, triangle_place(mesh, e, triangle_node[k][0], triangle_node[k][1]).area);
  return least / straight;
}

static Fault edges_curve(PlaneMesh *mesh, const Outline *o)
{
  for (size_t i = 0; i < mesh->n_edge; i++) {
    PlaneEdge *edge = &mesh->edge[i];
    Point *middle = &mesh->at[edge->node[2]], straight = *middle;
    double t = (edge->t0 + edge->t1) / 2;
    /* the middle by length, not by parameter: one correction is enough on short edges */
    for (int k = 0; k < 2; k++) {
      Point at = outline_at(o, outline_wrap(o, t));
      double before = point_distance(mesh->at[edge->node[0]], at),
             after = point_distance(mesh->at[edge->node[1]], at);
      if (before + after > 0)
        t += (after - before) / (before + after) * (edge->t1 - edge->t0) / 2;
      t = fmin(fmax(t, edge->t0), edge->t1);
    }
    *middle = outline_at(o, outline_wrap(o, t));
    if (!(thinnest_of(mesh, &mesh->element[edge->element]) > THINNEST))
      *middle = straight;
    if (!(thinnest_of(mesh, &mesh->element[edge->element]) > 0))
      return FAULT_MESH;
  }
  return FAULT_NONE;
}

static Fault elements_make(PlaneMesh *mesh, Point *where)
{
  const Delaunay *d = &mesh->triangles;
  size_t inside = 0;
  for (size_t i = 0; i < d->n_triangle; i++)
    if (d->triangle[i].inside)
      inside++;
  Fault fault = room_make(mesh, d->n_vertex, d->n_triangle);
  if (fault)
    return fault;
  mesh->n_node = mesh->n_element = mesh->n_edge = 0;
  for (size_t i = 0; i < d->n_vertex; i++)
    mesh->number[i] = -1;
  memset(mesh->middle, 0xff, 3 * d->n_triangle * sizeof *mesh->middle);
  for (size_t i = 0; i < mesh->n_wall; i++) { /* walls first: edges in the outline's order */
    mesh->number[DELAUNAY_HULL + i] = (int32_t)mesh->n_node;
    mesh->at[mesh->n_node++] = d->at[DELAUNAY_HULL + i];
    mesh->edge[i].element = -1;
  }
  for (size_t i = 0; i < d->n_triangle; i++)
    for (int k = 0; k < 3 && d->triangle[i].inside; k++) {
      int32_t v = d->triangle[i].v[k];
      if (mesh->number[v] < 0) {
        mesh->number[v] = (int32_t)mesh->n_node;
        mesh->at[mesh->n_node++] = d->at[v];
      }
    }
  mesh->n_corner = mesh->n_node;
  mesh->n_edge = mesh->n_wall;
  for (size_t i = 0; i < d->n_triangle; i++) {
    const Triangle *t = &d->triangle[i];
    mesh->element_of[i] = t->inside ? (int32_t)mesh->n_element : -1;
    if (!t->inside)
      continue;
    PlaneElement *e = &mesh->element[mesh->n_element];
    for (int k = 0; k < 3; k++)
      e->node[k] = mesh->number[t->v[k]];
    for (int k = 0; k < 3; k++) {
      int edge = (k + 2) % 3; /* from corner k to k + 1: opposite corner k + 2 */
      int32_t *middle = &mesh->middle[3 * i + (size_t)edge];
      if (*middle < 0) {
        *middle = (int32_t)mesh->n_node;
        mesh->at[mesh->n_node++] =
            point_mix(mesh->at[e->node[k]], mesh->at[e->node[(k + 1) % 3]], 0.5);
        int32_t u = t->n[edge];
        if (u >= 0 && d->triangle[u].inside)
          for (int j = 0; j < 3; j++)
            if (d->triangle[u].n[j] == (int32_t)i)
              mesh->middle[3 * u + j] = *middle;
      }
      e->node[3 + k] = *middle;
      if (t->fixed[edge]) {
        PlaneEdge *wall = &mesh->edge[e->node[k]];
        wall->node[0] = e->node[k], wall->node[1] = e->node[(k + 1) % 3], wall->node[2] = *middle;
        wall->element = (int32_t)mesh->n_element;
      }
    }
    mesh->n_element++;
  }
  for (size_t i = 0; i < mesh->n_edge; i++)
    if (mesh->edge[i].element < 0 || mesh->edge[i].node[1] != (int32_t)((i + 1) % mesh->n_edge)) {
      *where = mesh->at[i];
      return FAULT_MESH;
    }
  return FAULT_NONE;
}

void plane_mesh_reach(const PlaneMesh *mesh, double *x0, double *x1)
{
  *x0 = INFINITY, *x1 = -INFINITY;
  for (size_t i = 0; i < mesh->n_edge; i++) {
    *x0 = fmin(*x0, mesh->at[mesh->edge[i].node[0]].x);
    *x1 = fmax(*x1, mesh->at[mesh->edge[i].node[0]].x);
  }
}

Fault plane_mesh_make(PlaneMesh *mesh, const Outline *closed, double fineness, Point *where)
{
  Fault fault = plane_walls_make(mesh, closed, fineness);
  if (!fault)
    fault = delaunay_polygon(&mesh->triangles, mesh->wall, mesh->n_wall, where);
  if (!fault)
    fault = delaunay_refine(&mesh->triangles, plane_size_at, mesh, MOST_VERTICES);
  if (!fault)
    fault = elements_make(mesh, where);
  if (fault)
    return fault;
  double pieces = (double)outline_pieces(closed);
  for (size_t i = 0; i < mesh->n_edge; i++) {
    PlaneEdge *edge = &mesh->edge[i];
    edge->t0 = mesh->wall_t[i];
    edge->t1 = mesh->wall_t[(i + 1) % mesh->n_edge];
    if (edge->t1 <= edge->t0)
      edge->t1 += pieces;
  }
  return edges_curve(mesh, closed);
}

/* The element beside the wall vertex nearest to a place. */
static int32_t nearest_wall(const PlaneMesh *mesh, Point at)
{
  size_t best = 0;
  double least = INFINITY;
  for (size_t i = 0; i < mesh->n_edge; i++) {
    double distance = point_distance(mesh->at[mesh->edge[i].node[2]], at);
    if (distance < least) {
      least = distance;
      best = i;
    }
  }
  return mesh->edge[best].element;
}

Fault plane_mesh_find(PlaneMesh *mesh, Point at, PlanePlace *place)
{
  Delaunay *d = &mesh->triangles;
  int32_t vertex;
  Fault fault = delaunay_vertex_add(d, at, &vertex);
  if (fault)
    return fault;
  int32_t t = delaunay_locate(d, vertex);
  d->n_vertex--; /* it was there for the search only */
  place->element = t < 0 ? -1 : mesh->element_of[t];
  if (place->element < 0)
    place->element = nearest_wall(mesh, at);
  const PlaneElement *e = &mesh->element[place->element];
  Point a = mesh->at[e->node[0]], u = point_sub(mesh->at[e->node[1]], a),
        v = point_sub(mesh->at[e->node[2]], a), w = point_sub(at, a);
  double area = point_cross(u, v), r = point_cross(w, v) / area, s = point_cross(u, w) / area;
  r = fmin(1, fmax(0, r));
  s = fmin(1 - r, fmax(0, s));
  triangle_values(r, s, place->n);
  return FAULT_NONE;
}
