/* tornado.c - what drives the band of the chance.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/tornado.h"
#include "ui/drawing/margin_axis.h"
#include <math.h>

static const TextStyle name_style = {TEXT_NOTE, false, false, COLOUR_TEXT, ALIGN_LEFT},
                       figure_style = {TEXT_NOTE, false, false, COLOUR_TEXT, ALIGN_RIGHT},
                       note_style = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_LEFT};

Phrase driver_phrase(const ChanceDriver *driver)
{
  if (driver->input.kind == INPUT_FINISH)
    return (Phrase){.text = N_("finish: {word}"), .word = finish_name(driver->input.state)};
  if (driver->input.kind == INPUT_MODULUS && driver->input.bars > 0)
    return (Phrase){.text = N_("spread of {0} bars, m"), .value = {driver->input.bars}};
  return (Phrase){.text = input_name(driver->input.kind)};
}

static int rows_of(const ConnectorAssessment *connector)
{
  return connector->n_driver < TORNADO_ROWS ? (int)connector->n_driver : TORNADO_ROWS;
}

double tornado_height(const DrawContext *context, const ConnectorAssessment *connector)
{
  return px(context, rows_of(connector) * TORNADO_ROW_HEIGHT) + margin_axis_height(context) +
         1.5 * text_px(context, TEXT_NOTE);
}

/* From the middle to one end: full where the input is low, empty where it is high. */
static void half_draw(cairo_t *cr, const DrawContext *context, double middle, double end, double y,
                      double high, bool full)
{
  cairo_rectangle(cr, fmin(middle, end), y, fabs(end - middle), high);
  ink_use(cr, context, COLOUR_ACCENT);
  ink_width(cr, context, 1.4);
  if (full)
    cairo_fill_preserve(cr);
  cairo_stroke(cr);
}

static void row_draw(cairo_t *cr, const DrawContext *context, const MarginAxis *axis, double y,
                     double middle, double width, const ChanceDriver *driver)
{
  char name[TEXT_ROOM], figure[TEXT_ROOM];
  double high = px(context, 11), a = driver->at_low.service.margin,
         b = driver->at_high.service.margin;
  say_phrase(context, name, driver_phrase(driver));
  say(context, figure, "{0.2}–{1.2}", fmin(a, b), fmax(a, b), 0, 0);
  text_column(cr, context, name_style, point(0, y + high), axis->x0 - px(context, 8), 1, false,
              name);
  text_draw(cr, context, figure_style, point(width, y + high), figure);
  half_draw(cr, context, margin_x(axis, middle), margin_x(axis, b), y, high, false);
  half_draw(cr, context, margin_x(axis, middle), margin_x(axis, a), y, high, true);
}

void picture_tornado(cairo_t *cr, int width, int height, const DrawContext *context,
                     const ConnectorAssessment *connector)
{
  (void)height;
  int rows = rows_of(connector);
  char buf[TEXT_ROOM];
  double low = INFINITY, high = -INFINITY, names = 0, figures = 0, gap = px(context, 8),
         middle = connector->service_margin.value;
  if (rows == 0 || !isfinite(middle))
    return;
  for (int i = 0; i < rows; i++) {
    const ChanceDriver *d = &connector->driver[i];
    double a = d->at_low.service.margin, b = d->at_high.service.margin;
    low = fmin(low, fmin(a, b));
    high = fmax(high, fmax(a, b));
    names = fmax(names,
                 text_width(cr, context, name_style, say_phrase(context, buf, driver_phrase(d))));
    figures =
        fmax(figures, text_width(cr, context, figure_style,
                                 say(context, buf, "{0.2}–{1.2}", fmin(a, b), fmax(a, b), 0, 0)));
  }
  names = fmin(names, 0.42 * width);
  MarginAxis axis = margin_axis(low, high, names + gap, width - figures - gap);
  double step = px(context, TORNADO_ROW_HEIGHT), bottom = rows * step;
  margin_axis_draw(cr, context, &axis, 0, bottom);
  for (int i = 0; i < rows; i++)
    row_draw(cr, context, &axis, i * step + px(context, 5), middle, width, &connector->driver[i]);
  double x = margin_x(&axis, middle);
  ink_use(cr, context, COLOUR_ACCENT);
  ink_width(cr, context, 1.6);
  draw_line(cr, point(x, 0), point(x, bottom));
  text_column(cr, context, note_style,
              point(0, bottom + margin_axis_height(context) + text_px(context, TEXT_NOTE)), width,
              1, false,
              text_word(context, N_("Full: input at its low end, empty: at its high end")));
}
