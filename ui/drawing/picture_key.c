/* picture_key.c - see picture_key.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/picture_key.h"

#define SQUEEZED_PART 0.23 /* of the bar; the stretched side up to PALETTE_END takes the rest */

static void draw_bar(cairo_t *cr, const DrawContext *context, Box bar, double zero_x)
{
  cairo_pattern_t *pattern = cairo_pattern_create_linear(bar.x, 0, bar.x + bar.width, 0);
  double zero = (zero_x - bar.x) / bar.width;
  for (int i = 0; i <= 60; i++) {
    double at = i / 60.0, ratio = at < zero ? PALETTE_SQUEEZED_END * (1 - at / zero)
                                            : PALETTE_END * (at - zero) / (1 - zero);
    Rgba c = palette_stress(context->palette, ratio);
    cairo_pattern_add_color_stop_rgb(pattern, at, c.r, c.g, c.b);
  }
  cairo_rectangle(cr, bar.x, bar.y, bar.width, bar.height);
  cairo_set_source(cr, pattern);
  cairo_fill(cr);
  cairo_pattern_destroy(pattern);
}

static void draw_over(cairo_t *cr, const DrawContext *context, Box bar, double limit_x)
{
  cairo_save(cr);
  cairo_rectangle(cr, limit_x, bar.y, bar.x + bar.width - limit_x, bar.height);
  cairo_clip(cr);
  ink_use(cr, context, COLOUR_HATCH);
  ink_width(cr, context, 1.7);
  for (double x = limit_x - bar.height; x < bar.x + bar.width; x += px(context, 6 * M_SQRT2))
    draw_line(cr, point(x, bar.y + bar.height), point(x + bar.height, bar.y));
  cairo_restore(cr);
}

void picture_key(cairo_t *cr, int width, int height, const DrawContext *context, double limit_mpa)
{
  TextStyle note = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_LEFT},
            strong = {TEXT_NOTE, true, false, COLOUR_TEXT, ALIGN_RIGHT};
  double y = px(context, 18), edge = px(context, 0.5);
  Box bar = {edge, y, width - 2 * edge, px(context, 12)};
  if (bar.width < px(context, 40) || height < px(context, 30))
    return;
  double zero_x = bar.x + SQUEEZED_PART * bar.width;
  double limit_x = zero_x + (1 - SQUEEZED_PART) * bar.width / PALETTE_END;
  draw_bar(cr, context, bar, zero_x);
  draw_over(cr, context, bar, limit_x);
  ink_use(cr, context, COLOUR_RULE);
  ink_width(cr, context, 1);
  cairo_rectangle(cr, bar.x, bar.y, bar.width, bar.height);
  cairo_stroke(cr);
  ink_use(cr, context, COLOUR_TEXT);
  ink_width(cr, context, 1.6);
  draw_line(cr, point(limit_x, bar.y - px(context, 4)),
            point(limit_x, bar.y + bar.height + px(context, 4)));
  double top = px(context, 12), bottom = bar.y + bar.height + px(context, 17);
  const char *left = text_word(context, N_("squeezed")),
             *middle = text_word(context, N_("stretched"));
  const char *right = text_word(context, N_("over"));
  double left_end = bar.x + text_draw(cr, context, note, point(bar.x, top), left);
  TextStyle end = note;
  end.align = ALIGN_RIGHT;
  double right_start =
      bar.x + bar.width - text_draw(cr, context, end, point(bar.x + bar.width, top), right);
  double room = right_start - left_end, want = text_width(cr, context, note, middle);
  if (want + px(context, 8) < room)
    text_draw(cr, context, note, point(left_end + (room - want) / 2, top), middle);
  if (height < bottom)
    return;
  char buf[TEXT_ROOM];
  end.align = ALIGN_CENTRE;
  /* a dash when it is not known */
  say(context, buf, N_("limit {0} MPa"), limit_mpa > 0 && isfinite(limit_mpa) ? limit_mpa : NAN, 0,
      0, 0);
  double limit_width = text_width(cr, context, strong, buf);
  double limit_end = fmin(fmax(limit_x + limit_width / 2, limit_x), bar.x + bar.width);
  text_draw(cr, context, strong, point(limit_end, bottom), buf);
  if (zero_x + px(context, 10) < limit_end - limit_width)
    text_draw(cr, context, end, point(zero_x, bottom), say_number(context, buf, 0, 0));
}
