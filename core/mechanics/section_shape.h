/* section_shape.h - moves on a drawn section: begun from roundness, a knot moved, fitted to the
 * neck. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm; Point.x = z, Point.y = y about the middle of the neck.  Made beside the old one: `made` must
 * be inited and is replaced.  What comes out is not checked: section_check(). */
#pragma once
#include "mechanics/drawn_section.h"

typedef struct { /* half sizes of a neck, from its middle */
  double height, buccal, lingual;
} NeckHalves;

#define SECTION_KNOTS 8
/* Eight smooth knots on the section of that roundness. */
MUST_CHECK Fault section_from_roundness(double n, NeckHalves neck, Outline *made);
/* A knot with its tangents moved to a place; even: its image on the other side as well, and a knot
 * on the middle line stays there. */
MUST_CHECK Fault section_move_knot(const Outline *from, size_t knot, Point to, bool even,
                                   Outline *made);
/* Eight smooth knots at the mean of both halves.  FAULT_SECTION where the old one cannot be used.
 */
MUST_CHECK Fault section_make_even(const Outline *from, NeckHalves neck, Outline *made);
/* Stretched so that its extremes are those of the neck, knot by knot; its middle height is 0. */
MUST_CHECK Fault section_fit(const Outline *from, NeckHalves neck, Outline *made);
