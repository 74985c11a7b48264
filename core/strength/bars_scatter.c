/* bars_scatter.c - see bars_scatter.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * 5 and 95 % of m-hat / m and of m-hat ln(scale-hat / scale) by our own simulation, 400 000 samples
 * (from 200 bars 40 000 and more); between the numbers a line over 1 / sqrt(n), which is what they
 * tend to for many. */
#include "strength/bars_scatter.h"
#include "strength/weibull.h"
#include <math.h>
#include <stddef.h>

#define UNBIAS_LEAST 5 /* the table of weibull_unbias begins there */

static const struct {
  double bars, modulus_low, modulus_high, scale_low, scale_high;
} table[] = {{3, .6504, 5.8347, -2.7437, 1.9731}, {4, .6678, 3.6242, -1.6516, 1.3634},
             {5, .6823, 2.8365, -1.2403, 1.0972}, {6, .6964, 2.4350, -1.0268, .9357},
             {8, .7203, 2.0266, -.7886, .7572},   {10, .7391, 1.8197, -.6639, .6455},
             {12, .7536, 1.6899, -.5847, .5713},  {15, .7707, 1.5661, -.5037, .4985},
             {20, .7919, 1.4497, -.4207, .4183},  {30, .8214, 1.3330, -.3338, .3341},
             {50, .8535, 1.2357, -.2519, .2523},  {100, .8902, 1.1540, -.1755, .1760},
             {200, .9197, 1.1029, -.1233, .1236}, {500, .9464, 1.0622, -.0780, .0780}};

/* The four figures of so many bars: logarithms for the modulus. */
typedef struct {
  double modulus_low, modulus_high, scale_low, scale_high;
} Ends;

static Ends row_ends(size_t i)
{
  return (Ends){log(table[i].modulus_low), log(table[i].modulus_high), table[i].scale_low,
                table[i].scale_high};
}

static Ends ends_of(int bars)
{
  const size_t last = sizeof table / sizeof *table - 1;
  size_t i = 0;
  if (bars < table[0].bars)
    return row_ends(0);
  while (i < last && table[i + 1].bars <= bars)
    i++;
  double x = 1 / sqrt((double)bars), x0 = 1 / sqrt(table[i].bars),
         x1 = i < last ? 1 / sqrt(table[i + 1].bars) : 0, part = (x0 - x) / (x0 - x1);
  Ends a = row_ends(i), b = i < last ? row_ends(i + 1) : (Ends){0, 0, 0, 0};
  return (Ends){a.modulus_low + part * (b.modulus_low - a.modulus_low),
                a.modulus_high + part * (b.modulus_high - a.modulus_high),
                a.scale_low + part * (b.scale_low - a.scale_low),
                a.scale_high + part * (b.scale_high - a.scale_high)};
}

/* On the modulus as it comes out; of 3 and 4 bars that is what is stated. */
static double unbias(int bars)
{
  return bars < UNBIAS_LEAST ? 1 : weibull_unbias((size_t)bars);
}

Banded bars_modulus_ratio(int bars)
{
  Ends e = ends_of(bars);
  double factor = unbias(bars);
  return banded(1, exp(-e.modulus_high) / factor, exp(-e.modulus_low) / factor);
}

Banded bars_scale_ratio(int bars, double modulus)
{
  Ends e = ends_of(bars);
  double fitted = modulus / unbias(bars);
  return banded(1, exp(-e.scale_high / fitted), exp(-e.scale_low / fitted));
}
