/* best_rooms.h - the three rooms in which the best outline is held against the best circular arc.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, MPa.  Connector of connector_shapes.h, 4 high, 3.2 wide, gum-side depth 2.5, M = 1000 N mm.
 */
#pragma once
#include "assess_best_search.h"
#include "connector_solve.h"

typedef struct {
  const char *name;
  double top, mouth; /* half widths */
} BestRoom;

static const BestRoom best_room[] = {{"3.0 wide, upright", 1.5, 1.5},
                                     {"1.2 at the roof, 3.0 at the mouth", 0.6, 1.5},
                                     {"1.6 wide, upright", 0.8, 0.8}};
#define BEST_ROOM_ROOF (-2.0)
#define BEST_ROOM_DEEP 2.5

/* A connector with one arc that touches roof line and legs of this lean which end at the mouth;
 * false where the arc would not reach its legs. */
static inline bool best_room_arc(const BestRoom *room, double lean, Connector4 *c, double *radius)
{
  double side = atan2(room->mouth - room->top, BEST_ROOM_DEEP);
  if (lean < side - 1e-9)
    return false;
  double r = (room->mouth - BEST_ROOM_DEEP * tan(lean)) /
             (cos(lean) - (1 - sin(lean)) * tan(lean)); /* school geometry */
  if (!(r > 0.1 && r * (1 - sin(lean)) < BEST_ROOM_DEEP))
    return false;
  *radius = r;
  connector_draw(c, roof_shape(r, 0, 2 * lean * 180 / G_PI), 3.2, 1.0);
  return true;
}

static inline double best_room_peak(const LoftInput *input, SolidGrade grade)
{
  Field *field = connector_solid(input, grade);
  Peak peak;
  g_assert_cmpint(field_peak(field, (NeckLoad){.moment_n_mm = 1000}, &peak), ==, FAULT_NONE);
  field_unref(field);
  return peak.mpa;
}

/* The arc with the least peak, by the solid. */
static inline double best_room_arc_peak(const BestRoom *room, SolidGrade grade)
{
  double best = INFINITY, side = atan2(room->mouth - room->top, BEST_ROOM_DEEP);
  for (int step = 0; step <= 8; step++) {
    Connector4 c;
    double radius, lean = fmax(side, step * 3 * G_PI / 180);
    if (!best_room_arc(room, lean, &c, &radius))
      continue;
    LoftInput input = connector_input(&c);
    best = fmin(best, best_room_peak(&input, grade));
    connector4_clear(&c);
  }
  return best;
}

/* The room itself, and a U that stands in it. */
static inline void best_room_make(const BestRoom *room, Connector4 *c, Room *made)
{
  Outline line;
  const Point at[4] = {{-room->mouth, BEST_ROOM_ROOF - BEST_ROOM_DEEP},
                       {-room->top, BEST_ROOM_ROOF},
                       {room->top, BEST_ROOM_ROOF},
                       {room->mouth, BEST_ROOM_ROOF - BEST_ROOM_DEEP}};
  outline_init(&line);
  room_init(made);
  connector_draw(c, roof_shape(0.4, 0, 10), 3.2, 1.0);
  g_assert_cmpint(outline_from_points(&line, at, 4, false), ==, FAULT_NONE);
  g_assert_cmpint(room_drawn(&line, &c->gingival, made), ==, FAULT_NONE);
  outline_clear(&line);
}

static inline BestProblem best_room_problem(const Connector4 *c, const Room *room)
{
  BestProblem problem = {.today = {.roundness_neck = 2,
                                   .roundness_body = 4,
                                   .young_mpa = 205000,
                                   .poisson = 0.31,
                                   .grade = SOLID_LIVE},
                         .room = room,
                         .load = {.moment_n_mm = 1000},
                         .apex = {0, BEST_ROOM_ROOF},
                         .even = 1,
                         .neck = 4};
  const Outline *side[SIDE_N] = {&c->gingival, &c->occlusal, &c->buccal, &c->lingual};
  for (int i = 0; i < SIDE_N; i++)
    problem.today.side[i] = side[i];
  return problem;
}

static inline void best_room_search(Assessor *assessor, const BestRoom *room, int threads,
                                    BestOutline *best)
{
  Connector4 c;
  Room made;
  RoomBreach breach;
  best_room_make(room, &c, &made);
  BestProblem problem = best_room_problem(&c, &made);
  BestSettings settings = {.threads = threads};
  best_outline_init(best);
  g_assert_cmpint(best_search(assessor, &problem, &settings, best), ==, FAULT_NONE);
  g_assert_true(best->confirmed);
  g_assert_cmpuint(best->outline.n, >, 0);
  g_assert_cmpint(room_check(&made, &best->outline, &c.occlusal, &breach, NULL), ==, FAULT_NONE);
  g_assert_cmpint(breach, ==, ROOM_KEPT);
  room_clear(&made);
  connector4_clear(&c);
}
