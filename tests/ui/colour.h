/* colour.h - how a colour is seen: luminance, contrast, lightness.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Contrast: WCAG 2.2, "relative luminance" and "contrast ratio" (W3C Recommendation 2023).
 * Lightness: CIE 1976 L* from sRGB D65 luminance (CIE 15).  Formulas from memory, held to published
 * values in test_palette.c. */
#pragma once
#include "ui/drawing/palette.h"
#include <math.h>

static double linear(double c)
{
  return c <= 0.04045 ? c / 12.92 : pow((c + 0.055) / 1.055, 2.4);
}

static double luminance(Rgba c)
{
  return 0.2126 * linear(c.r) + 0.7152 * linear(c.g) + 0.0722 * linear(c.b);
}

static double contrast(Rgba a, Rgba b)
{
  double p = luminance(a), q = luminance(b);
  return (fmax(p, q) + 0.05) / (fmin(p, q) + 0.05);
}

static double lightness(Rgba c)
{
  double y = luminance(c);
  return y > 216.0 / 24389 ? 116 * cbrt(y) - 16 : y * 24389 / 27;
}
