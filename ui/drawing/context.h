/* context.h - what every picture needs to know: colours, words, decimal sign, size, font; and how
 * mm become px. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Pictures are pure: (cairo_t, width, height, context, data).  px are the units of the cairo_t that
 * is passed in. */
#pragma once
#include "base/phrase.h"
#include "base/vec.h"
#include "ui/drawing/palette.h"

typedef struct {
  Palette palette;
  const char *decimal;       /* "." or ","; NULL = "."                                       */
  PhraseTranslate translate; /* NULL = English                                               */
  double scale;              /* of all line widths and letters; 1 on a screen, 0.62 on paper */
  const char *font;          /* family of the interface font; NULL = "Sans"                  */
  double resolution;         /* pixels a px of rastered shade: window scale, 4 on paper; 0 = 1 */
} DrawContext;

/* u, v in mm to px: px = x + scale u, py = y - scale v. */
typedef struct {
  double scale; /* px per mm          */
  double x, y;  /* px of u = 0, v = 0 */
} View;

static inline Point view_px(View view, Point mm)
{
  return point(view.x + view.scale * mm.x, view.y - view.scale * mm.y);
}
static inline Point view_mm(View view, Point px)
{
  return point((px.x - view.x) / view.scale, (view.y - px.y) / view.scale);
}
