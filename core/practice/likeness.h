/* likeness.h - a test bar with a connector's notch: what both have alike, and how many times each
 * gathers the pull. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, MPa.  Times: the pull at the hot spot over that of the same bending in a smooth piece as high
 * as the neck.  A likeness for the eye; the connector's own answer decides. */
#pragma once
#include "assess.h"
#include "mechanics/notched_bar.h"

#define LIKENESS_DEEPEST 0.6    /* of the bar's height: more is no bar any more */
#define LIKENESS_OPEN_DEG 120.0 /* the widest opening of a bar's notch          */

typedef struct {
  NotchedBar bar;     /* neck and embrasure are its height, the embrasure is its notch        */
  bool clipped;       /* the notch is less deep, sharp, blunt or open than the embrasure      */
  double nominal_mpa; /* pull of the smooth piece at the trial load, > 0                      */
  Banded times;       /* of the connector, at the trial load                                  */
} Likeness;

/* FAULT_RANGE: no answer, no neck, or the pull is largest elsewhere than on the gum side, where a
 * bar with this notch would show something else.  *likeness is as it was on a fault. */
MUST_CHECK Fault likeness_read(const ConnectorAssessment *connector, Likeness *likeness);
/* Of the bar: `times` of the answer is over the whole height, this over what the notch left. */
Banded likeness_bar_times(const NotchedBar *bar, const NotchedBarAnswer *answer);
/* Pull at the edge of a bar without the notch that bends it as much, MPa. */
double likeness_plain_mpa(const NotchedBar *bar, double nominal_mpa);
