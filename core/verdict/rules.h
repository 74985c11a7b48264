/* rules.h - the trade's rules as one table: when each fires, what to do, why, and where that comes
 * from. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A rule sees facts only; it computes nothing of mechanics.  Rules whose facts are not recorded
 * stay silent, finish rules stay silent until the piece is fired. */
#pragma once
#include "base/phrase.h"
#include "verdict/facts.h"

typedef enum { SEVERITY_STOP, SEVERITY_LOOK, SEVERITY_NOTE } Severity;

typedef struct {
  const char *id; /* "roof-too-sharp"                                    */
  JobStep step;
  Severity severity;
  bool of_bridge; /* once a bridge, not once a connector                 */
  bool never_lifted;
  bool (*fires)(const Facts *facts, size_t connector,
                double shown[4]); /* shown: values for the texts */
  const char *what;               /* short reason, template: "Roof too sharp: {0.2} of {1.2} mm" */
  const char *act;                /* what to do, msgid                                   */
  const char *why;                /* msgid                                               */
  const char *record;             /* what to write down, msgid                           */
  const char *caution;            /* "K1 K2" or ""                                       */
  const char *source;             /* msgid                                               */
} Rule;

const Rule *rule_find(const char *id);
const char *caution_text(int k); /* 1..8, English msgid; NULL otherwise */
const char *severity_name(Severity severity);

typedef struct {
  const Rule *rule; /* static                                              */
  size_t connector; /* or SIZE_MAX for the bridge                          */
  double shown[4];
} FiredRule;

/* All fired rules, ordered: stop first, then the earliest step, then the connector with the highest
 * peak. Returns a new GArray of FiredRule. */
GArray *rules_apply(const Facts *facts);
Phrase fired_rule_phrase(const FiredRule *fired, const Facts *facts, const char *text);
