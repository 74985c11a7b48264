/* section_outline.c - properties of any closed outline, and the torsion constant.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Area integrals by Green's theorem over a fine polygon.  Torsion: Prandtl's stress function, laplacian = -2, zero on the rim,
 * J = 2 integral; linear triangles on rings around the centroid, conjugate gradients, two densities extrapolated. */
#include "base/tolerance.h"
#include "mechanics/section.h"
#include "mechanics/section_torsion.h"
#include <math.h>
#include <stdlib.h>

#define RINGS_MOST 24
#define NODES_MOST (RINGS_MOST * SECTION_RIM + 1)

/* --- torsion ------------------------------------------------------------------------------------------------ */

typedef struct {
  int rings, sectors;
  Point at[NODES_MOST];
  double load[NODES_MOST], diagonal[NODES_MOST], x[NODES_MOST], r[NODES_MOST], p[NODES_MOST], q[NODES_MOST];
} Torsion;

static int node_of(const Torsion *t, int ring, int sector)
{
  return ring == 0 ? 0 : 1 + (ring - 1) * t->sectors + sector % t->sectors;
}

/* Triangle number i of a sector and ring; false when there is none (the inmost ring has one a sector). */
static bool triangle_of(const Torsion *t, int ring, int sector, int which, int v[3])
{
  v[0] = node_of(t, ring, sector);
  v[1] = node_of(t, ring + 1, which ? sector + 1 : sector);
  v[2] = which ? node_of(t, ring, sector + 1) : node_of(t, ring + 1, sector + 1);
  return which == 0 || ring > 0;
}

typedef enum { PASS_LOAD, PASS_DIAGONAL, PASS_APPLY } Pass;

/* One walk over all triangles; false when one is turned over. */
static bool walk(Torsion *t, Pass pass)
{
  for (int ring = 0; ring < t->rings; ring++)
    for (int sector = 0; sector < t->sectors; sector++)
      for (int which = 0; which < 2; which++) {
        int v[3];
        if (!triangle_of(t, ring, sector, which, v))
          continue;
        Point a = t->at[v[0]], b = t->at[v[1]], c = t->at[v[2]];
        double area = point_cross(point_sub(b, a), point_sub(c, a)) / 2;
        Point edge[3] = {point_sub(c, b), point_sub(a, c), point_sub(b, a)};
        if (!(area > 0))
          return false;
        for (int i = 0; i < 3; i++) {
          if (pass == PASS_LOAD)
            t->load[v[i]] += 2 * area / 3;
          else if (pass == PASS_DIAGONAL)
            t->diagonal[v[i]] += point_dot(edge[i], edge[i]) / (4 * area);
          else
            for (int j = 0; j < 3; j++)
              t->q[v[i]] += point_dot(edge[i], edge[j]) / (4 * area) * t->p[v[j]];
        }
      }
  return true;
}

static double torsion_once(const Point rim[SECTION_RIM], int rings, int sectors, Torsion *t)
{
  *t = (Torsion){.rings = rings, .sectors = sectors};
  int free_n = (rings - 1) * sectors + 1, all = rings * sectors + 1; /* the rim stays zero */
  for (int ring = 1; ring <= rings; ring++)
    for (int k = 0; k < sectors; k++)
      t->at[node_of(t, ring, k)] = point_scale(rim[k * (SECTION_RIM / sectors)], (double)ring / rings);
  if (!walk(t, PASS_LOAD) || !walk(t, PASS_DIAGONAL))
    return NAN;
  double rz = 0, first = 0, j = 0;
  for (int i = 0; i < free_n; i++)
    t->r[i] = t->load[i];
  for (int step = 0; step < 600; step++) {
    double rz_new = 0, pq = 0;
    for (int i = 0; i < free_n; i++)
      rz_new += t->r[i] * t->r[i] / t->diagonal[i];
    if (step == 0)
      first = rz_new;
    if (rz_new <= 1e-18 * first)
      break;
    for (int i = 0; i < all; i++) {
      t->p[i] = i < free_n ? t->r[i] / t->diagonal[i] + (step ? rz_new / rz : 0) * t->p[i] : 0;
      t->q[i] = 0;
    }
    rz = rz_new;
    walk(t, PASS_APPLY);
    for (int i = 0; i < free_n; i++)
      pq += t->p[i] * t->q[i];
    for (int i = 0; i < free_n; i++) {
      t->x[i] += rz / pq * t->p[i];
      t->r[i] -= rz / pq * t->q[i];
    }
  }
  for (int i = 0; i < free_n; i++)
    j += t->load[i] * t->x[i];
  return j;
}

double section_torsion(const Point rim[SECTION_RIM])
{
  Torsion *t = malloc(sizeof *t);
  if (!t)
    return NAN;
  double coarse = torsion_once(rim, RINGS_MOST / 2, SECTION_RIM / 2, t);
  double fine = torsion_once(rim, RINGS_MOST, SECTION_RIM, t);
  free(t);
  return fine + (fine - coarse) / 3; /* the error falls with the square of the size */
}

/* --- any outline -------------------------------------------------------------------------------------------- */

/* Rim points at even steps of angle seen from the centroid; false when the outline is not star-shaped from there. */
static bool rim_make(const Polyline *line, Point centre, Point rim[SECTION_RIM])
{
  for (int k = 0; k < SECTION_RIM; k++) {
    double angle = 2 * acos(-1.0) * k / SECTION_RIM;
    Point way = point(cos(angle), sin(angle));
    double reach = 0;
    int hits = 0;
    for (size_t i = 0; i + 1 < line->n; i++) {
      Point a = point_sub(line->at[i], centre), b = point_sub(line->at[i + 1], centre);
      double ca = point_cross(way, a), cb = point_cross(way, b);
      if ((ca <= 0) == (cb <= 0))
        continue;
      double t = ca / (ca - cb), along = point_dot(way, point_mix(a, b, t));
      if (along > 0) {
        reach = along;
        hits++;
      }
    }
    if (hits != 1)
      return false;
    rim[k] = point_scale(way, reach);
  }
  return true;
}

Fault section_from_outline(const Outline *closed, Section *section)
{
  Polyline line = {0};
  Fault fault = outline_check(closed);
  if (!fault && !closed->closed)
    fault = FAULT_DEGENERATE;
  if (!fault)
    fault = outline_find_crossing(closed, &(Point){0, 0});
  if (!fault)
    fault = outline_flatten(closed, 1e-6, &line); /* five digits of I need a finer line than a mesh does */
  if (fault)
    return fault;
  double area = 0, sy = 0, sz = 0, yy = 0, zz = 0, yz = 0;
  double low = INFINITY, high = -INFINITY, left = INFINITY, right = -INFINITY;
  for (size_t i = 0; i < line.n; i++) {
    Point a = line.at[i], b = line.at[(i + 1) % line.n];
    double cross = point_cross(a, b);
    area += cross / 2;
    sz += cross * (a.x + b.x) / 6;
    sy += cross * (a.y + b.y) / 6;
    zz += cross * (a.x * a.x + a.x * b.x + b.x * b.x) / 12;
    yy += cross * (a.y * a.y + a.y * b.y + b.y * b.y) / 12;
    yz += cross * (a.x * b.y + 2 * a.x * a.y + 2 * b.x * b.y + b.x * a.y) / 24;
    low = fmin(low, a.y), high = fmax(high, a.y), left = fmin(left, a.x), right = fmax(right, a.x);
  }
  if (!(area > 0)) {
    polyline_clear(&line);
    return FAULT_DEGENERATE;
  }
  Section s = {.area = area, .y = sy / area, .z = sz / area, .height = high - low, .width = right - left};
  s.i_z = yy - area * s.y * s.y;
  s.i_y = zz - area * s.z * s.z;
  s.i_yz = yz - area * s.y * s.z;
  s.w_gingival = s.i_z / (s.y - low);
  s.w_occlusal = s.i_z / (high - s.y);
  s.w_buccal = s.i_y / (right - s.z);
  s.w_lingual = s.i_y / (s.z - left);
  /* first moment and width at the centroid's level */
  double first = 0, width = 0;
  for (size_t i = 0; i < line.n; i++) {
    Point a = line.at[i], b = line.at[(i + 1) % line.n];
    double ya = a.y - s.y, yb = b.y - s.y;
    if ((ya > 0) != (yb > 0)) {
      double t = ya / (ya - yb), z = a.x + t * (b.x - a.x);
      width += ya > 0 ? -z : z;
      Point cut = point(z, s.y);
      if (ya > 0)
        b = cut;
      else
        a = cut;
      ya = a.y - s.y, yb = b.y - s.y;
    } else if (ya <= 0)
      continue;
    first += (a.x - b.x) * (ya * ya + ya * yb + yb * yb) / 6;
  }
  s.shear_stress_factor = area * first / (s.i_z * fabs(width));
  Point rim[SECTION_RIM];
  s.torsion = rim_make(&line, point(s.z, s.y), rim) ? section_torsion(rim)
                                                    : pow(area, 4) / (4 * acos(-1.0) * acos(-1.0) * (s.i_y + s.i_z));
  polyline_clear(&line);
  *section = s;
  return FAULT_NONE;
}
