/* iso_class.c - see iso_class.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "strength/iso_class.h"
#include "base/phrase.h"
#include <math.h>
#include <stddef.h>

static const IsoClass table[ISO_CLASSES] = {
    {1, 50, 0.7, N_("single front units, veneers, inlays, all bonded; cover of a core")},
    {2, 100, 1.0, N_("single units, front or back, bonded")},
    {3, 300, 2.0, N_("single units however fixed; three units without a molar")},
    {4, 500, 3.5, N_("three units with a molar")},
    {5, 800, 5.0, N_("four units or more")},
};

const char *const iso_class_source =
    N_("ISO 6872:2015, from memory; the 2024 edition was not seen");

const IsoClass *iso_class(int number)
{
  return number >= 1 && number <= ISO_CLASSES ? &table[number - 1] : NULL;
}

int iso_class_reached(double strength_mpa, double toughness)
{
  int reached = 0;
  for (int i = 0; i < ISO_CLASSES; i++)
    if (strength_mpa >= table[i].strength_mpa &&
        (isnan(toughness) || toughness >= table[i].toughness))
      reached = table[i].number;
  return reached;
}
