/* span_private.h - what span.c builds and span_action.c reads.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N.  Private to span*.c. */
#pragma once
#include "mechanics/span.h"
#include "mechanics/span_beam.h"

#define SUPPORT_MOST                                                                               \
  (SPAN_MAX_UNITS + 1) /* one more for a bowed bridge that nothing holds along                     \
                        */
#define SHAPES_MOST (SUPPORT_MOST * WAY_N)
#define SWEEP 240 /* places of the load in an envelope */

typedef struct {
  double x;
  Heading heading;
  BeamSpring spring; /* all finite */
  int shape[WAY_N];  /* column of Span.shape for a unit action on its held point; -1 where that
                        spring is 0 */
} Support;

typedef struct {
  double x, z; /* in the plan */
} PlanPoint;

/* Where actions are summed: a place, its heading, how far above the axis. */
typedef struct {
  PlanPoint at;
  Heading heading;
  double rise;
} Cut;

/* What 1 N does at a neck, the place of the load being known: straight down, and towards the cheek
 * on the biting edge (space only). */
typedef struct {
  NeckLoad down, cheek;
} Influence;

struct Span {
  Beam beam;
  double length, total, turn_1_mm; /* length grows to total while it is built */
  PlanPoint node[BEAM_MAX_NODES];
  size_t n_unit, n_neck, n_support, n_shape;
  double start[SPAN_MAX_UNITS], edge[SPAN_MAX_UNITS];
  double neck_x[SPAN_MAX_UNITS - 1], rise[SPAN_MAX_UNITS - 1];
  Support support[SUPPORT_MOST];
  double *shape; /* owned: nodal values, [unknown][n_shape]                                */
  /* the load at SWEEP + 1 even places, then over the neck itself, where the line has its kink */
  Influence influence[SPAN_MAX_UNITS - 1][SWEEP + 2];
};

Heading span_heading(const Span *span, double x); /* of the arch at x */
/* Place i of the load in the sweep of a neck. */
double span_sweep_x(const Span *span, size_t neck, int i);
/* Fills span->influence: the last step of span_new(). */
void span_influences_make(Span *span);
