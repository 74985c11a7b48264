/* solvable_search.h - the search for a drawing that meets the criteria of an exercise.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to core/practice. */
#pragma once
#include "practice/solvable.h"

typedef struct {
  bool met;
  double value;     /* of the drawing that kept to it best */
  double short_by;  /* <= 0: met                           */
  size_t connector; /* where                               */
} Reached;

typedef struct {
  bool found;
  Case answer; /* owned; a drawing that passes at rest; n_unit 0: none */
  /* by criterion: the best of all drawings, and of the one that met most */
  Reached reached[CRITERIA_MOST], nearest[CRITERIA_MOST];
  guint missed; /* the criterion to be told where nothing was found */
} Search;

/* Inited here; search_clear() whatever comes back. */
MUST_CHECK Fault search_run(Assessor *assessor, const Exercise *exercise,
                            const SolvableSettings *settings, const Assessment *start,
                            Search *search);
void search_clear(Search *search);

MUST_CHECK Fault search_assess(Assessor *assessor, const Case *c, AssessGrade grade,
                               const SolvableSettings *settings, Assessment **result);
/* All criteria, the number of strokes as one pen stroke. */
bool criteria_met(const Work *work);
