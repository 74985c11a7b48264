/* paper_size.c - sheets of paper: how large, and which one this place uses.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/paper.h"
#include <langinfo.h>
#include <stdint.h>
#include <string.h>

#define POINTS_A_MM (72 / 25.4)

/* ISO 216 A4; ANSI/ASME Y14.1 size A, which locales name by its width of 216 mm. */
static const struct {
  const char *id;
  double width, height; /* pt */
  int width_mm;         /* as locales say it */
} size[PAPER_SIZE_N] = {{"a4", 210 * POINTS_A_MM, 297 * POINTS_A_MM, 210},
                        {"letter", 612, 792, 216}};

void paper_size_points(PaperSize which, double *width, double *height)
{
  *width = size[which].width;
  *height = size[which].height;
}

bool paper_size_from_id(const char *id, PaperSize *which)
{
  for (PaperSize k = 0; k < PAPER_SIZE_N; k++)
    if (strcmp(id, size[k].id) == 0) {
      *which = k;
      return true;
    }
  return false;
}

PaperSize paper_size_default(void)
{
#ifdef _NL_PAPER_WIDTH /* an extension of glibc: the number stands where the text would */
  int width_mm = (int)(intptr_t)nl_langinfo(_NL_PAPER_WIDTH);
  if (width_mm == size[PAPER_LETTER].width_mm)
    return PAPER_LETTER;
#endif
  return PAPER_A4;
}
