/* picture_shape.c - see picture_shape.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/picture_shape.h"
#include "ui/drawing/ink.h"
#include "ui/drawing/text.h"
#include "ui/words.h"

#define POINT_PX 8.0

static void box_draw(cairo_t *cr, const DrawContext *context, View view, NeckHalves neck)
{
  Point low = view_px(view, point(-neck.lingual, -neck.height)),
        high = view_px(view, point(neck.buccal, neck.height));
  ink_use(cr, context, COLOUR_RULE);
  ink_width(cr, context, 1);
  ink_dash(cr, context, DASH_NECK);
  path_box(cr, (Box){low.x, high.y, high.x - low.x, low.y - high.y}, 0);
  cairo_stroke(cr);
  ink_dash(cr, context, DOT_TRACK);
  draw_line(cr, point(view.x, low.y), point(view.x, high.y));
  draw_line(cr, point(low.x, view.y), point(high.x, view.y));
  TextStyle left = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_LEFT},
            middle = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_CENTRE};
  double gap = px(context, 8), aside = px(context, POINT_PX + 8);
  text_draw(cr, context, middle, point(view.x, low.y + 3.6 * gap),
            text_word(context, N_("gum side")));
  text_draw(cr, context, middle, point(view.x, high.y - 2 * gap),
            text_word(context, N_("biting side")));
  text_draw(cr, context, left, point(high.x + aside, view.y + gap / 2),
            text_word(context, N_("cheek")));
  const char *tongue = text_word(context, N_("tongue"));
  text_draw(cr, context, left,
            point(fmax(2, low.x - aside - text_width(cr, context, left, tongue)), view.y), tongue);
}

static void points_draw(cairo_t *cr, const DrawContext *context, View view, const Outline *section,
                        size_t knot)
{
  ink_dash(cr, context, (const double[]){0});
  for (size_t i = 0; i < section->n; i++) {
    Point at = view_px(view, section->knot[i].at);
    bool chosen = i == knot;
    path_circle(cr, at, px(context, chosen ? POINT_PX + 2 : POINT_PX));
    ink_use(cr, context, chosen ? COLOUR_ACCENT : COLOUR_CARD);
    cairo_fill_preserve(cr);
    ink_use(cr, context, chosen ? COLOUR_INK : COLOUR_ACCENT);
    ink_width(cr, context, chosen ? 2.5 : 2);
    cairo_stroke(cr);
  }
}

void section_picture(cairo_t *cr, const DrawContext *context, View view, NeckHalves neck,
                     const Outline *section, bool points, size_t knot)
{
  box_draw(cr, context, view, neck);
  cairo_new_path(cr);
  path_outline(cr, view, section);
  cairo_close_path(cr);
  ink_colour(cr, palette_stress(context->palette, 0));
  cairo_fill_preserve(cr);
  ink_dash(cr, context, (const double[]){0});
  ink_use(cr, context, COLOUR_INK);
  ink_width(cr, context, 2.2);
  cairo_stroke(cr);
  if (points)
    points_draw(cr, context, view, section, knot);
}
