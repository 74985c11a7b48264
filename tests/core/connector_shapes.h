/* connector_shapes.h - reference connectors shared by the tests of loft and solid and by the
 * benchmark. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  Each outline: circular arc of radius r turning (90 - angle / 2) degrees a side, straight leg
 * to the depth, straight body; an optional flat of half length `flat` in the middle.  Shapes of
 * core/SOURCES.md "solid". */
#pragma once
#include <glib.h>
#include "mechanics/loft.h"

typedef struct {
  double level, direction; /* y of the roof; -1 opens down, +1 up */
  double radius, flat, open_left_deg, open_right_deg, depth, left, right;
} NotchShape;

static inline void notch_draw(Outline *outline, NotchShape n)
{
  double degree = G_PI / 180, a = (90 - n.open_left_deg / 2) * degree,
         b = (90 - n.open_right_deg / 2) * degree;
  double xa = n.flat + n.radius * sin(a), xb = n.flat + n.radius * sin(b);
  double ya = n.radius * (1 - cos(a)), yb = n.radius * (1 - cos(b)),
         foot_y = n.level + n.direction * n.depth;
  double foot_a = xa + (n.depth - ya) * cos(a) / sin(a),
         foot_b = xb + (n.depth - yb) * cos(b) / sin(b);
  double centre = n.level + n.direction * n.radius;
  outline_init(outline);
  g_assert_cmpint(outline_move_to(outline, point(-n.left, foot_y)), ==, FAULT_NONE);
  g_assert_cmpint(outline_line_to(outline, point(-foot_a, foot_y)), ==, FAULT_NONE);
  g_assert_cmpint(outline_line_to(outline, point(-xa, n.level + n.direction * ya)), ==, FAULT_NONE);
  g_assert_cmpint(outline_arc_to(outline, point(-n.flat, centre), n.direction * a), ==, FAULT_NONE);
  if (n.flat > 0)
    g_assert_cmpint(outline_line_to(outline, point(n.flat, n.level)), ==, FAULT_NONE);
  g_assert_cmpint(outline_arc_to(outline, point(n.flat, centre), n.direction * b), ==, FAULT_NONE);
  g_assert_cmpint(outline_line_to(outline, point(foot_b, foot_y)), ==, FAULT_NONE);
  g_assert_cmpint(outline_line_to(outline, point(n.right, foot_y)), ==, FAULT_NONE);
}

typedef struct {
  Outline gingival, occlusal, buccal, lingual;
} Connector4;

/* Height 4, gingival depth 2.5, occlusal notch 90 degrees r 0.5 depth 1.25, body width 8. */
static inline void connector_draw(Connector4 *c, NotchShape gingival, double width,
                                  double plan_radius)
{
  NotchShape up = {2, 1, 0.5, 0, 90, 90, 1.25, gingival.left, gingival.right};
  NotchShape aside = {width / 2,     1, plan_radius, 0, 90, 90, 4 - width / 2, gingival.left,
                      gingival.right};
  notch_draw(&c->gingival, gingival);
  notch_draw(&c->occlusal, up);
  notch_draw(&c->buccal, aside);
  aside.level = -aside.level;
  aside.direction = -1;
  notch_draw(&c->lingual, aside);
}

static inline NotchShape roof_shape(double radius, double flat, double open_deg)
{
  return (NotchShape){-2, -1, radius, flat, open_deg, open_deg, 2.5, 8, 8};
}

static inline LoftInput connector_input(const Connector4 *c)
{
  return (LoftInput){&c->gingival, &c->occlusal, &c->buccal, &c->lingual, 0, 2, 4};
}

/* A shape out of the range that people draw: roof 0.2 to 1 mm, legs open 0 to 90 degrees, alike or
 * not, neck 2.4 to 4 mm wide.  The random numbers are the caller's, seeded. */
static inline void connector_random(GRand *random, Connector4 *c)
{
  double radius = g_rand_double_range(random, 0.2, 1), open = g_rand_double_range(random, 0, 90);
  NotchShape shape = roof_shape(radius, 0, open);
  if (g_rand_boolean(random))
    shape.open_right_deg = g_rand_double_range(random, 0, 90);
  shape.depth = g_rand_double_range(random, 1.5, 3);
  double width = g_rand_double_range(random, 2.4, 4);
  connector_draw(c, shape, width, fmax(radius, g_rand_double_range(random, 0.8, 1.5)));
}

/* Beyond that range, every kind in turn: flat roofs, roofs down to 0.1 mm, legs unlike, bodies of
 * unlike length, cheek unlike tongue. */
static inline void connector_random_hard(GRand *random, int kind, Connector4 *c)
{
  double radius = kind % 5 == 4 ? g_rand_double_range(random, 0.1, 0.2)
                                : g_rand_double_range(random, 0.2, 1),
         flat = kind % 3 == 1 ? g_rand_double_range(random, 0.1, 0.6) : 0;
  NotchShape shape = roof_shape(radius, flat, g_rand_double_range(random, 0, 90));
  if (kind % 2)
    shape.open_right_deg = g_rand_double_range(random, 0, 90);
  if (kind % 4 == 3)
    shape.right = g_rand_double_range(random, 6, 8);
  shape.depth = g_rand_double_range(random, 1.5, 3);
  double width = g_rand_double_range(random, 2.4, 4);
  connector_draw(c, shape, width, fmax(radius + flat, g_rand_double_range(random, 0.8, 1.5)));
  if (kind % 6 == 5) {
    double aside = g_rand_double_range(random, -0.3, 0.3);
    outline_transform(&c->buccal, (const double[6]){1, 0, 0, 1, 0, aside});
  }
}

static inline void connector4_clear(Connector4 *c)
{
  outline_clear(&c->gingival);
  outline_clear(&c->occlusal);
  outline_clear(&c->buccal);
  outline_clear(&c->lingual);
}
