/* margin_axis.c - an axis of margins with the mark where 5 of 100 break.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/margin_axis.h"
#include <math.h>

#define STEPS_WANTED 4
#define NEAR_ONE 1.2 /* lengths of the span: farther off it would squeeze the bars */

static double step_for(double span)
{
  static const double nice[] = {0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50};
  for (size_t i = 0; i < sizeof nice / sizeof *nice; i++)
    if (span / nice[i] <= STEPS_WANTED)
      return nice[i];
  return 100;
}

MarginAxis margin_axis(double low, double high, double x0, double x1)
{
  low = isfinite(low) ? low : 0;
  high = isfinite(high) && high > low ? high : low + 1;
  if (fabs(1 - (low + high) / 2) < NEAR_ONE * (high - low)) {
    low = fmin(low, 1);
    high = fmax(high, 1);
  }
  double step = step_for(high - low);
  return (MarginAxis){fmax(0, floor(low / step + 1e-9) * step), ceil(high / step - 1e-9) * step, x0,
                      fmax(x1, x0 + 1), step};
}

double margin_x(const MarginAxis *axis, double margin)
{
  double part = (margin - axis->low) / (axis->high - axis->low);
  return axis->x0 + (axis->x1 - axis->x0) * (isnan(part) ? 0 : fmin(fmax(part, 0), 1));
}

double margin_axis_height(const DrawContext *context)
{
  return 3.2 * text_px(context, TEXT_NOTE);
}

void margin_axis_draw(cairo_t *cr, const DrawContext *context, const MarginAxis *axis, double y0,
                      double y1)
{
  char buf[TEXT_ROOM];
  TextStyle style = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_CENTRE};
  double em = text_px(context, TEXT_NOTE), one = margin_x(axis, 1);
  ink_use(cr, context, COLOUR_LINE);
  ink_width(cr, context, 1);
  int steps = (int)lround((axis->high - axis->low) / axis->step);
  for (int i = 0; i <= steps; i++) {
    double x = margin_x(axis, axis->low + i * axis->step);
    ink_use(cr, context, COLOUR_LINE);
    draw_line(cr, point(x, y0), point(x, y1));
    say_number(context, buf, axis->low + i * axis->step,
               axis->step < 0.095  ? 2
               : axis->step < 0.95 ? 1
                                   : 0);
    text_draw(cr, context, style, point(x, y1 + em), buf);
  }
  if (axis->low <= 1 && axis->high >= 1) {
    ink_use(cr, context, COLOUR_INK);
    ink_width(cr, context, 1.6);
    draw_line(cr, point(one, y0), point(one, y1));
  }
  const char *word = text_word(context, N_("margin; at 1 five of 100 break"));
  double half = text_width(cr, context, style, word) / 2,
         middle = fmax(half, fmin((axis->x0 + axis->x1) / 2, axis->x1 + (axis->x0 - half)));
  text_draw(cr, context, style, point(fmax(half, middle), y1 + 2.4 * em), word);
}

void margin_bracket(cairo_t *cr, const DrawContext *context, const MarginAxis *axis, double y,
                    double low, double high)
{
  double a = margin_x(axis, low), b = margin_x(axis, high), tick = px(context, 2.5);
  if (!(b - a > px(context, 1)))
    return;
  ink_use(cr, context, COLOUR_DIM);
  ink_width(cr, context, 1.2);
  draw_line(cr, point(a, y), point(b, y));
  draw_line(cr, point(a, y - tick), point(a, y + tick));
  draw_line(cr, point(b, y - tick), point(b, y + tick));
}
