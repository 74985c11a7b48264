/* assess_best_search.h - the search behind assess_best, on a body alone.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to core/assess*.c and their tests. */
#pragma once
#include "assess_best.h"
#include "assess_connector.h"

typedef struct {
  Body today; /* grade and `mirrored` are set by the search                    */
  const Room *room;
  NeckLoad load;
  Point apex;  /* of the embrasure as it stands; the search may bring it lower    */
  int even;    /* -1, 1: mesial and distal alike, this side of the neck stands for both; 0: not */
  double neck; /* height that is kept; 0: none asked                              */
} BestProblem;

MUST_CHECK Fault best_search(Assessor *assessor, const BestProblem *problem,
                             const BestSettings *settings, BestOutline *best);
