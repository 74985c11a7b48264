/* notched_bar.h - a piece of a test bar in bending, with or without a notch in its stretched edge.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, MPa.  x along the bar from the middle of the notch, y up from the stretched edge. */
#pragma once
#include "mechanics/field.h"
#include "mechanics/plane.h"

typedef struct {
  double height, width; /* of the bar: along and across the force, > 0                          */
  double depth;         /* of the notch, 0 = none, at most 0.6 height                           */
  double radius;        /* of its root, >= 0.02, at most depth                                   */
  double open_deg;      /* between its flanks, 0 .. 120                                          */
} NotchedBar;

#define NOTCHED_BAR_HALF 2.2 /* half the length of the piece, in heights */

/* Closed, counter-clockwise.  FAULT_RANGE, FAULT_MEMORY. */
MUST_CHECK Fault notched_bar_outline(const NotchedBar *bar, Outline *outline);

typedef struct {
  Field *field;     /* owned: bending of 1 N mm                                   */
  Outline outline;  /* owned                                                      */
  double plain_mpa; /* edge stress of the bar without a notch, of 1 N mm          */
  double times;     /* peak over plain                                            */
  double band_percent;
  Point at; /* of the peak                                                        */
} NotchedBarAnswer;
MUST_CHECK Fault notched_bar_solve(const NotchedBar *bar, NotchedBarAnswer **answer);
void notched_bar_answer_free(NotchedBarAnswer *answer); /* accepts NULL */
