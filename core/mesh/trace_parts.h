/* trace_parts.h - what trace.c and trace_line.c share.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  Internal to core/mesh. */
#pragma once
#include "mesh/trace.h"

/* Fits places on the surface, n >= 2, in order; *worst grows to how far one lies off. */
MUST_CHECK Fault trace_line_fit(const Point at[], size_t n, double tolerance, Outline *outline,
                                double *worst);
/* The same of a closed line, made counter-clockwise. */
MUST_CHECK Fault trace_loop_fit(const Loop *loop, double tolerance, Outline *outline,
                                double *worst);
/* Largest turn at one corner of the triangles near a place of the line, rad. */
MUST_CHECK Fault trace_line_turn(const Point at[], size_t n, Point near, double *turn);
