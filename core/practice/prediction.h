/* prediction.h - what a trainee expected before the shading was shown, and what came.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, percent. */
#pragma once
#include "practice/work.h"

#define PREDICTION_HIT_MM 0.5 /* a cross nearer than this is a hit; as in the exercises */
#define PREDICTION_NEAR_PERCENT                                                                    \
  10.0 /* a guess of the gain nearer than this is a good one: ours                                 \
        */

typedef struct {
  bool hit;
  double miss; /* mm; NaN: another connector, or no answer */
  Phrase says; /* "Your cross lies 0.3 mm from the hot spot." */
} PlacePrediction;
/* The cross held against the hot spot of `connector`. */
PlacePrediction prediction_place(const Assessment *start, size_t connector, Point cross);

/* How much more a connector carries than at the start: peak then over peak now, less one, percent;
 * NaN without an answer. */
double prediction_gain(const Assessment *start, const Assessment *mine, size_t connector);
/* "A round roof does more than you expected." */
Phrase prediction_gain_phrase(double guess, double real);
