/* section_outline.c - properties of any closed outline.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  Moments by Green's theorem, exact for the cubic pieces (6-point Gauss: degree 11); shear by
 * slices; torsion by the boundary integral on points that crowd toward corners. */
#include "base/tolerance.h"
#include "mechanics/drawn_section.h"
#include "mechanics/section_torsion.h"
#include <math.h>
#include <stdlib.h>

#define RIM_POINTS 240   /* aimed at, over the whole rim                  */
#define RIM_LEAST 6      /* between two corners                           */
#define CORNER_COS 0.966 /* a turn of more than 15 degrees is a corner    */
#define CORNERS_MOST 60  /* more of them is a rough line, not a polygon   */
#define SLICES 240

typedef struct {
  double area, sz, sy, zz, yy, yz; /* about the origin; Point.x = z, Point.y = y */
  double low, high, left, right;
} Moments;

static const double gauss_at[6] = {-0.932469514203152, -0.661209386466265, -0.238619186083197,
                                   0.238619186083197,  0.661209386466265,  0.932469514203152};
static const double gauss_weight[6] = {0.171324492379170, 0.360761573048139, 0.467913934572691,
                                       0.467913934572691, 0.360761573048139, 0.171324492379170};

static void stretch_to(Moments *m, Point p)
{
  m->low = fmin(m->low, p.y);
  m->high = fmax(m->high, p.y);
  m->left = fmin(m->left, p.x);
  m->right = fmax(m->right, p.x);
}

/* Places in (0, 1) where a quadratic a + b t + c t^2 vanishes: at most two. */
static int quadratic_places(double a, double b, double c, double t[2])
{
  int n = 0;
  double d = b * b - 4 * a * c;
  if (d < 0)
    return 0;
  double q = -(b + copysign(sqrt(d), b)) / 2;
  const double root[2] = {c != 0 ? q / c : NAN, q != 0 ? a / q : NAN};
  for (int i = 0; i < 2; i++)
    if (root[i] > 0 && root[i] < 1)
      t[n++] = root[i];
  return n;
}

static void extremes_add(Moments *m, const Outline *outline, size_t piece)
{
  Point c[4];
  outline_piece(outline, piece, c);
  Point d0 = point_sub(c[1], c[0]), d1 = point_sub(c[2], c[1]), d2 = point_sub(c[3], c[2]);
  Point b = point_scale(point_sub(d1, d0), 2), a = point_add(point_sub(d0, point_scale(d1, 2)), d2);
  double t[4];
  int n = quadratic_places(d0.x, b.x, a.x, t);
  n += quadratic_places(d0.y, b.y, a.y, t + n);
  stretch_to(m, c[0]);
  for (int i = 0; i < n; i++)
    stretch_to(m, outline_at(outline, (double)piece + t[i]));
}

void section_box(const Outline *closed, Point *low, Point *high)
{
  Moments m = {.low = INFINITY, .high = -INFINITY, .left = INFINITY, .right = -INFINITY};
  for (size_t piece = 0; piece < outline_pieces(closed); piece++)
    extremes_add(&m, closed, piece);
  *low = point(m.left, m.low);
  *high = point(m.right, m.high);
}

static Moments moments_of(const Outline *outline)
{
  Moments m = {.low = INFINITY, .high = -INFINITY, .left = INFINITY, .right = -INFINITY};
  Point origin = outline->knot[0].at; /* near the shape, so that nothing cancels */
  for (size_t piece = 0; piece < outline_pieces(outline); piece++) {
    extremes_add(&m, outline, piece);
    for (int g = 0; g < 6; g++) {
      double t = (double)piece + (1 + gauss_at[g]) / 2;
      Point d, p = point_sub(outline_at(outline, t), origin);
      outline_derivatives(outline, t, &d, NULL);
      double dy = d.y * gauss_weight[g] / 2, dx = d.x * gauss_weight[g] / 2;
      m.area += p.x * dy;
      m.sz += p.x * p.x / 2 * dy;
      m.sy -= p.y * p.y / 2 * dx;
      m.zz += p.x * p.x * p.x / 3 * dy;
      m.yy -= p.y * p.y * p.y / 3 * dx;
      m.yz += p.x * p.x / 2 * p.y * dy;
    }
  }
  /* from the first knot to the centroid */
  double z = m.sz / m.area, y = m.sy / m.area;
  m.zz -= m.area * z * z;
  m.yy -= m.area * y * y;
  m.yz -= m.area * z * y;
  m.sz = z + origin.x;
  m.sy = y + origin.y;
  return m; /* sz, sy now hold the centroid; zz, yy, yz are about it */
}

/* Material width at a level. */
static double width_at(const Polyline *line, double y)
{
  double width = 0;
  for (size_t i = 0; i < line->n; i++) {
    Point a = line->at[i], b = line->at[(i + 1) % line->n];
    if ((a.y > y) == (b.y > y))
      continue;
    double z = a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y);
    width += b.y > a.y ? z : -z;
  }
  return fabs(width);
}

/* Largest V Q / (I b) over the levels, as a multiple of V / A. */
static double shear_factor(const Polyline *line, const Moments *m)
{
  double step = (m->high - m->low) / SLICES, first = 0, worst = 0;
  for (int i = 0; i < SLICES; i++) {
    double y = m->high - (i + 0.5) * step, width = width_at(line, y);
    double slice = width * step * (y - m->sy);
    double here =
        first + slice / 2 + width * step * step / 8; /* down to the middle of this slice */
    if (width > 0)
      worst = fmax(worst, here / width);
    first += slice;
  }
  return worst * m->area / m->yy;
}

static bool corner_at(const Polyline *line, size_t i)
{
  size_t n = line->n;
  Point a = point_sub(line->at[i], line->at[(i + n - 1) % n]),
        b = point_sub(line->at[(i + 1) % n], line->at[i]);
  return point_dot(a, b) < CORNER_COS * point_length(a) * point_length(b);
}

static Point point_at_length(const Polyline *line, double total, double s)
{
  size_t low = 0, high = line->n; /* n stands for the way back to the first point */
  while (s >= total)
    s -= total;
  while (high - low > 1) {
    size_t mid = (low + high) / 2;
    if (line->s[mid] <= s)
      low = mid;
    else
      high = mid;
  }
  double end = low + 1 < line->n ? line->s[low + 1] : total;
  return point_mix(line->at[low], line->at[(low + 1) % line->n],
                   (s - line->s[low]) / (end - line->s[low]));
}

/* Points between corners, crowding toward them; even ones where there is no corner.  Returns their
 * number. */
static size_t rim_make(const Polyline *line, Point rim[TORSION_MOST])
{
  double corner[CORNERS_MOST + 1],
      total = line->s[line->n - 1] + point_distance(line->at[line->n - 1], line->at[0]);
  size_t corners = 0, n = 0;
  for (size_t i = 0; i < line->n && corners <= CORNERS_MOST; i++)
    if (corner_at(line, i))
      corner[corners++] = line->s[i];
  if (corners == 0 || corners > CORNERS_MOST) {
    for (; n < RIM_POINTS; n++)
      rim[n] = point_at_length(line, total, total * (double)n / RIM_POINTS);
    return n;
  }
  corner[corners] = corner[0] + total;
  for (size_t k = 0; k < corners; k++) {
    double length = corner[k + 1] - corner[k], share = ceil(RIM_POINTS * length / total);
    for (double i = 0, most = fmax(RIM_LEAST, share); i < most; i++)
      rim[n++] =
          point_at_length(line, total, corner[k] + length * (1 - cos(acos(-1.0) * i / most)) / 2);
  }
  return n;
}

static Fault section_made(const Outline *outline, Section *section)
{
  Polyline line = {0};
  Moments m = moments_of(outline);
  if (!(m.area > 0 && m.yy > 0 && m.zz > 0))
    return FAULT_DEGENERATE;
  Fault fault = outline_flatten(outline, TOL_FLATTEN_MM, &line);
  if (fault)
    return fault;
  while (line.n > 1 && point_distance(line.at[0], line.at[line.n - 1]) < TOL_POINT_MM)
    line.n--; /* the way back is a side of its own */
  Section s = {.area = m.area, .y = m.sy, .z = m.sz, .i_z = m.yy, .i_y = m.zz, .i_yz = m.yz};
  s.w_gingival = s.i_z / (s.y - m.low);
  s.w_occlusal = s.i_z / (m.high - s.y);
  s.w_lingual = s.i_y / (s.z - m.left);
  s.w_buccal = s.i_y / (m.right - s.z);
  s.height = m.high - m.low;
  s.width = m.right - m.left;
  Point rim[TORSION_MOST];
  fault = line.n < 3 ? FAULT_DEGENERATE
                     : section_torsion(rim, rim_make(&line, rim), s.area, &s.torsion);
  if (!fault) {
    s.shear_stress_factor = shear_factor(&line, &m);
    *section = s;
  }
  polyline_clear(&line);
  return fault;
}

Fault section_from_outline(const Outline *closed, Section *section)
{
  Point where;
  Outline turned;
  Fault fault = outline_check(closed);
  if (!fault && !closed->closed)
    fault = FAULT_DEGENERATE;
  if (!fault)
    fault = outline_find_crossing(closed, &where);
  if (fault)
    return fault;
  if (outline_area(closed) >= 0)
    return section_made(closed, section);
  outline_init(&turned);
  fault = outline_copy(&turned, closed);
  if (!fault) {
    outline_reverse(&turned);
    fault = section_made(&turned, section);
  }
  outline_clear(&turned);
  return fault;
}

Fault section_neck(const Outline *drawn, double half_low, double half_high, double half_buccal,
                   double half_lingual, double n, double y0, Section *section)
{
  if (!drawn)
    return section_quarters(half_low, half_high, half_buccal, half_lingual, n, y0, section);
  Outline scaled;
  outline_init(&scaled);
  Fault fault = section_scale(drawn, half_low, half_high, half_buccal, half_lingual, y0, &scaled);
  if (!fault)
    fault = section_from_outline(&scaled, section);
  outline_clear(&scaled);
  return fault;
}
