/* banded.h - a number with the band that belongs to it.  No figure is shown without one.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <math.h>

typedef struct {
  double value;     /* best answer; NaN = not known                                  */
  double low, high; /* band, low <= value <= high, same unit                         */
} Banded;

static inline Banded banded(double value, double low, double high)
{
  return (Banded){value, low, high};
}
/* value with a symmetric relative band, percent >= 0 */
static inline Banded banded_percent(double value, double percent)
{
  double half = (value < 0 ? -value : value) * percent / 100;
  return (Banded){value, value - half, value + half};
}
/* The same for what is never below nil (a size, a factor, the largest pull): nor is its band, which
 * above 100 percent would be. */
static inline Banded banded_percent_positive(double value, double percent)
{
  Banded banded = banded_percent(value, percent);
  if (value >= 0 && banded.low < 0)
    banded.low = 0;
  return banded;
}
/* With errors of their own, as shares of the value, added in squares on either side.  Shares >= 0;
 * without a value above nil there is nothing to share. */
static inline Banded banded_widen(Banded b, double below, double above)
{
  if (!(b.value > 0))
    return b;
  return (Banded){b.value, b.value * (1 - hypot(1 - b.low / b.value, below)),
                  b.value * (1 + hypot(b.high / b.value - 1, above))};
}
