/* assess_advice.h - which single change would help most: every possible change re-assessed.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to core/assess*.c.  A change of shape is solved anew, and today's shape with it, as a
 * quarter model with a coarser mesh: in an even embrasure the side pulled most stands for both,
 * buccal and lingual are averaged.  A change of finish or load only combines.  Gains are ratios of
 * margins of the same model, so that its errors cancel. */
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
  Governing after; /* of the changed connector at the order's load, once `judged`              */
  bool judged;
} Trial;

void trial_clear(Trial *trial);
/* The changes worth trying for a connector that has been read and judged; at most TRIAL_MAX. */
size_t trials_propose(const Case *c, const ConnectorAssessment *now, size_t connector,
                      Trial trial[TRIAL_MAX]);
/* Today's body and that of a trial, on the mesh of trials; `side` of the neck stands for both. */
Body today_body(const Case *c, size_t connector, double neck_x, int side);
Body trial_body(const Trial *trial, const Case *c, double neck_x, int side);
/* All shape and finish changes of a connector at once: the largest of each; false when there is
 * nothing to join. */
bool trials_join(const Case *c, const Trial trial[], size_t n, Trial *joined);
/* Finds trial->after: from its own field, or from today's where the shape stays. */
void trial_judge(const Case *c, Trial *trial, const SpanEnvelope *envelope, const Field *field);
/* Gain of a judged trial over `before`, which is today's answer of the same mesh; false when it
 * does not help. */
bool trial_advice(const Case *c, const Trial *trial, const Governing *before, Advice *advice);
