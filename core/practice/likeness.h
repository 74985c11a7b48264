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
  NotchedBar bar;      /* neck and notch are its height, the notch is the connector's          */
  bool turned;         /* the biting side is pulled: the bar lies upside down, its notch is the
                          biting groove; else its notch is the embrasure                       */
  bool clipped;        /* the notch is less deep, sharp, blunt or open than the connector's    */
  double nominal_mpa;  /* pull of the smooth piece at the trial load, > 0                      */
  Banded times;        /* of the connector, at the trial load                                  */
  double line_percent; /* of its band: what the line leaves open, which is the bar's too       */
} Likeness;

/* FAULT_RANGE: no answer, no neck, or the pull is largest at the cheek or tongue side, where a bar
 * with a notch would show something else; FAULT_MEMORY.  *likeness is as it was on a fault. */
MUST_CHECK Fault likeness_read(const Assessment *a, size_t connector, Likeness *likeness);
/* Of the bar: `times` of the answer is over the whole height, this over what the notch left. */
Banded likeness_bar_times(const NotchedBar *bar, const NotchedBarAnswer *answer,
                          double line_percent);
/* Pull at the edge of a bar without the notch that bends it as much, MPa. */
double likeness_plain_mpa(const NotchedBar *bar, double nominal_mpa);
