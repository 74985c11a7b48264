/* assess_best.c - see assess_best.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_best_search.h"
#include "assess_solve.h"
#include <math.h>

#define EVEN_MM 0.1 /* as an embrasure, assess_solve.c */
#define EVEN_LEVELS 9
#define LOWER_SPARE 0.02 /* mm that the gap keeps above the brush when the roof is taken down */

void best_outline_init(BestOutline *best)
{
  Banded none = {NAN, NAN, NAN};
  *best = (BestOutline){.today_mpa = NAN, .best_mpa = NAN, .fall_percent = none};
  outline_init(&best->outline);
}

void best_outline_clear(BestOutline *best)
{
  outline_clear(&best->outline);
}

/* The lowest apex, and with it the highest neck, at which the brush passes below the closed form.
 */
static Fault apex_lowest(const Room *room, const Outline *gingival, Point *apex)
{
  double foot = fmax(room->wall[0].y, room->wall[room->n_wall - 1].y);
  double low = foot + 0.2, high = apex->y;
  const RoofHalf closed = {.decay = 3, .floor = fmax(0.3, room->radius_least), .lean = 0.1};
  const RoofHalf half[2] = {closed, closed};
  if (!(room->brush_mm > 0) || !(low < high)) /* nothing says how low */
    return FAULT_NONE;
  for (int i = 0; i < 20; i++) {
    double y = (low + high) / 2, gap = 0;
    Outline made = {0};
    Point centre;
    Fault fault = room_fill(room, gingival, point(apex->x, y), half, &made);
    if (!fault)
      fault = gap_circle_find(&made, room->tissue.n ? &room->tissue : NULL, &centre, &gap);
    outline_clear(&made);
    if (fault == FAULT_MEMORY)
      return fault;
    if (!fault && gap >= room->brush_mm + LOWER_SPARE)
      high = y;
    else
      low = y;
  }
  apex->y = high;
  return FAULT_NONE;
}

/* Mesial and distal walls stand alike about the neck. */
static bool room_even(const Room *room, double neck_x)
{
  RoofWall wall = {room->wall, room->n_wall};
  double foot = fmax(room->wall[0].y, room->wall[room->n_wall - 1].y);
  for (int i = 0; i < EVEN_LEVELS; i++) {
    double y = foot + (room->top - foot) * (i + 0.5) / EVEN_LEVELS;
    double left = roof_wall_reach(wall, neck_x, y, -1), right = roof_wall_reach(wall, neck_x, y, 1);
    if (!(fabs(left - right) < EVEN_MM))
      return false;
  }
  return true;
}

static Fault search(Assessor *assessor, const Assessment *a, size_t connector,
                    const BestSettings *settings, BestOutline *best)
{
  const ConnectorAssessment *k = &a->connector[connector];
  const Outline *gingival = &a->c.connector[connector].side[SIDE_GINGIVAL];
  if (k->fault)
    return k->fault;
  if (!k->field || k->form.kind == FORM_NONE)
    return FAULT_RANGE;
  Room room;
  room_init(&room);
  Fault fault = room_of(&a->c, connector, &k->form, &room);
  BestProblem problem = {.today = body_of(&a->c, connector, k->form.neck_x, SOLID_FULL),
                         .room = &room,
                         .load = k->order,
                         .apex = k->form.roof,
                         .neck = k->form.neck_height};
  if (!fault && room_even(&room, k->form.neck_x))
    problem.even = trial_side(k);
  if (!fault && settings->take_height)
    fault = apex_lowest(&room, gingival, &problem.apex);
  if (!fault)
    fault = best_search(assessor, &problem, settings, best);
  room_clear(&room);
  return fault;
}

Fault assess_best(Assessor *assessor, const Case *c, size_t connector, const BestSettings *settings,
                  BestOutline *best)
{
  AssessSettings live = assess_settings_default();
  live.grade = ASSESS_LIVE;
  live.threads = settings->threads;
  live.cancelled = settings->cancelled;
  live.cancel_data = settings->cancel_data;
  if (connector + 1 >= c->n_unit)
    return FAULT_RANGE;
  Assessment *a = NULL;
  Fault fault = assess(assessor, c, &live, &a);
  if (fault)
    return fault;
  BestOutline found;
  best_outline_init(&found);
  found.connector = connector;
  fault = a->fault ? a->fault : search(assessor, a, connector, settings, &found);
  if (!fault)
    found.seconds += a->seconds;
  assessment_unref(a);
  if (fault) {
    best_outline_clear(&found);
    return fault;
  }
  best_outline_clear(best);
  *best = found;
  return FAULT_NONE;
}
