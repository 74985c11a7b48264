/* span_private.h - what span.c builds and span_action.c reads.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N.  Private to span*.c. */
#pragma once
#include "mechanics/span.h"
#include "mechanics/span_beam.h"

typedef struct {
  double x, heading;
  BeamSpring spring;    /* all finite */
  double *shape[WAY_N]; /* nodal values for a unit action on its held point, owned; NULL where
                           that spring is 0 */
} Support;

typedef struct {
  double x, z; /* in the plan */
} PlanPoint;

struct Span {
  Beam beam;
  double length, total, turn_1_mm; /* length grows to total while it is built */
  PlanPoint node[BEAM_MAX_NODES];
  size_t n_unit, n_neck, n_support;
  double start[SPAN_MAX_UNITS], edge[SPAN_MAX_UNITS];
  double neck_x[SPAN_MAX_UNITS - 1], rise[SPAN_MAX_UNITS - 1];
  Support support[SPAN_MAX_UNITS + 1]; /* one more for a bowed bridge that nothing holds along */
};

double span_heading(const Span *span, double x); /* of the arch at x, rad, from x towards z */
