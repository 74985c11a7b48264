/* waterfall.c - from the best connector of a room to the drawn one, a bar a step.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/waterfall.h"
#include "ui/drawing/margin_axis.h"
#include <math.h>

static const TextStyle name_style = {TEXT_NOTE, false, false, COLOUR_TEXT, ALIGN_LEFT},
                       whole_style = {TEXT_NOTE, true, false, COLOUR_TEXT, ALIGN_LEFT},
                       figure_style = {TEXT_NOTE, false, false, COLOUR_TEXT, ALIGN_RIGHT},
                       whole_figure = {TEXT_NOTE, true, false, COLOUR_TEXT, ALIGN_RIGHT};

double waterfall_height(const DrawContext *context)
{
  return px(context, WATERFALL_ROWS * WATERFALL_ROW_HEIGHT) + margin_axis_height(context);
}

static void row_name(const DrawContext *context, const Waterfall *w, int row, bool wide, char *buf)
{
  if (row == 0)
    g_strlcpy(buf, text_word(context, N_("best here")), TEXT_ROOM);
  else if (row == WATERFALL_ROWS - 1)
    g_strlcpy(buf, text_word(context, N_("as drawn")), TEXT_ROOM);
  else if (wide)
    say_phrase(context, buf, fall_phrase(&w->step[row - 1]));
  else
    g_strlcpy(buf, text_word(context, fall_name((FallKind)(row - 1))), TEXT_ROOM);
}

static void row_figure(const DrawContext *context, const Waterfall *w, int row, bool wide,
                       char *buf)
{
  if (row == 0)
    say(context, buf, "{0.2}", w->best, 0, 0, 0);
  else if (row == WATERFALL_ROWS - 1)
    say(context, buf, "{0.2}", w->step[FALL_N - 1].margin, 0, 0, 0);
  else {
    const Banded *f = &w->step[row - 1].factor;
    say(context, buf, wide ? "× {0.2} ({1.2}–{2.2})" : "× {0.2}", f->value, f->low, f->high, 0);
  }
}

/* A step hangs between two margins: full when it loses, empty when it gains. */
static void step_draw(cairo_t *cr, const DrawContext *context, const MarginAxis *axis, double y,
                      double high, double from, const FallStep *step)
{
  double a = margin_x(axis, from), b = margin_x(axis, step->margin), left = fmin(a, b),
         width = fmax(fabs(a - b), px(context, 1));
  cairo_rectangle(cr, left, y, width, high);
  ink_use(cr, context, COLOUR_ACCENT);
  ink_width(cr, context, 1.2);
  if (b <= a)
    cairo_fill_preserve(cr);
  cairo_stroke(cr);
  margin_bracket(cr, context, axis, y + high + px(context, 4), from * step->factor.low,
                 from * step->factor.high);
}

static void whole_draw(cairo_t *cr, const DrawContext *context, const MarginAxis *axis, double y,
                       double high, double margin)
{
  cairo_rectangle(cr, axis->x0, y, margin_x(axis, margin) - axis->x0, high);
  ink_use(cr, context, COLOUR_INK);
  cairo_fill(cr);
}

void picture_waterfall(cairo_t *cr, int width, int height, const DrawContext *context,
                       const Waterfall *w)
{
  (void)height;
  if (!w->known)
    return;
  char name[TEXT_ROOM], figure[TEXT_ROOM];
  bool wide = width > 30 * text_px(context, TEXT_NOTE);
  double names = 0, figures = 0, most = w->best, gap = px(context, 8);
  for (int row = 0; row < WATERFALL_ROWS; row++) {
    row_name(context, w, row, wide, name);
    row_figure(context, w, row, wide, figure);
    names = fmax(names, text_width(cr, context, whole_style, name));
    figures = fmax(figures, text_width(cr, context, whole_style, figure));
    if (row > 0 && row <= FALL_N)
      most = fmax(most, w->step[row - 1].margin);
  }
  names = fmin(names, 0.5 * width);
  MarginAxis axis = margin_axis(0, most, names + gap, width - figures - gap);
  double step = px(context, WATERFALL_ROW_HEIGHT), high = px(context, 11), from = w->best;
  margin_axis_draw(cr, context, &axis, 0, WATERFALL_ROWS * step);
  for (int row = 0; row < WATERFALL_ROWS; row++) {
    bool whole = row == 0 || row == WATERFALL_ROWS - 1;
    double y = row * step + px(context, 4), base = y + high;
    row_name(context, w, row, wide, name);
    row_figure(context, w, row, wide, figure);
    text_column(cr, context, whole ? whole_style : name_style, point(0, base), names, 1, false,
                name);
    text_draw(cr, context, whole ? whole_figure : figure_style, point(width, base), figure);
    if (whole)
      whole_draw(cr, context, &axis, y, high, row ? w->step[FALL_N - 1].margin : w->best);
    else {
      step_draw(cr, context, &axis, y, high, from, &w->step[row - 1]);
      from = w->step[row - 1].margin;
    }
  }
}
