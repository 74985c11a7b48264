/* bars_use.c - see bars_use.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "strength/bars_use.h"
#include "strength/bars_scatter.h"
#include <math.h>
#include <string.h>

Fault bars_own_factor(const BarsAnswer *answer, FinishState first, FinishState second,
                      const char *source, OwnFactor *factor)
{
  if (answer->compare_fault)
    return answer->compare_fault;
  Banded gain = answer->comparison.gain_percent;
  *factor = (OwnFactor){.state = second,
                        .against = first,
                        .factor = 1 + gain.value / 100,
                        .low = 1 + gain.low / 100,
                        .high = 1 + gain.high / 100};
  size_t end = strlen(source), most = sizeof factor->source - 1;
  if (end > most) /* cut between two characters of UTF-8 */
    for (end = most; end > 0 && ((unsigned char)source[end] & 0xC0) == 0x80;)
      end--;
  memcpy(factor->source, source, end);
  return FAULT_NONE;
}

/* Strength here over that of the card's bars, were m this. */
static double size_ratio(const Material *card, const Material *here, double modulus)
{
  Material a = *card, b = *here;
  a.weibull = b.weibull = modulus;
  return pow(material_bar_surface(&a) / material_bar_surface(&b), 1 / modulus);
}

Fault bars_book(const Material *card, const BarSetup *setup, double width, double thickness,
                BarsBook *result)
{
  bool disc = setup->test == BAR_DISC;
  Material here = *card;
  here.bar = setup->test;
  here.bar_span = setup->span;
  here.bar_width = disc ? setup->inner : width;
  here.bar_thickness = thickness;
  if (!(card->strength_mpa > 0 && card->weibull >= 1))
    return FAULT_RANGE;
  BarsBook book = {.card_scale = material_strength(card),
                   .surface = material_bar_surface(&here),
                   .card_surface = material_bar_surface(card)};
  if (!(book.surface > 0 && book.card_surface > 0 && isfinite(book.surface) &&
        isfinite(book.card_surface)))
    return FAULT_RANGE;
  Banded ratio = bars_modulus_ratio(material_bars(card));
  double m = card->weibull, size = size_ratio(card, &here, m);
  book.modulus = banded(m, m * ratio.low, m * ratio.high);
  double weak = log(size_ratio(card, &here, book.modulus.low) / size),
         strong = log(size_ratio(card, &here, book.modulus.high) / size);
  /* scatter of the strength and of the step from size to size, in squares */
  Banded s = book.card_scale;
  book.scale =
      banded(s.value * size,
             s.value * size * exp(-hypot(log(s.value / s.low), fmax(0, -fmin(weak, strong)))),
             s.value * size * exp(hypot(log(s.high / s.value), fmax(0, fmax(weak, strong)))));
  *result = book;
  return FAULT_NONE;
}
