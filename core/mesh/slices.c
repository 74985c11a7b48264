/* slices.c - triangles sorted along the span; area and extent of a section.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A vertex on the plane counts as beyond it, so every edge is either cut or not and a section of a
 * closed surface is closed.  Area by the sum of the cut edges, in the order the faces give: no
 * chaining. */
#include "mesh/slices_parts.h"
#include <stdlib.h>
#include <string.h>

#define BINS 1024u
#define ASK_EVERY 65536u

void slices_free(Slices *slices)
{
  if (!slices)
    return;
  free(slices->at);
  free(slices->corner);
  free(slices->number);
  free(slices->start);
  free(slices->list);
  free(slices);
}

double slices_low(const Slices *slices)
{
  return slices->low;
}

double slices_high(const Slices *slices)
{
  return slices->high;
}

static size_t bin_of(const Slices *s, double x)
{
  double k = (x - s->low) / s->step;
  return k <= 0 ? 0 : k >= BINS - 1 ? BINS - 1 : (size_t)k;
}

/* Triangles that touch the box; those of the vertices that are used are kept in the frame. */
static Fault keep_inside(const Mesh *mesh, const MeshFrame *frame, Vec3 low, Vec3 high,
                         const MeshWatch *watch, Slices *s)
{
  s->at = malloc(mesh->n_at * sizeof *s->at);
  s->corner = malloc(mesh->n * sizeof *s->corner);
  s->number = malloc(mesh->n * sizeof *s->number);
  if (!s->at || !s->corner || !s->number)
    return FAULT_MEMORY;
  for (size_t i = 0; i < mesh->n_at; i++)
    s->at[i] = mesh_frame_local(frame, mesh->at[i]);
  s->low = INFINITY;
  s->high = -INFINITY;
  for (size_t i = 0; i < mesh->n; i++) {
    if (i % ASK_EVERY == 0 && !mesh_go_on(watch, 0.7 * (double)i / (double)mesh->n))
      return FAULT_CANCELLED;
    Vec3 a = s->at[mesh->triangle[i].v[0]], b = s->at[mesh->triangle[i].v[1]],
         c = s->at[mesh->triangle[i].v[2]];
    Vec3 most = {fmax(a.x, fmax(b.x, c.x)), fmax(a.y, fmax(b.y, c.y)), fmax(a.z, fmax(b.z, c.z))};
    Vec3 least = {fmin(a.x, fmin(b.x, c.x)), fmin(a.y, fmin(b.y, c.y)), fmin(a.z, fmin(b.z, c.z))};
    if (most.x < low.x || least.x > high.x || most.y < low.y || least.y > high.y ||
        most.z < low.z || least.z > high.z)
      continue;
    s->corner[s->n] = mesh->triangle[i];
    s->number[s->n++] = mesh->number[i];
    s->low = fmin(s->low, least.x);
    s->high = fmax(s->high, most.x);
  }
  return s->n > 0 && s->high > s->low ? FAULT_NONE : FAULT_DEGENERATE;
}

static void reach_of(const Slices *s, size_t i, size_t *from, size_t *to)
{
  const uint32_t *v = s->corner[i].v;
  double a = s->at[v[0]].x, b = s->at[v[1]].x, c = s->at[v[2]].x;
  *from = bin_of(s, fmin(a, fmin(b, c)));
  *to = bin_of(s, fmax(a, fmax(b, c)));
}

static Fault sort_bins(Slices *s)
{
  s->step = (s->high - s->low) / BINS;
  s->start = calloc(BINS + 2, sizeof *s->start);
  if (!s->start)
    return FAULT_MEMORY;
  size_t from, to;
  for (size_t i = 0; i < s->n; i++)
    for (reach_of(s, i, &from, &to); from <= to; from++)
      s->start[from + 2]++;
  for (size_t b = 2; b < BINS + 2; b++)
    s->start[b] += s->start[b - 1];
  s->list = malloc((s->start[BINS + 1] + 1) * sizeof *s->list);
  if (!s->list)
    return FAULT_MEMORY;
  for (size_t i = 0; i < s->n; i++)
    for (reach_of(s, i, &from, &to); from <= to; from++)
      s->list[s->start[from + 1]++] = (uint32_t)i;
  return FAULT_NONE;
}

Fault slices_new(const Mesh *mesh, const MeshFrame *frame, Vec3 low, Vec3 high,
                 const MeshWatch *watch, Slices **slices)
{
  Slices *s = calloc(1, sizeof *s);
  if (!s)
    return FAULT_MEMORY;
  s->left_handed = vec3_dot(vec3_cross(frame->x, frame->y), frame->z) < 0;
  Fault fault = keep_inside(mesh, frame, low, high, watch, s);
  if (!fault)
    fault = sort_bins(s);
  if (!fault && !mesh_go_on(watch, 1))
    fault = FAULT_CANCELLED;
  if (fault) {
    slices_free(s);
    return fault;
  }
  *slices = s;
  return FAULT_NONE;
}

void slices_bin(const Slices *s, double x, const uint32_t **list, size_t *n)
{
  size_t bin = bin_of(s, x);
  *list = s->list + s->start[bin];
  *n = s->start[bin + 1] - s->start[bin];
}

/* ---- area and extent ---- */

typedef struct {
  Slice slice;
  double first_z, first_y; /* of the area about `zero` */
  Point zero;
} Sum;

static void sum_add(Sum *sum, Point a, Point b)
{
  Slice *s = &sum->slice;
  if (s->crossed++ == 0) {
    s->low = s->high = a;
    sum->zero = a;
  }
  s->low = point(fmin(s->low.x, fmin(a.x, b.x)), fmin(s->low.y, fmin(a.y, b.y)));
  s->high = point(fmax(s->high.x, fmax(a.x, b.x)), fmax(s->high.y, fmax(a.y, b.y)));
  a = point_sub(a, sum->zero);
  b = point_sub(b, sum->zero);
  double twice = point_cross(a, b);
  s->area += twice / 2;
  sum->first_z += twice * (a.x + b.x) / 6;
  sum->first_y += twice * (a.y + b.y) / 6;
}

static bool sum_end(Sum *sum, Slice *slice)
{
  Slice *s = &sum->slice;
  if (s->crossed == 0)
    return false;
  s->centre = point_mix(s->low, s->high, 0.5);
  if (s->area > 0) {
    Point c = point(sum->zero.x + sum->first_z / s->area, sum->zero.y + sum->first_y / s->area);
    if (c.x >= s->low.x && c.x <= s->high.x && c.y >= s->low.y && c.y <= s->high.y)
      s->centre = c;
  }
  *slice = *s;
  return true;
}

bool slices_at(const Slices *s, double x, Slice *slice)
{
  const uint32_t *list;
  size_t n;
  Sum sum = {0};
  Point a, b;
  if (!(x >= s->low && x <= s->high))
    return false;
  slices_bin(s, x, &list, &n);
  for (size_t i = 0; i < n; i++) {
    const uint32_t *v = s->corner[list[i]].v;
    const Vec3 p[3] = {s->at[v[0]], s->at[v[1]], s->at[v[2]]};
    if (triangle_cut(p, v, x, s->left_handed, &a, &b, NULL))
      sum_add(&sum, a, b);
  }
  return sum_end(&sum, slice);
}

bool slices_tilted(const Slices *s, Vec3 through, double yaw, double pitch, Slice *slice)
{
  const MeshFrame own = {through, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
  MeshFrame f = mesh_frame_tilted(own, yaw, pitch);
  Sum sum = {0};
  Point a, b;
  for (size_t i = 0; i < s->n; i++) {
    const uint32_t *v = s->corner[i].v;
    Vec3 p[3];
    int beyond = 0;
    for (int k = 0; k < 3; k++) {
      p[k].x = vec3_dot(vec3_sub(s->at[v[k]], through), f.x);
      beyond += p[k].x >= 0;
    }
    if (beyond == 0 || beyond == 3)
      continue;
    for (int k = 0; k < 3; k++)
      p[k] = mesh_frame_local(&f, s->at[v[k]]);
    if (triangle_cut(p, v, 0, s->left_handed, &a, &b, NULL))
      sum_add(&sum, a, b);
  }
  return sum_end(&sum, slice);
}
