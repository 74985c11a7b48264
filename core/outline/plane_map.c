/* plane_map.c - homographies: four points by direct linear transformation, joined, turned round.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "outline/plane_map.h"
#include "base/dense.h"
#include <string.h>

#define FLAT_PART 0.02 /* a corner nearer to the line of its neighbours than this part of them */

Point plane_map_at(const PlaneMap *map, Point p)
{
  const double *m = map->m;
  double w = m[6] * p.x + m[7] * p.y + m[8];
  if (!(w > 0))
    return point(NAN, NAN);
  return point((m[0] * p.x + m[1] * p.y + m[2]) / w, (m[3] * p.x + m[4] * p.y + m[5]) / w);
}

Point plane_map_stretch(const PlaneMap *map, Point p)
{
  const double *m = map->m;
  double w = m[6] * p.x + m[7] * p.y + m[8];
  Point at = plane_map_at(map, p);
  return point(hypot(m[0] - at.x * m[6], m[3] - at.y * m[6]) / w,
               hypot(m[1] - at.x * m[7], m[4] - at.y * m[7]) / w);
}

PlaneMap plane_map_join(const PlaneMap *first, const PlaneMap *then)
{
  PlaneMap map;
  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++) {
      double sum = 0;
      for (int k = 0; k < 3; k++)
        sum += then->m[3 * i + k] * first->m[3 * k + j];
      map.m[3 * i + j] = sum;
    }
  return map;
}

Fault plane_map_invert(const PlaneMap *map, PlaneMap *inverse)
{
  const double *m = map->m;
  double adjoint[9], size = 0;
  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++) {
      int a = (j + 1) % 3, b = (j + 2) % 3, c = (i + 1) % 3, d = (i + 2) % 3;
      adjoint[3 * i + j] = m[3 * a + c] * m[3 * b + d] - m[3 * a + d] * m[3 * b + c];
    }
  double det = m[0] * adjoint[0] + m[1] * adjoint[3] + m[2] * adjoint[6];
  for (int i = 0; i < 9; i++)
    size += fabs(adjoint[i]);
  if (!isfinite(det) || !(fabs(det) > 0) || !isfinite(size / det))
    return FAULT_SINGULAR;
  for (int i = 0; i < 9; i++) /* over det: what is in front of the map stays in front of it */
    inverse->m[i] = adjoint[i] / det;
  return FAULT_NONE;
}

PlaneMap plane_map_similar(double scale, double turn_deg, Point move)
{
  double turn = turn_deg * acos(-1.0) / 180, c = scale * cos(turn), s = scale * sin(turn);
  return (PlaneMap){{c, -s, move.x, s, c, move.y, 0, 0, 1}};
}

/* Middle to nil, mean distance to sqrt 2: keeps the equations even (Hartley). */
static Fault evened(const Point at[4], Point even[4], PlaneMap *map)
{
  Point middle = {0, 0};
  double size = 0;
  for (int i = 0; i < 4; i++)
    middle = point_add(middle, point_scale(at[i], 0.25));
  for (int i = 0; i < 4; i++)
    size += point_distance(at[i], middle) / 4;
  if (!isfinite(size) || !(size > 0))
    return FAULT_DEGENERATE;
  double k = sqrt(2) / size;
  for (int i = 0; i < 4; i++)
    even[i] = point_scale(point_sub(at[i], middle), k);
  *map = plane_map_similar(k, 0, point_scale(middle, -k));
  return FAULT_NONE;
}

/* Twice the area of each corner's triangle over the square of the figure's size. */
static bool in_line(const Point q[4])
{
  double size = 0;
  for (int i = 0; i < 4; i++)
    size = fmax(size, point_distance(q[i], q[(i + 2) % 4]));
  for (int i = 0; i < 4; i++) {
    Point a = point_sub(q[(i + 1) % 4], q[i]), b = point_sub(q[(i + 2) % 4], q[i]);
    if (!(fabs(point_cross(a, b)) > FLAT_PART * size * size))
      return true;
  }
  return false;
}

Fault plane_map_quad(const Point from[4], const Point to[4], PlaneMap *map)
{
  if (in_line(from) || in_line(to))
    return FAULT_DEGENERATE;
  Point p[4], q[4];
  PlaneMap before, after, back;
  Fault fault = evened(from, p, &before);
  if (!fault)
    fault = evened(to, q, &after);
  if (!fault)
    fault = plane_map_invert(&after, &back);
  if (fault)
    return fault;
  double a[64] = {0}, h[9];
  for (int i = 0; i < 4; i++) {
    const double row_x[8] = {p[i].x, p[i].y, 1, 0, 0, 0, -p[i].x * q[i].x, -p[i].y * q[i].x},
                 row_y[8] = {0, 0, 0, p[i].x, p[i].y, 1, -p[i].x * q[i].y, -p[i].y * q[i].y};
    memcpy(&a[16 * i], row_x, sizeof row_x);
    memcpy(&a[16 * i + 8], row_y, sizeof row_y);
    h[2 * i] = q[i].x;
    h[2 * i + 1] = q[i].y;
  }
  fault = dense_solve(8, a, h);
  if (fault)
    return fault;
  PlaneMap middle;
  memcpy(middle.m, h, 8 * sizeof *h);
  middle.m[8] = 1;
  PlaneMap half = plane_map_join(&before, &middle), whole = plane_map_join(&half, &back);
  for (int i = 0; i < 4; i++) /* no corner on the horizon or behind it */
    if (!point_finite(plane_map_at(&whole, from[i])))
      return FAULT_DEGENERATE;
  *map = whole;
  return FAULT_NONE;
}

Fault quad_order(Point corner[4])
{
  Point middle = {0, 0}, sorted[4];
  for (int i = 0; i < 4; i++)
    middle = point_add(middle, point_scale(corner[i], 0.25));
  if (!point_finite(middle))
    return FAULT_NOT_FINITE;
  memcpy(sorted, corner, sizeof sorted);
  for (int i = 1; i < 4; i++) /* by their direction from the middle; y down: with the clock */
    for (int k = i; k > 0; k--) {
      Point a = point_sub(sorted[k - 1], middle), b = point_sub(sorted[k], middle);
      if (atan2(a.y, a.x) <= atan2(b.y, b.x))
        break;
      Point swap = sorted[k];
      sorted[k] = sorted[k - 1];
      sorted[k - 1] = swap;
    }
  if (in_line(sorted))
    return FAULT_DEGENERATE;
  int first = 0;
  for (int i = 0; i < 4; i++) {
    Point a = point_sub(sorted[(i + 1) % 4], sorted[i]),
          b = point_sub(sorted[(i + 2) % 4], sorted[(i + 1) % 4]);
    if (!(point_cross(a, b) > 0))
      return FAULT_DEGENERATE;
    if (sorted[i].x + sorted[i].y < sorted[first].x + sorted[first].y)
      first = i;
  }
  for (int i = 0; i < 4; i++)
    corner[i] = sorted[(first + i) % 4];
  return FAULT_NONE;
}
