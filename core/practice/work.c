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

Fault work_best(Assessor *assessor, const Exercise *exercise, const Case *mine,
                const BestSettings *settings, Case *best)
{
  size_t i = exercise->focus;
  BestSettings own = *settings;
  BestOutline found;
  Case room;
  own.take_height = exercise->take_height == ANSWER_YES;
  best_outline_init(&found);
  case_init(&room);
  Fault fault = i + 1 < mine->n_unit ? case_copy(&room, mine) : FAULT_RANGE;
  Outline *line = fault ? NULL : &room.connector[i].side[SIDE_GINGIVAL];
  if (!fault)
    fault = outline_copy(line, &exercise->start.connector[i].side[SIDE_GINGIVAL]);
  if (!fault)
    fault = assess_best(assessor, &room, i, &own, &found);
  if (!fault)
    fault = outline_copy(line, found.outline.n ? &found.outline
                                               : &mine->connector[i].side[SIDE_GINGIVAL]);
  if (!fault) {
    room.connector[i].drawn[SIDE_GINGIVAL] = true;
    case_clear(best);
    *best = room;
  } else
    case_clear(&room);
  best_outline_clear(&found);
  return fault;
}
