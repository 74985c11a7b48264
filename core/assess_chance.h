/* assess_chance.h - chance of fracture, scratch depth and what drives their bands, of one
 * connector. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to core/assess*.c.  N, N mm, MPa, um, percent. */
#pragma once
#include "assess_connector.h"

/* The beam with teeth of middle hold taken as soft and as stiff; NULL = no
 * other. */
typedef struct {
  const Span *soft, *stiff;
} SupportSpans;

/* Everything of `out` that carries the scatter of the inputs, at the order's load and at the trial
 * load; field, loads and peaks are there.  Quick: bands by the delta method instead of CHANCE_DRAWS
 * draws, for the moving pen. */
MUST_CHECK Fault connector_chance(const Case *c, size_t connector, const SupportSpans *spans,
                                  bool quick, ConnectorAssessment *out);
MUST_CHECK Fault connector_chance_trial(const Case *c, size_t connector, const SupportSpans *spans,
                                        double trial_x, bool quick, ConnectorAssessment *out);
