/* needs.c - what a span needs.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Areas and heights: reviews of connector sizes, from memory; the split between inner and outer
 * necks is ours. Classes: ISO 6872:2015 table 1, from memory. */
#include "verdict/needs.h"
#include "base/phrase.h"
#include <math.h>

static bool is_hanging(const Unit *unit)
{
  return unit->role == ROLE_PONTIC || unit->role == ROLE_HANGING;
}

/* The run of missing teeth that a connector belongs to: units [first, last] between abutments or
 * free ends. */
typedef struct {
  size_t first, last;
  bool free_end; /* an end without abutment */
  size_t pontics;
} Run;

static Run run_of(const Case *c, size_t connector)
{
  size_t first = connector, last = connector + 1;
  while (first > 0 && is_hanging(&c->unit[first]))
    first--;
  while (last + 1 < c->n_unit && is_hanging(&c->unit[last]))
    last++;
  Run run = {first, last, is_hanging(&c->unit[first]) || is_hanging(&c->unit[last]), 0};
  for (size_t i = first; i <= last; i++)
    run.pontics += is_hanging(&c->unit[i]);
  return run;
}

ConnectorLimits limits_for(const Case *c, size_t connector)
{
  Run run = run_of(c, connector);
  bool front = true, molar = false;
  for (size_t i = run.first; i <= run.last; i++) {
    front = front && tooth_is_front(c->unit[i].tooth);
    molar = molar || tooth_is_molar(c->unit[i].tooth);
  }
  bool inner = is_hanging(&c->unit[connector]) && is_hanging(&c->unit[connector + 1]);
  ConnectorLimits limits;
  if (run.free_end)
    limits = (ConnectorLimits){SPAN_CANTILEVER, 12, 4.0, 4};
  else if (front && run.pontics >= 2)
    limits = (ConnectorLimits){SPAN_FRONT_TWO, inner ? 9 : 7, 3.0, 5};
  else if (front)
    limits = (ConnectorLimits){SPAN_FRONT_ONE, 7, 3.0, 3};
  else if (run.pontics >= 3)
    limits = (ConnectorLimits){SPAN_BACK_MORE, NAN, NAN, 5};
  else if (run.pontics == 2)
    limits = (ConnectorLimits){SPAN_BACK_TWO, inner ? 12 : 9, inner ? 4.0 : 3.5, 5};
  else
    limits = (ConnectorLimits){SPAN_BACK_ONE, 9, 3.0, molar ? 4 : 3};
  if (c->n_unit >= 4)
    limits.class_need = 5; /* taken for the whole bridge */
  return limits;
}

const char *span_class_name(SpanClass span)
{
  static const char *const name[] = {
      [SPAN_FRONT_ONE] = N_("front, one pontic"),   [SPAN_BACK_ONE] = N_("back, one pontic"),
      [SPAN_FRONT_TWO] = N_("front, two pontics"),  [SPAN_BACK_TWO] = N_("back, two pontics"),
      [SPAN_BACK_MORE] = N_("back, three or more"), [SPAN_CANTILEVER] = N_("hanging tooth"),
  };
  return (unsigned)span < sizeof name / sizeof *name ? name[span] : "";
}
