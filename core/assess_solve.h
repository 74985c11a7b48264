/* assess_solve.h - the bodies of one bridge solved and judged, and their trials right behind them.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to core/assess*.c. */
#pragma once
#include "assess_advice.h"
#include "assess_bridge.h"
#include "assess_chance.h"
#include "assess_tasks.h"

#define MAX_CONNECTOR (SPAN_MAX_UNITS - 1)

/* The bridge as a beam on its supports: as they are taken to be, on hinges, and with teeth of
 * middle hold soft and stiff. */
typedef struct {
  SpanInput input;    /* of the first                                          */
  Span *span, *pin;   /* owned; pin NULL: hinges alone do not hold it          */
  Span *soft, *stiff; /* owned                                                 */
} Beams;

struct Assessor {
  FieldCache *cache;
  WholeBridge *whole; /* NULL: never asked for */
  Solver solver[SOLVERS_MAX];
  int n_solver;
  Assessment *last; /* owned ref: the answer before; NULL at first */
  Beams *beams;     /* owned: of `last`, NULL when it had none     */
};

/* The changes of one connector. */
typedef struct {
  Trial trial[TRIAL_MAX], joined;
  size_t n;
  bool started, has_joined;
  SpanEnvelope envelope;
  Governing now, today; /* of the answer, and of the same shape on the mesh of trials */
  bool has_today;
} Trials;

/* One call of assess: everything its threads share.  What belongs to a connector is written by the
 * tasks of that connector alone. */
typedef struct {
  Assessment *a;
  const AssessSettings *settings;
  const Assessment *last; /* borrowed from the assessor; NULL = none                  */
  Beams *beams; /* the assessor's or to be its own; NULL without a beam: stress fields only */
  bool still;   /* nothing but the trial load differs from `last`, and the grade is the same */
  TaskList list;
  Trials *trials; /* MAX_CONNECTOR */
  size_t left;    /* answers still to come */
} Bridge;

/* Readings of all connectors, and the beams.  FAULT_MEMORY, or why there are none. */
MUST_CHECK Fault bridge_read(Bridge *bridge, const Assessor *assessor);
/* Ends a call: answer and beams become the assessor's, unless it met a fault. */
void bridge_keep(Bridge *bridge, Assessor *assessor, Fault fault);
void beams_free(Beams *beams); /* accepts NULL */

/* Solves all that can be solved; faults of single connectors are kept in them.  FAULT_CANCELLED or
 * FAULT_MEMORY. */
MUST_CHECK Fault bridge_solve(Bridge *bridge, Assessor *assessor);
/* Solvers for this many threads, 1 .. SOLVERS_MAX, each with `hands` of its own. */
MUST_CHECK Fault solvers_hold(Assessor *assessor, int threads, int hands,
                              bool (*cancelled)(void *data), void *cancel_data);
/* The side of the neck that stands for both in trials: the one that is pulled most, where the
 * embrasure is even enough; else (0) both are solved as drawn. */
int trial_side(const ConnectorAssessment *k);
/* The connector that goes first: the least margin, 0 without an answer. */
size_t bridge_weakest(const Assessment *a);
/* The mesh that the answer of a connector stands on, behind bridge_solve. */
SolidGrade bridge_grade(const Bridge *bridge, size_t connector);
/* Ranks what was tried: the weakest connector's first, best gain first. */
void bridge_advise(Bridge *bridge);
/* From the best connector to the one drawn (assess_waterfall.h), behind bridge_solve.  Connectors
 * for which no best one can be found or solved have none.  FAULT_CANCELLED or FAULT_MEMORY. */
MUST_CHECK Fault bridge_waterfalls(Bridge *bridge, Assessor *assessor);
void bridge_clear(Bridge *bridge);
