/* surface_case.c - a surface and the case it belongs to.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/surface_case.h"

/* Face to face with the left cheek (quadrant 3, biting side up) the midline is at the left: from
 * there away the units run to the right, cheek in front.  Each change of side, of jaw (turned
 * upside down) or of direction exchanges front and back once. */
bool case_cheek_behind(const Case *c)
{
  if (c->n_unit < 2)
    return false;
  int quadrant = c->unit[0].tooth / 10;
  bool even = quadrant == 2 || quadrant == 4;
  return even == connector_distal_right(c, 0);
}

void case_connector_shares(const Case *c, double share[])
{
  double sum = 0, so_far = 0;
  for (size_t i = 0; i < c->n_unit; i++)
    sum += c->unit[i].length;
  for (size_t i = 0; i + 1 < c->n_unit; i++) {
    so_far += c->unit[i].length;
    share[i] = sum > 0 ? so_far / sum : 0.5;
  }
}

/* trace->section, the closed line of the neck as cut, is handed over here once a connector keeps
 * one. */
Fault case_take_trace(Case *c, size_t connector, const Trace *trace)
{
  if (connector + 1 >= c->n_unit)
    return FAULT_RANGE;
  const Outline *const from[SIDE_N] = {&trace->gingival, &trace->occlusal, &trace->buccal,
                                       &trace->lingual};
  Connector *joint = &c->connector[connector];
  Fault fault = FAULT_NONE;
  for (int i = 0; i < SIDE_N && !fault; i++) {
    fault = outline_copy(&joint->side[i], from[i]);
    joint->drawn[i] = joint->drawn[i] || !fault;
  }
  return fault;
}
