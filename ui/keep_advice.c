/* keep_advice.c - see keep_advice.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/keep_advice.h"
#include "casefile/drawn.h"
#include <string.h>

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

Fault keep_advice(Case *c, const Advice *advice)
{
  if (advice->connector + 1 >= c->n_unit || advice->side >= SIDE_N ||
      (advice->side >= 0 && advice->ghost.n == 0))
    return FAULT_RANGE;
  Connector *joint = &c->connector[advice->connector];
  if (advice->side >= 0) {
    Fault fault = outline_copy(&joint->side[advice->side], &advice->ghost);
    if (fault)
      return fault;
    joint->drawn[advice->side] = true;
    if (advice->kind == ADVICE_ROUND || advice->kind == ADVICE_BEST) /* a roof made by its radius */
      connector_roof_doubt_set(joint, 0);
  }
  memcpy(joint->finish, advice->finish, sizeof joint->finish);
  if (advice->kind == ADVICE_LOAD)
    c->order_load_n = advice->target;
  return FAULT_NONE;
}
