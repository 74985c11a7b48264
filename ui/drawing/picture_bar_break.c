/* picture_bar_break.c - see picture_bar_break.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/picture_bar_break.h"
#include <math.h>

/* From here to there the stretched edge carries most; at a notch, its root does. */
static void draw_expected(cairo_t *cr, const DrawContext *context, View view, const NotchPicture *p)
{
  double inner = p->setup->inner / 2;
  bool notched = p->bar->depth > 0, wide = !notched && inner > 0;
  Point low = view_px(view, point(notched ? p->place : -inner, notched ? p->bar->depth : 0)),
        high = view_px(view, point(notched ? p->place : inner, notched ? p->bar->depth : 0));
  ink_use(cr, context, COLOUR_ACCENT);
  ink_width(cr, context, wide ? 4 : 2);
  ink_dash(cr, context, DASH_GHOST);
  if (wide)
    draw_line(cr, low, high);
  else {
    path_circle(cr, low, px(context, 13));
    cairo_stroke(cr);
  }
  TextStyle style = {TEXT_NOTE, true, true, COLOUR_ACCENT, ALIGN_LEFT};
  const char *word = text_word(context, N_("expected"));
  if (wide) /* between roller and dimension */
    text_draw(cr, context, style,
              point(high.x - text_width(cr, context, style, word), high.y + px(context, 20)), word);
  else
    text_draw(cr, context, style, point(high.x + px(context, 18), high.y - px(context, 8)), word);
}

void picture_bar_break(cairo_t *cr, int width, int height, const DrawContext *context,
                       const NotchPicture *p, Point found)
{
  if (width < 80 || height < 80 || !(p->bar->height > 0))
    return;
  View view = notch_view(width, height, context, p);
  picture_notch(cr, width, height, context, p);
  draw_expected(cr, context, view, p);
  if (isnan(found.x))
    return;
  ink_use(cr, context, COLOUR_REWORK);
  ink_width(cr, context, 3);
  Point at = view_px(view, point(found.x, isnan(found.y) ? 0 : found.y));
  double arm = px(context, 8);
  if (isnan(found.y)) { /* its height is not recorded */
    Point top = view_px(view, point(found.x, p->bar->height));
    ink_dash(cr, context, DASH_NECK);
    draw_line(cr, at, top);
    return;
  }
  draw_line(cr, point(at.x - arm, at.y - arm), point(at.x + arm, at.y + arm));
  draw_line(cr, point(at.x - arm, at.y + arm), point(at.x + arm, at.y - arm));
}
