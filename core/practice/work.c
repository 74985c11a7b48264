/* work.c - see work.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "practice/work.h"
#include <math.h>

size_t work_weakest(const Assessment *assessment)
{
  size_t weakest = SIZE_MAX;
  double least = INFINITY;
  for (size_t i = 0; i < assessment->n_connector; i++) {
    double margin = assessment->connector[i].trial_margin.value;
    if (margin < least) {
      least = margin;
      weakest = i;
    }
  }
  return weakest;
}

/* The sharpest roof that the criteria allow at the focus, mm; 0: none is asked. */
static double radius_asked(const Exercise *e)
{
  double most = 0;
  for (guint i = 0; i < e->criterion->len; i++) {
    const Criterion *c = &g_array_index(e->criterion, Criterion, i);
    if (c->measure == MEASURE_ROOF_RADIUS && c->least > most &&
        (c->connector == SIZE_MAX || c->connector == e->focus))
      most = c->least;
  }
  return most;
}

Fault work_room(const Exercise *exercise, const Case *mine, Case *room)
{
  size_t i = exercise->focus;
  double radius = radius_asked(exercise), cutter = case_cutter_radius(mine);
  Case made;
  case_init(&made);
  Fault fault = i + 1 < mine->n_unit ? case_copy(&made, mine) : FAULT_RANGE;
  if (!fault)
    fault = outline_copy(&made.connector[i].side[SIDE_GINGIVAL],
                         &exercise->start.connector[i].side[SIDE_GINGIVAL]);
  if (fault) {
    case_clear(&made);
    return fault;
  }
  if (radius > 0 && !(cutter >= radius))
    made.cutter_diameter = 2 * radius * (mine->enlargement > 0 ? mine->enlargement : 1);
  case_clear(room);
  *room = made;
  return FAULT_NONE;
}

Fault work_best(Assessor *assessor, const Exercise *exercise, const Case *mine,
                const BestSettings *settings, Case *best)
{
  size_t i = exercise->focus;
  BestSettings own = *settings;
  BestOutline found;
  Case room, made;
  own.take_height = exercise->take_height == ANSWER_YES;
  best_outline_init(&found);
  case_init(&room);
  case_init(&made);
  Fault fault = work_room(exercise, mine, &room);
  if (!fault)
    fault = assess_best(assessor, &room, i, &own, &found);
  if (!fault)
    fault = case_copy(&made, mine);
  if (!fault && found.outline.n) {
    fault = outline_copy(&made.connector[i].side[SIDE_GINGIVAL], &found.outline);
    made.connector[i].drawn[SIDE_GINGIVAL] = true;
    made.connector[i].roof_doubt_percent = NAN; /* no pen drew it */
  }
  if (!fault) {
    case_clear(best);
    *best = made;
  } else
    case_clear(&made);
  case_clear(&room);
  best_outline_clear(&found);
  return fault;
}
