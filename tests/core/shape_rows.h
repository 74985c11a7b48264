/* shape_rows.h - embrasures of the trade notes, and how their geometry is read, for the shape
 * tests. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  Source of the table: practice exercises and demo cases of the trade notes (invented;
 * their figures were computed from the corners and are given to 0.01 mm and 1 degree). */
#pragma once
#include <glib.h>
#include "base/tolerance.h"
#include "outline/shape.h"

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)
#define DEGREE (G_PI / 180)
#define BODY 5.25

static const Neighbours around = {{BODY, 5}, {8, 10.5}, {8, 7.5}};

typedef struct {
  const char *name;
  Corner corner[8];
  size_t n;
  double roof, radius, lean[2];
} Row;

/* clang-format off */
static const Row rows[] = {
    {"1.1 start", {{-1.5, 0, 0}, {0, 2.8, 0.2}, {1.5, 0, 0}}, 3, 2.58, 0.20, {28, 28}},
    {"1.1 answer", {{-1.5, 0, 0}, {-1.1, 2.4, 0.9}, {1.1, 2.4, 0.9}, {1.5, 0, 0}}, 4, 2.40, 0.90, {9, 9}},
    {"1.2 A", {{-1.4, 0, 0}, {0, 2.6, 0.15}, {1.4, 0, 0}}, 3, 2.43, 0.15, {28, 28}},
    {"1.2 C", {{-0.6, 0, 0}, {-0.45, 1.3, 0.4}, {0.45, 1.3, 0.4}, {0.6, 0, 0}}, 4, 1.30, 0.40, {7, 7}},
    {"1.4 start", {{-2, 0, 0}, {-0.9, 2.3, 0.3}, {0.4, 2.4, 0.5}, {1.1, 0, 0}}, 4, 2.37, 0.30, {26, 16}},
    {"1.5 46/47", {{-1.4, 0, 0}, {0, 2.7, 0.25}, {1.4, 0, 0}}, 3, 2.41, 0.25, {27, 27}},
    {"1.6 answer", {{-1.2, 0, 0}, {-0.9, 1.7, 0.7}, {0.9, 1.7, 0.7}, {1.2, 0, 0}}, 4, 1.70, 0.70, {10, 10}},
    {"2.2 sharp", {{-1.4, 0, 0}, {0, 2.56, 0.25}, {1.4, 0, 0}}, 3, 2.29, 0.25, {29, 29}},
    {"2.5 start", {{-1.1, 0, 0}, {-0.8, 2.2, 0.15}, {0.8, 2.2, 0.15}, {1.1, 0, 0}}, 4, 2.20, 0.15, {8, 8}},
    {"groove answer", {{-1.5, 0, 0}, {0, 1, 1}, {1.5, 0, 0}}, 3, 0.80, 1.00, {56, 56}},
    {"26/27 crooked", {{-1.7, 0, 0}, {-0.6, 2.4, 0.35}, {1, 2.4, 0.8}, {1.3, 0, 0}}, 4, 2.40, 0.35, {25, 7}},
    {"26/27 aside", {{-1.6, 0, 0}, {-0.2, 2.2, 0.2}, {1.2, 0, 0}}, 3, 2.03, 0.20, {32, 32}},
    {"36/37", {{-1.6, 0, 0}, {-0.5, 2.9, 0.35}, {0.5, 2.9, 0.35}, {1.6, 0, 0}}, 4, 2.90, 0.35, {21, 21}},
    {"demo 45/46", {{-1.45, 0, 0}, {-1.05, 2, 0.95}, {1.05, 2, 0.95}, {1.45, 0, 0}}, 4, 2.00, 0.95, {11, 11}},
    {"demo 34/35", {{-1.4, 0, 0}, {0, 2.9, 0.2}, {1.4, 0, 0}}, 3, 2.64, 0.20, {26, 26}},
    {"demo 12/11", {{-0.8, 0, 0}, {-0.65, 1.9, 0.45}, {0.65, 1.9, 0.45}, {0.8, 0, 0}}, 4, 1.90, 0.45, {5, 5}},
    {"demo 46/47", {{-1.2, 0, 0}, {-0.8, 2.3, 0.35}, {0.8, 2.3, 0.35}, {1.2, 0, 0}}, 4, 2.30, 0.35, {10, 10}},
    {"demo 15/16", {{-1.8, 0, 0}, {-0.8, 2, 0.35}, {0.7, 2.1, 0.6}, {1.1, 0, 0}}, 4, 2.07, 0.35, {27, 11}},
};
/* clang-format on */

static inline Outline row_outline(const Row *row)
{
  Outline o;
  outline_init(&o);
  ok(shape_gingival(row->corner, row->n, &around, &o));
  return o;
}

/* Read off the geometry alone, not by form.c. */
static inline double top_of(const Outline *o)
{
  double top = -INFINITY;
  Polyline line = {0};
  ok(outline_flatten(o, 1e-6, &line));
  for (size_t i = 0; i < line.n; i++)
    top = fmax(top, line.at[i].y);
  polyline_clear(&line);
  return top;
}

static inline double smallest_radius(const Outline *o, double above)
{
  double most = 1e-9;
  for (size_t k = 0; k < 64 * outline_pieces(o); k++) {
    double t = ((double)k + 0.5) / 64;
    if (outline_at(o, t).y > above)
      most = fmax(most, fabs(outline_curvature(o, t)));
  }
  return 1 / most;
}

/* The largest change of direction at a knot between the feet, rad. */
static inline double worst_kink(const Outline *o)
{
  double worst = 0;
  for (size_t i = 2; i + 2 < outline_pieces(o); i++) {
    Point a, b;
    outline_derivatives(o, (double)i - 1e-9, &a, NULL);
    outline_derivatives(o, (double)i + 1e-9, &b, NULL);
    worst = fmax(worst, fabs(atan2(point_cross(a, b), point_dot(a, b))));
  }
  return worst;
}

static inline bool has_knot(const Outline *o, Point p)
{
  for (size_t i = 0; i < o->n; i++)
    if (point_distance(o->knot[i].at, p) < 1e-6)
      return true;
  return false;
}

/* Bodies and feet of a moved embrasure, and that it is a sound line. */
static inline void check_feet(const Outline *o, const Row *row)
{
  ok(outline_check(o));
  ok(outline_find_crossing(o, NULL));
  const Corner *l = &row->corner[0], *r = &row->corner[row->n - 1];
  g_assert_true(has_knot(o, point(l->x, l->y)));
  g_assert_true(has_knot(o, point(r->x, r->y)));
  Point a = outline_at(o, 0), b = outline_at(o, (double)outline_pieces(o));
  g_assert_cmpfloat(a.x, ==, -BODY);
  g_assert_cmpfloat(b.x, ==, 5);
  g_assert_cmpfloat(a.y, ==, 0);
  g_assert_cmpfloat(b.y, ==, 0);
}

/* No undercut: 5 degrees (practice exercise 1.1), or what the steeper leg of the start has. */
static inline void check_leans(const Outline *o, const Row *row)
{
  const Corner *c = row->corner;
  double start = fmin(atan2(c[1].x - c[0].x, c[1].y),
                      atan2(c[row->n - 1].x - c[row->n - 2].x, c[row->n - 2].y));
  double least = fmin(5, start / DEGREE) - 0.02;
  Point d;
  double left = outline_nearest(o, point(row->corner[0].x, 0), NULL);
  double right = outline_nearest(o, point(row->corner[row->n - 1].x, 0), NULL);
  outline_derivatives(o, left + 1e-6, &d, NULL);
  g_assert_cmpfloat(atan2(d.x, d.y) / DEGREE, >, least);
  outline_derivatives(o, right - 1e-6, &d, NULL);
  g_assert_cmpfloat(atan2(d.x, -d.y) / DEGREE, >, least);
}
