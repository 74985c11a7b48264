/* palette.c - see palette.h; the figures are the look's own, contrast is recomputed in
 * tests/ui/test_drawing.c. SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/palette.h"
#include <math.h>

static const uint32_t plain[2][COLOUR_N] = {
    {0xEDE8DE, 0xE6E0D4, 0xF6F2EA, 0xFCFAF5, 0xFDFBF6, 0xECE5D8, 0xDCD3C2, 0xD6CEBF,
     0x25221E, 0x5F574B, 0x2A2622, 0x837A6A, 0x1C5A70, 0xFFFFFF, 0xD9E6E8, 0x2C6246,
     0x7E5206, 0x8E2A2E, 0x9B7B78, 0xF3EBE7, 0xFFF6EA, 0xDCD3C2},
    {0x23211F, 0x2B2826, 0x2A2725, 0x312E2B, 0x1B1A18, 0x2B2825, 0x3F3A34, 0x45403A,
     0xF0EBE1, 0xB9B0A2, 0xF2ECE0, 0x978E82, 0x7CC0D4, 0x0F2229, 0x2A4047, 0x8CCBA3,
     0xE5B25C, 0xF09A94, 0xA58783, 0x26211F, 0x2B1210, 0x4A453F}};

static const uint32_t stretched[2][PALETTE_STRETCHED] = {
    {0xF8F0E3, 0xEAD4B6, 0xDEB78B, 0xD49A66, 0xC97B49, 0xB85E39, 0x9F4531, 0x82312B, 0x602225},
    {0x312825, 0x54362F, 0x7A4438, 0x9D543F, 0xBC6844, 0xD68049, 0xEA9D58, 0xF7BB74, 0xFFDAA0}};

static const uint32_t squeezed[2][PALETTE_SQUEEZED] = {
    {0xEBEFF2, 0xE0E8EE, 0xD3DEE7, 0xC6D5E1, 0xB9CCDA},
    {0x2A2D30, 0x2D3338, 0x313A41, 0x35434C, 0x3C4B56}};

static Rgba from_hex(uint32_t hex)
{
  return (Rgba){(hex >> 16 & 255) / 255.0, (hex >> 8 & 255) / 255.0, (hex & 255) / 255.0, 1};
}

Palette palette_choose(bool dark, bool high_contrast)
{
  return high_contrast ? dark ? PALETTE_DARK_CONTRAST : PALETTE_LIGHT_CONTRAST
         : dark        ? PALETTE_DARK
                       : PALETTE_LIGHT;
}

bool palette_dark(Palette palette)
{
  return palette == PALETTE_DARK || palette == PALETTE_DARK_CONTRAST;
}

/* Letters, ink and edges to the pure ends, partings as strong as notes were; the shade stays. */
static Rgba contrast_colour(bool dark, Colour colour)
{
  uint32_t front = dark ? 0xFFFFFF : 0x000000, ground = dark ? 0x000000 : 0xFFFFFF;
  switch (colour) {
  case COLOUR_TEXT:
  case COLOUR_INK:
  case COLOUR_DIM:
  case COLOUR_RULE:
    return from_hex(front);
  case COLOUR_WINDOW:
  case COLOUR_SIDE:
  case COLOUR_CARD:
  case COLOUR_PAPER:
  case COLOUR_HATCH:
    return from_hex(ground);
  case COLOUR_LINE:
  case COLOUR_GUM:
    return from_hex(plain[dark][COLOUR_DIM]);
  case COLOUR_GRID5:
    return from_hex(plain[dark][COLOUR_LINE]);
  case COLOUR_ACCENT:
    return from_hex(dark ? 0xA5DDED : 0x0B4256);
  case COLOUR_SEL:
    return from_hex(dark ? 0x1F4450 : 0xC3DCE2);
  default:
    return from_hex(plain[dark][colour]);
  }
}

Rgba palette_colour(Palette palette, Colour colour)
{
  bool dark = palette_dark(palette);
  if (palette == PALETTE_LIGHT_CONTRAST || palette == PALETTE_DARK_CONTRAST)
    return contrast_colour(dark, colour);
  return from_hex(plain[dark][colour]);
}

Rgba palette_verdict(Palette palette, Verdict verdict)
{
  static const Colour of[] = {COLOUR_DIM, COLOUR_HOLDS, COLOUR_CLOSE, COLOUR_REWORK};
  return palette_colour(palette, of[verdict]);
}

Rgba palette_mix(Rgba a, Rgba b, double t)
{
  return (Rgba){a.r + t * (b.r - a.r), a.g + t * (b.g - a.g), a.b + t * (b.b - a.b),
                a.a + t * (b.a - a.a)};
}

Rgba palette_faded(Rgba colour, double alpha)
{
  colour.a *= alpha;
  return colour;
}

Rgba palette_soft(Palette palette, Colour colour, double alpha)
{
  bool full = palette == PALETTE_LIGHT_CONTRAST || palette == PALETTE_DARK_CONTRAST;
  return palette_faded(palette_colour(palette, colour), full ? 1 : alpha);
}

Rgba palette_stretched_step(Palette palette, int step)
{
  return from_hex(stretched[palette_dark(palette)][step]);
}

Rgba palette_squeezed_step(Palette palette, int step)
{
  return from_hex(squeezed[palette_dark(palette)][step]);
}

/* Between two steps the mixture in sRGB is within one unit of lightness of the even path: steps are
 * close. */
Rgba palette_stress(Palette palette, double ratio)
{
  if (!(ratio < 0)) { /* also NaN */
    double step = !(ratio > 0) ? 0
                  : ratio < 1  ? 6 * ratio
                               : fmin(6 + 2 * (ratio - 1) / (PALETTE_END - 1), 8);
    int low = step >= 8 ? 7 : (int)step;
    return palette_mix(palette_stretched_step(palette, low),
                       palette_stretched_step(palette, low + 1), step - low);
  }
  double step = fmin(ratio / PALETTE_SQUEEZED_END, 1) * PALETTE_SQUEEZED;
  int low = step >= PALETTE_SQUEEZED ? PALETTE_SQUEEZED - 1 : (int)step;
  Rgba from =
      low == 0 ? palette_stretched_step(palette, 0) : palette_squeezed_step(palette, low - 1);
  return palette_mix(from, palette_squeezed_step(palette, low), step - low);
}

uint32_t palette_argb(Rgba colour)
{
  uint32_t a = (uint32_t)(colour.a * 255 + 0.5);
  uint32_t r = (uint32_t)(colour.r * colour.a * 255 + 0.5),
           g = (uint32_t)(colour.g * colour.a * 255 + 0.5);
  uint32_t b = (uint32_t)(colour.b * colour.a * 255 + 0.5);
  return a << 24 | r << 16 | g << 8 | b;
}
