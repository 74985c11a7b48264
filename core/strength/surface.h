/* surface.h - what a surface carries against the bars of the card: the one way to read a factor.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, MPa, ratios.  The lab's own measured factors of a card come before those of the book
 * (finish.h); a disc mark counts with its depth.  Sources: core/SOURCES.md "finish", "disc mark".
 */
#pragma once
#include "strength/finish.h"
#include "strength/material.h"

/* A zone: its state, and the deepest disc mark recorded there as far as it is not drawn; what is
 * drawn is in the field already.  NaN: no such mark; edge not known. */
typedef struct {
  FinishState state;
  double mark, edge; /* depth; radius of its bottom */
} ZoneSurface;

typedef struct {
  Banded of;          /* strength of the surface over that of the reference           */
  const char *source; /* English msgid, or words of the card that live as long as it  */
  bool own;           /* a measured factor of the card had a part in it               */
} SurfaceFactor;

/* State of the bars that the card's strength was measured with. */
FinishState material_bars_finish(const Material *material);
/* One state over another.  A measured pair counts both ways; else a state that was measured against
 * a third one follows that one, relative bands added in squares; else the book. */
SurfaceFactor surface_factor(const Material *material, FinishState state, FinishState reference);
/* The surface of a zone over that of the bars. */
SurfaceFactor surface_on_bars(const Material *material, const ZoneSurface *surface);
bool zone_surface_same(const ZoneSurface *a, const ZoneSurface *b);

/* The measured factor between two states, whichever way round; NULL = none. */
const OwnFactor *own_factor_find(const Material *material, FinishState a, FinishState b);
/* Takes the place of what was measured between the same two states, and of the state's factor
 * against a third one.  FAULT_RANGE with *reason (may be NULL; static English msgid): the card is
 * untouched. */
MUST_CHECK Fault own_factor_set(Material *material, const OwnFactor *factor, const char **reason);
void own_factor_remove(Material *material, size_t at); /* at >= n_own: nothing */
/* Of material_check: every factor, and all together. */
MUST_CHECK Fault own_factors_check(const Material *material, const char **reason);
