/* connector_ink.c - zero line and flow of the pull of one connector under one load.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/flow.h"
#include "ui/drawing/picture_connector.h"
#include <stdlib.h>

#define FLOW_LINES 11
#define FLOW_REACH_MM 2.8

static Fault ink_fill(ConnectorInk *ink, const ConnectorAssessment *answer, bool at_order)
{
  NeckLoad load = at_order ? answer->order : answer->trial;
  Fault fault = shaded_new(answer->field, SHEET_ELEVATION, load, &ink->shaded);
  if (fault != FAULT_NONE)
    return fault;
  const Shaded *s = ink->shaded;
  fault = contour_find(s->sheet, s->balance, 0, &ink->zero);
  if (fault != FAULT_NONE)
    return fault;
  /* the pulled side of the neck first: the gum side unless the load lifts */
  bool lifted = load.moment_n_mm < 0;
  Point low = answer->form.neck_low, high = answer->form.neck_high;
  fault = flow_lines(s->sheet, s->value, s->angle, lifted ? high : low, lifted ? low : high,
                     FLOW_LINES, FLOW_REACH_MM, &ink->flow);
  return fault == FAULT_MEMORY ? fault
                               : FAULT_NONE; /* a picture without flow lines is still a picture */
}

Fault connector_ink_new(const Assessment *a, size_t connector, bool at_order, ConnectorInk **ink)
{
  if (connector >= a->n_connector || !a->connector[connector].field)
    return FAULT_DEGENERATE;
  ConnectorInk *made = calloc(1, sizeof *made);
  if (!made)
    return FAULT_MEMORY;
  Fault fault = ink_fill(made, &a->connector[connector], at_order);
  if (fault != FAULT_NONE)
    connector_ink_free(made);
  else
    *ink = made;
  return fault;
}

void connector_ink_free(ConnectorInk *ink)
{
  if (!ink)
    return;
  shaded_free(ink->shaded);
  line_set_clear(&ink->zero);
  line_set_clear(&ink->flow);
  free(ink);
}
