/* case_bridge.c - a case as one flat body on its supports.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N/mm, MPa.  Sizes and outlines from the case, supports as the beam has them: what the two
 * answers differ in is the body alone. */
#include "casefile/case.h"

static BridgeUnit unit_of(const Unit *u, double x)
{
  SpanUnit beam = {0};
  case_support(u, &beam);
  return (BridgeUnit){
      .x0 = x,
      .x1 = x + u->length,
      .low = 0,
      .high = u->height,
      .supported = beam.supported,
      .spring = beam.spring,
      .lateral_n_mm = beam.lateral_n_mm,
      .lever = beam.lever,
      .stump_mpa = u->role == ROLE_IMPLANT ? STUMP_TITANIUM_MPA : STUMP_DENTINE_MPA,
  };
}

Fault case_bridge_input(const Case *c, const Form form[], BridgeInput *input)
{
  if (c->n_unit < 2 || c->n_unit > SPAN_MAX_UNITS)
    return FAULT_RANGE;
  BridgeInput made = {.n_unit = c->n_unit,
                      .young_mpa = c->material.young_mpa,
                      .poisson = c->material.poisson,
                      .fineness = BRIDGE_FINENESS};
  double x = 0;
  for (size_t i = 0; i < c->n_unit; i++) {
    made.unit[i] = unit_of(&c->unit[i], x);
    x = made.unit[i].x1;
    if (i + 1 == c->n_unit)
      break;
    const Connector *k = &c->connector[i];
    made.neck[i] =
        (BridgeNeck){.neck_x = x,
                     .outline = {&k->side[SIDE_GINGIVAL], &k->side[SIDE_OCCLUSAL],
                                 &k->side[SIDE_BUCCAL], &k->side[SIDE_LINGUAL], form[i].neck_x,
                                 k->roundness_neck, k->roundness_body, connector_section(k)}};
  }
  *input = made;
  return FAULT_NONE;
}
