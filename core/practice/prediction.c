/* prediction.c - see prediction.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "practice/prediction.h"
#include "practice/question.h"
#include <math.h>

PlacePrediction prediction_place(const Assessment *start, size_t connector, Point cross)
{
  PlacePrediction p = {.miss = place_miss(start, connector, cross)};
  p.hit = p.miss <= PREDICTION_HIT_MM;
  p.says.value[0] = p.miss;
  p.says.text = isnan(p.miss) ? N_("There is no hot spot to hold it against.")
                : p.hit       ? N_("Place: hit. Your cross lies {0.1} mm from the hot spot.")
                              : N_("Place: missed. Your cross lies {0.1} mm from the hot spot.");
  return p;
}

double prediction_gain(const Assessment *start, const Assessment *mine, size_t connector)
{
  if (connector >= start->n_connector || connector >= mine->n_connector)
    return NAN;
  return 100 * (start->connector[connector].trial_peak_mpa.value /
                    mine->connector[connector].trial_peak_mpa.value -
                1);
}

Phrase prediction_gain_phrase(double guess, double real)
{
  Phrase says = {.value = {guess, real}};
  if (isnan(guess) || isnan(real))
    says.text = N_("Guess first, then draw: the difference is what you learn from.");
  else if (fabs(guess - real) <= PREDICTION_NEAR_PERCENT)
    says.text = N_("You guessed {0+} %, it is {1+} %: a good eye.");
  else if (guess < real)
    says.text = N_("You guessed {0+} %, it is {1+} %: shape does more than it seems.");
  else
    says.text = N_("You guessed {0+} %, it is {1+} %: shape does less than it seems.");
  return says;
}
