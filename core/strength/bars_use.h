/* bars_use.h - what a lab does with its bars besides a card: their gain as a finish factor, and
 * their figures beside those of a card.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, MPa.  Sources: core/SOURCES.md "bars". */
#pragma once
#include "strength/bars_answer.h"

/* The gain of the second set over the first as a factor of its finish; `source` is copied.  Its
 * fault is that of the comparison; whether it can be used is own_factor_set's to say. */
MUST_CHECK Fault bars_own_factor(const BarsAnswer *answer, FinishState first, FinishState second,
                                 const char *source, OwnFactor *factor);

/* What the card's own bars would have shown in this test: its strength, brought from its effective
 * surface to theirs.  The finish stays that of its bars. */
typedef struct {
  Banded scale;                 /* 63 of 100 broken, in this test; 90 % band                   */
  Banded modulus;               /* of the card, as well as its number of bars tells it         */
  Banded card_scale;            /* as the card states it, for its own test                     */
  double surface, card_surface; /* effective, mm^2: of this test, of the card's             */
} BarsBook;
/* FAULT_RANGE when the card or the test says too little. */
MUST_CHECK Fault bars_book(const Material *card, const BarSetup *setup, double width,
                           double thickness, BarsBook *book);
