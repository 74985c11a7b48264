/* criterion.h - one criterion of an exercise, measured on a drawing, in words.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, mm^2, mm^3, degrees, percent, as exercise.h says. */
#pragma once
#include "practice/work.h"

/* Of one connector; NaN where it cannot be measured.  The same figures as the readings show. */
double measure_value(Measure measure, const Work *work, size_t connector);
/* The connector that keeps to it worst, of those it asks about; SIZE_MAX where none can be
 * measured. Fills *value. */
size_t criterion_worst(const Criterion *criterion, const Work *work, double *value);
/* By how much the limit is missed; <= 0: met, NaN: not measured. */
double criterion_missed(const Criterion *criterion, double value);
/* What reads as the limit keeps it: half of the last digit shown is forgiven. */
bool criterion_met(const Criterion *criterion, double value);
/* How far from the start (0) to the limit (1). */
double criterion_share(const Criterion *criterion, double start, double value);
/* "Roof radius at least {0.2}" */
Phrase criterion_phrase(const Criterion *criterion, const Case *c);
int measure_decimals(Measure measure); /* of a figure as people read it */
/* "0.60", "13°", "71 %": the figure with its unit where it is not mm. */
Phrase measure_phrase(Measure measure, double value);
/* What keeps it from being met and what to do: "Your roof radius is {0.2} mm: {1.2} would fit and
 * lower the peak by {2} %." */
Phrase criterion_reason(const Criterion *criterion, const Work *work, size_t connector,
                        double value);
