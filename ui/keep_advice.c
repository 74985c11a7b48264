/* keep_advice.c - which outline, finish or load each kind of advice changes.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/keep_advice.h"

const char *keep_advice_name(AdviceKind kind)
{
  static const char *const name[ADVICE_N] = {
      [ADVICE_ROUND] = N_("Round the roof"),
      [ADVICE_POLISH] = N_("Polish the gum side"),
      [ADVICE_LOWER] = N_("Lower the roof"),
      [ADVICE_BEST] = N_("Take the best outline"),
      [ADVICE_WIDEN] = N_("Widen the neck"),
      [ADVICE_LOAD] = N_("Change the order's load"),
      [ADVICE_GROOVE] = N_("Change the biting groove"),
  };
  return kind < ADVICE_N ? name[kind] : "";
}

static Fault outline_keep(Connector *joint, Side side, const Outline *ghost)
{
  if (ghost->n == 0)
    return FAULT_RANGE;
  Fault fault = outline_copy(&joint->side[side], ghost);
  if (fault == FAULT_NONE)
    joint->drawn[side] = true;
  return fault;
}

Fault keep_advice(Case *c, const Advice *advice, SurfaceZone hot)
{
  if (advice->connector + 1 >= c->n_unit)
    return FAULT_RANGE;
  Connector *joint = &c->connector[advice->connector];
  switch (advice->kind) {
  case ADVICE_ROUND:
  case ADVICE_LOWER:
  case ADVICE_BEST:
    return outline_keep(joint, SIDE_GINGIVAL, &advice->ghost);
  case ADVICE_GROOVE:
    return outline_keep(joint, SIDE_OCCLUSAL, &advice->ghost);
  case ADVICE_POLISH:
    if (hot == SURFACE_GROOVE)
      joint->finish[ZONE_GROOVE] = FINISH_HIGH_POLISH;
    else
      joint->finish[ZONE_ROOF] = joint->finish[ZONE_LEGS] = FINISH_HIGH_POLISH;
    return FAULT_NONE;
  case ADVICE_WIDEN:
    return outline_keep(joint, SIDE_LINGUAL, &advice->ghost);
  case ADVICE_LOAD:
    c->order_load_n = advice->target;
    return FAULT_NONE;
  case ADVICE_N:
    break;
  }
  return FAULT_RANGE;
}
