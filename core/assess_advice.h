/* assess_advice.h - which single change would help most: every possible change re-assessed.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to core/assess*.c.  A change of shape is solved anew with the live solid; a change of
 * finish or load only combines.  Gains are ratios of margins of the same model, so that its errors
 * cancel. */
#pragma once
#include "assess_connector.h"

#define TRIAL_MAX 8

/* One possible change of one connector, before it is solved. */
typedef struct {
  AdviceKind kind;
  size_t connector;
  double target;
  Outline
      outline[2];  /* owned: gingival, occlusal or plan outlines after the change; n = 0 unused */
  int replaces[2]; /* Side that each of them replaces; -1 unused                                */
  FinishState finish[ZONE_NECK_N];
  Phrase act, why;
  Field *field; /* filled by the solver; NULL = same shape as today                          */
} Trial;

void trial_clear(Trial *trial);
/* The changes worth trying for a connector that has been read and judged; at most TRIAL_MAX. */
size_t trials_propose(const Case *c, const ConnectorAssessment *now, size_t connector,
                      Trial trial[TRIAL_MAX]);
/* The body of a trial: today's with the changed outlines. */
Body trial_body(const Trial *trial, const Case *c, double neck_x);
/* All shape and finish changes of a connector at once: the largest of each; false when there is
 * nothing to join. */
bool trials_join(const Case *c, const Trial trial[], size_t n, Trial *joined);
/* Gain of a solved trial over today's margin with the same model; false when it does not help. */
bool trial_judge(const Case *c, const Trial *trial, const SpanEnvelope *envelope,
                 const Field *today, Advice *advice, Banded *carries);
