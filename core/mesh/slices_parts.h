/* slices_parts.h - the inside of slices, and one triangle cut.  Private to core/mesh.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "mesh/slices.h"

struct Slices {
  Vec3 *at;         /* owned, in the frame                             */
  Triangle *corner; /* owned, n                                        */
  uint32_t *number; /* owned, n: in the file                           */
  size_t n;
  double low, high, step; /* x; width of a bin                         */
  size_t *start;          /* owned: list[start[b]] ... of bin b         */
  uint32_t *list;         /* owned: triangles that reach into each bin */
  bool left_handed;
};

/* The triangles that may be cut at x. */
void slices_bin(const Slices *s, double x, const uint32_t **list, size_t *n);

/* The directed edges through which a section enters and leaves a triangle, as their vertices: (from
 * beyond, from before).  The one a triangle leaves by is the one its neighbour is entered by. */
typedef struct {
  uint32_t in[2], out[2];
} Crossed;

/* The point of an edge, the same from both sides: always reckoned from the vertex before the plane.
 */
static inline Point edge_cut(Vec3 before, Vec3 beyond, double x)
{
  double t = (x - before.x) / (beyond.x - before.x);
  return point(before.z + t * (beyond.z - before.z), before.y + t * (beyond.y - before.y));
}

/* From a to b with the material on the left; false when the plane misses it.  In a right-handed
 * frame z, y, x turn the other way, so the ends are exchanged there. */
static inline bool triangle_cut(const Vec3 p[3], const uint32_t v[3], double x, bool left_handed,
                                Point *a, Point *b, Crossed *crossed)
{
  int from = -1, to = -1; /* edges that go back, and forth */
  for (int k = 0; k < 3; k++) {
    int next = (k + 1) % 3;
    if (p[k].x >= x && p[next].x < x)
      from = k;
    else if (p[k].x < x && p[next].x >= x)
      to = k;
  }
  if (from < 0 || to < 0)
    return false;
  int from_next = (from + 1) % 3, to_next = (to + 1) % 3;
  if (left_handed)
    *a = edge_cut(p[from_next], p[from], x), *b = edge_cut(p[to], p[to_next], x);
  else
    *b = edge_cut(p[from_next], p[from], x), *a = edge_cut(p[to], p[to_next], x);
  if (crossed) {
    *crossed = (Crossed){{v[from], v[from_next]}, {v[to_next], v[to]}};
    if (!left_handed)
      *crossed = (Crossed){{v[to_next], v[to]}, {v[from], v[from_next]}};
  }
  return true;
}
