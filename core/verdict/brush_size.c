/* brush_size.c - see brush_size.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "verdict/brush_size.h"
#include <math.h>

#define STEP_MM 0.1
#define LEAST_MM 0.6  /* thinnest passage hole that is made: from memory */
#define TOUCH_MM 1e-6 /* a gap as wide as the hole lets it pass */

/* Largest passage hole of each size; the last size is all above. */
static const double most[] = {0.6, 0.8, 1.0, 1.2, 1.5, 1.8, 2.3};
#define SIZES (int)(sizeof most / sizeof *most)

BrushSize brush_size_through(double gap_mm)
{
  double passage = floor((gap_mm + TOUCH_MM) / STEP_MM) * STEP_MM;
  if (!(passage >= LEAST_MM - TOUCH_MM) || !isfinite(passage))
    return (BrushSize){BRUSH_SIZE_NONE, NAN};
  int size = 0;
  while (size < SIZES && passage > most[size] + TOUCH_MM)
    size++;
  return (BrushSize){size, passage};
}
