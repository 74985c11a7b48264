/* palette.h - the colours of the drawings: two themes, each also with high contrast, and the stress
 * scale. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Components 0..1, not premultiplied.  Warm means pulled and nothing else; the lightness of the
 * stress scale moves steadily away from the paper in both themes, so it reads in grey and without
 * red or green. */
#pragma once
#include "verdict/verdict.h"
#include <stdint.h>

typedef struct {
  double r, g, b, a;
} Rgba;

typedef enum {
  PALETTE_LIGHT,
  PALETTE_DARK,
  PALETTE_LIGHT_CONTRAST,
  PALETTE_DARK_CONTRAST,
  PALETTE_N
} Palette;

typedef enum {
  COLOUR_WINDOW, /* strip, ground                  */
  COLOUR_BAR,    /* header, decision bar           */
  COLOUR_SIDE,   /* columns                        */
  COLOUR_CARD,   /* plates, buttons                */
  COLOUR_PAPER,  /* drawing                        */
  COLOUR_GRID,   /* 1 mm                           */
  COLOUR_GRID5,  /* 5 mm                           */
  COLOUR_LINE,   /* partings                       */
  COLOUR_TEXT,
  COLOUR_DIM,    /* notes                          */
  COLOUR_INK,    /* outlines                       */
  COLOUR_RULE,   /* edges of controls              */
  COLOUR_ACCENT, /* what can be moved or is chosen */
  COLOUR_ON_ACCENT,
  COLOUR_SEL, /* chosen row                     */
  COLOUR_HOLDS,
  COLOUR_CLOSE,
  COLOUR_REWORK,
  COLOUR_GUM,      /* gum line                       */
  COLOUR_GUM_FILL, /* below it                       */
  COLOUR_HATCH,    /* over the limit                 */
  COLOUR_TROUGH,   /* empty part of a bar            */
  COLOUR_N
} Colour;

/* Stretched steps 0..8: step 6 is the limit, step 8 is reached at PALETTE_END times the limit and
 * stays. */
#define PALETTE_STRETCHED 9
#define PALETTE_SQUEEZED 5
#define PALETTE_END (4.0 / 3)
/* The most squeezed step stands at this ratio. */
#define PALETTE_SQUEEZED_END (-5.0 / 6)

Palette palette_choose(bool dark, bool high_contrast);
bool palette_dark(Palette palette);
Rgba palette_colour(Palette palette, Colour colour);
Rgba palette_verdict(Palette palette, Verdict verdict); /* VERDICT_NONE: dim */
/* Shade of stress / limit; > 0 stretched, < 0 squeezed; NaN is the colour of no stress. */
Rgba palette_stress(Palette palette, double ratio);
Rgba palette_stretched_step(Palette palette, int step); /* 0 .. 8 */
Rgba palette_squeezed_step(Palette palette, int step);  /* 0 .. 4 */
uint32_t palette_argb(Rgba colour); /* premultiplied, native endian as cairo's ARGB32 */
Rgba palette_mix(Rgba a, Rgba b, double t);
Rgba palette_faded(Rgba colour, double alpha);
/* Faded, but in full with high contrast. */
Rgba palette_soft(Palette palette, Colour colour, double alpha);
