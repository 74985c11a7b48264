/* tooth.c - ISO 3950 numbers, their place in the arch, mean crown sizes.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Sizes mm.  Invariant: every valid number has a row in the table. */
#include "casefile/tooth_place.h"
#include "casefile/case.h"

bool tooth_valid(int tooth)
{
  int quadrant = tooth / 10, place = tooth % 10;
  return tooth > 0 && quadrant >= 1 && quadrant <= 4 && place >= 1 && place <= 8;
}

bool tooth_upper(int tooth)
{
  return tooth / 10 <= 2;
}

bool tooth_is_molar(int tooth)
{
  return tooth % 10 >= 6;
}

bool tooth_is_front(int tooth)
{
  return tooth % 10 <= 3;
}

int tooth_place(int tooth)
{
  int quadrant = tooth / 10, place = tooth % 10;
  return quadrant == 1 || quadrant == 4 ? 8 - place : 7 + place;
}

/* Mean crown sizes; core/SOURCES.md "teeth". */
Fault tooth_mean_size(int tooth, double *length, double *width, double *height)
{
  static const struct {
    double length, width, height;
  } upper[8] = {{8.5, 7, 10.5}, {6.5, 6, 9},   {7.5, 8, 10}, {7, 9, 8.5},
                {7, 9, 8.5},    {10, 11, 7.5}, {9, 11, 7},   {8.5, 10, 6.5}},
    lower[8] = {{5, 6, 9}, {5.5, 6.5, 9.5}, {7, 7.5, 11},  {7, 7.5, 8.5},
                {7, 8, 8}, {11, 10.5, 7.5}, {10.5, 10, 7}, {10, 9.5, 7}};
  if (!tooth_valid(tooth))
    return FAULT_RANGE;
  int i = tooth % 10 - 1;
  *length = tooth_upper(tooth) ? upper[i].length : lower[i].length;
  *width = tooth_upper(tooth) ? upper[i].width : lower[i].width;
  *height = tooth_upper(tooth) ? upper[i].height : lower[i].height;
  return FAULT_NONE;
}

bool connector_distal_right(const Case *c, size_t connector)
{
  /* twice the distance from the midline, which lies between places 7 and 8 */
  int before = 2 * tooth_place(c->unit[connector].tooth) - 15;
  int after = 2 * tooth_place(c->unit[connector + 1].tooth) - 15;
  return after * after >= before * before; /* across the midline both sides are distal */
}
