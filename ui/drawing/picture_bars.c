/* picture_bars.c - see picture_bars.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/picture_bars.h"

void picture_gain(cairo_t *cr, int width, int height, const DrawContext *context, Banded gain,
                  double most)
{
  double thick = fmin(px(context, 7), height / 2.0), tick = px(context, 3), inset = px(context, 1);
  double long_px = fmax(width - 2 * inset, 1);
  cairo_rectangle(cr, inset, 0, long_px, thick);
  ink_use(cr, context, COLOUR_TROUGH);
  cairo_fill(cr);
  if (!(most > 0) || !isfinite(gain.value))
    return;
  double part = fmin(fmax(gain.value / most, 0), 1);
  cairo_rectangle(cr, inset, 0, long_px * part, thick);
  ink_use(cr, context, COLOUR_ACCENT);
  cairo_fill(cr);
  if (!isfinite(gain.low) || !isfinite(gain.high))
    return;
  double low = inset + long_px * fmin(fmax(gain.low / most, 0), 1);
  double high = inset + long_px * fmin(fmax(gain.high / most, 0), 1), y = thick + px(context, 5);
  ink_use(cr, context, COLOUR_DIM);
  ink_width(cr, context, 1.2);
  draw_line(cr, point(low, y), point(high, y));
  draw_line(cr, point(low, y - tick), point(low, y + tick));
  draw_line(cr, point(high, y - tick), point(high, y + tick));
}
