/* picture_lines.c - see picture_lines.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/picture_lines.h"
#include <stdio.h>

#define EDGE_PX 44
#define GRID_LEAST_PX 4 /* a 1 mm grid closer than this is left out */

static View view_of(int width, int height, const DrawContext *context, const LinesPicture *picture,
                    Point *low, Point *high)
{
  *low = point(INFINITY, INFINITY);
  *high = point(-INFINITY, -INFINITY);
  for (size_t i = 0; i < picture->n; i++)
    for (size_t k = 0; k < picture->line[i]->n; k++) {
      Point p = picture->line[i]->knot[k].at;
      *low = point(fmin(low->x, p.x), fmin(low->y, p.y));
      *high = point(fmax(high->x, p.x), fmax(high->y, p.y));
    }
  double edge = 2 * px(context, EDGE_PX);
  double scale = fmin((width - edge) / fmax(high->x - low->x, 0.1),
                      (height - edge) / fmax(high->y - low->y, 0.1));
  scale = fmax(scale, 1e-3);
  return (View){scale, width / 2.0 - scale * (low->x + high->x) / 2,
                height / 2.0 + scale * (low->y + high->y) / 2};
}

static void draw_grid(cairo_t *cr, int width, int height, const DrawContext *context, View view)
{
  Point a = view_mm(view, point(0, height)), b = view_mm(view, point(width, 0));
  int step = view.scale >= GRID_LEAST_PX ? 1 : view.scale * 5 >= GRID_LEAST_PX ? 5 : 0;
  ink_width(cr, context, 1);
  for (int way = 0; way < 2 && step; way++)
    for (double v = ceil((way ? a.y : a.x) / step) * step; v <= (way ? b.y : b.x); v += step) {
      Point p = view_px(view, point(v, v));
      ink_use(cr, context, fabs(remainder(v, 5)) < 0.5 ? COLOUR_GRID5 : COLOUR_GRID);
      if (way)
        draw_line(cr, point(0, p.y), point(width, p.y));
      else
        draw_line(cr, point(p.x, 0), point(p.x, height));
    }
}

void picture_lines(cairo_t *cr, int width, int height, const DrawContext *context,
                   const LinesPicture *picture)
{
  Point low, high;
  if (width <= 0 || height <= 0 || picture->n == 0)
    return;
  View view = view_of(width, height, context, picture, &low, &high);
  ink_use(cr, context, COLOUR_PAPER);
  cairo_paint(cr);
  draw_grid(cr, width, height, context, view);
  for (size_t i = 0; i < picture->n; i++) {
    bool used = picture->part[i] != NULL;
    cairo_new_path(cr);
    path_outline(cr, view, picture->line[i]);
    ink_use(cr, context, used ? COLOUR_ACCENT : COLOUR_INK);
    ink_width(cr, context, used ? 2.6 : 1.4);
    if (!used)
      ink_dash(cr, context, DASH_NECK);
    cairo_stroke(cr);
    cairo_set_dash(cr, NULL, 0, 0);
  }
  for (size_t i = 0; i < picture->n; i++) {
    const Outline *line = picture->line[i];
    Point at = view_px(view, outline_at(line, (double)outline_pieces(line) / 2));
    TextStyle style = {TEXT_NOTE, picture->part[i] != NULL, true, COLOUR_TEXT, ALIGN_CENTRE};
    at.y -= px(context, 8);
    char words[TEXT_ROOM];
    const char *part = picture->part[i] ? picture->part[i] : "";
    snprintf(words, sizeof words, "%zu%s%.200s", i + 1, *part ? " " : "", part);
    text_draw(cr, context, style, at, words);
  }
}
