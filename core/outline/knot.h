/* knot.h - what a hand does to the knots of an outline: move, smooth, sharpen, pull a tangent,
 * drop. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  `i` is the index of a knot, else FAULT_RANGE; a failure leaves the outline untouched.  The
 * shape is not looked at for crossing: the caller does. */
#pragma once
#include "outline/outline.h"

typedef enum { KNOT_ITSELF, KNOT_IN, KNOT_OUT } KnotPart;

/* Where the part stands: of a straight piece the tangent ends at a third of it. */
Point knot_part_at(const Outline *outline, size_t i, KnotPart part);
/* An end of an open outline has one tangent only. */
bool knot_has(const Outline *outline, size_t i, KnotPart part);
/* The knot nearest to a place, nearer than reach_mm; SIZE_MAX: none.  *away (may be NULL): how far
 * it is. */
size_t knot_near(const Outline *outline, Point at, double reach_mm, double *away);
/* Both tangents lie in one line, within KNOT_SMOOTH_DEG. */
bool knot_smooth(const Outline *outline, size_t i);
#define KNOT_SMOOTH_DEG 0.5

/* The knot goes with its tangents; a tangent turns the other one of a smooth knot, whose length
 * stays. */
MUST_CHECK Fault knot_move(Outline *outline, size_t i, KnotPart part, Point to);
/* Both tangents into one line: the mean of their directions, lengths kept.  Not at an end. */
MUST_CHECK Fault knot_make_smooth(Outline *outline, size_t i);
/* Both tangents straight at the neighbouring knots: a corner.  Not at an end. */
MUST_CHECK Fault knot_make_sharp(Outline *outline, size_t i);
/* Takes the knot out; the tangents beside it grow by as much as outline_split() shortens them, so
 * that a knot just put in leaves no trace.  FAULT_DEGENERATE at an end of an open outline, or when
 * fewer than 3 knots would stay. */
MUST_CHECK Fault knot_drop(Outline *outline, size_t i);
