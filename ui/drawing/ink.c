/* ink.c - see ink.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/ink.h"

const double DASH_GHOST[] = {9, 5, 0}, DASH_NECK[] = {10, 3, 2, 3, 0}, DOT_CUTTER[] = {2, 3.2, 0};
const double DOT_ROOM[] = {1, 4, 0}, DOT_ZERO[] = {3, 3, 0}, DASH_DIE[] = {4, 3, 0},
             DOT_TRACK[] = {1, 5, 0}, DASH_BEFORE[] = {3, 4.5, 0};

void ink_colour(cairo_t *cr, Rgba colour)
{
  cairo_set_source_rgba(cr, colour.r, colour.g, colour.b, colour.a);
}

void ink_use(cairo_t *cr, const DrawContext *context, Colour colour)
{
  ink_colour(cr, palette_colour(context->palette, colour));
}

void ink_width(cairo_t *cr, const DrawContext *context, double width_px)
{
  cairo_set_line_width(cr, px(context, width_px));
  cairo_set_line_join(cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap(cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_dash(cr, NULL, 0, 0);
}

void ink_dash(cairo_t *cr, const DrawContext *context, const double pattern[])
{
  double scaled[8];
  int n = 0;
  while (n < 8 && pattern[n] > 0) {
    scaled[n] = px(context, pattern[n]);
    n++;
  }
  cairo_set_line_cap(cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_dash(cr, scaled, n, 0);
}

#define HALO_PX 2.6 /* both sides together */

void ink_stroke_haloed(cairo_t *cr, const DrawContext *context, Rgba colour, double width_px,
                       const double dash[])
{
  ink_width(cr, context, width_px + HALO_PX);
  ink_use(cr, context, COLOUR_PAPER);
  cairo_stroke_preserve(cr);
  ink_width(cr, context, width_px);
  if (dash)
    ink_dash(cr, context, dash);
  ink_colour(cr, colour);
  cairo_stroke(cr);
}

void path_outline_on(cairo_t *cr, View view, const Outline *outline, bool back)
{
  size_t n = outline_pieces(outline);
  for (size_t k = 0; k < n; k++) {
    Point c[4];
    outline_piece(outline, back ? n - 1 - k : k, c);
    for (int i = 0; i < 4; i++)
      c[i] = view_px(view, c[i]);
    if (k == 0 && cairo_has_current_point(cr))
      cairo_line_to(cr, c[back ? 3 : 0].x, c[back ? 3 : 0].y);
    else if (k == 0)
      cairo_move_to(cr, c[back ? 3 : 0].x, c[back ? 3 : 0].y);
    if (back)
      cairo_curve_to(cr, c[2].x, c[2].y, c[1].x, c[1].y, c[0].x, c[0].y);
    else
      cairo_curve_to(cr, c[1].x, c[1].y, c[2].x, c[2].y, c[3].x, c[3].y);
  }
}

void path_outline(cairo_t *cr, View view, const Outline *outline)
{
  cairo_new_sub_path(cr);
  path_outline_on(cr, view, outline, false);
  if (outline->closed)
    cairo_close_path(cr);
}

void path_lines(cairo_t *cr, View view, const LineSet *lines)
{
  for (size_t i = 0; i < lines->n_line; i++) {
    cairo_new_sub_path(cr);
    for (size_t k = lines->start[i]; k < lines->start[i + 1]; k++) {
      Point p = view_px(view, lines->at[k]);
      cairo_line_to(cr, p.x, p.y);
    }
  }
}

void path_circle(cairo_t *cr, Point centre, double radius)
{
  cairo_new_sub_path(cr);
  cairo_arc(cr, centre.x, centre.y, radius > 0 ? radius : 0, 0, 2 * M_PI);
  cairo_close_path(cr);
}

void path_box(cairo_t *cr, Box b, double radius)
{
  double r = fmin(radius, fmin(b.width, b.height) / 2);
  cairo_new_sub_path(cr);
  cairo_arc(cr, b.x + b.width - r, b.y + r, r, -M_PI / 2, 0);
  cairo_arc(cr, b.x + b.width - r, b.y + b.height - r, r, 0, M_PI / 2);
  cairo_arc(cr, b.x + r, b.y + b.height - r, r, M_PI / 2, M_PI);
  cairo_arc(cr, b.x + r, b.y + r, r, M_PI, 3 * M_PI / 2);
  cairo_close_path(cr);
}

void draw_plate(cairo_t *cr, const DrawContext *context, Box box, Rgba border, double width_px)
{
  path_box(cr, box, px(context, 8));
  ink_use(cr, context, COLOUR_CARD);
  cairo_fill_preserve(cr);
  ink_width(cr, context, width_px);
  ink_colour(cr, border);
  cairo_stroke(cr);
}

void draw_line(cairo_t *cr, Point a, Point b)
{
  cairo_move_to(cr, a.x, a.y);
  cairo_line_to(cr, b.x, b.y);
  cairo_stroke(cr);
}

void draw_dimension(cairo_t *cr, const DrawContext *context, Point a, Point b)
{
  ink_width(cr, context, 1.2);
  ink_use(cr, context, COLOUR_RULE);
  Point d = point_sub(b, a);
  double length = point_length(d);
  if (!(length > 0))
    return;
  Point tick = point_scale(point(-d.y, d.x), px(context, 4) / length);
  draw_line(cr, a, b);
  draw_line(cr, point_add(a, tick), point_sub(a, tick));
  draw_line(cr, point_add(b, tick), point_sub(b, tick));
}

void draw_gum_line(cairo_t *cr, const DrawContext *context, double x0, double x1, double y)
{
  double pitch = px(context, 16), long_by = px(context, 4.5), tall = px(context, 6),
         gap = px(context, 3);
  ink_use(cr, context, COLOUR_GUM);
  ink_width(cr, context, 1.6);
  draw_line(cr, point(x0, y), point(x1, y));
  ink_width(cr, context, 1);
  int n = (int)fmin(fmax((x1 - x0) / pitch, 0), 4000);
  for (int i = 0; i < n; i++) {
    double x = x0 + (i + 0.6) * pitch + px(context, 2.2 * sin(i * 2.4)), k = 1 + 0.2 * sin(i * 1.7);
    cairo_move_to(cr, x + long_by / 2 * k, y + gap);
    cairo_line_to(cr, x - long_by / 2 * k, y + gap + tall * k);
  }
  cairo_stroke(cr);
}

void fill_with(cairo_t *cr, cairo_surface_t *surface)
{
  if (surface) {
    cairo_set_source_surface(cr, surface, 0, 0);
    cairo_fill(cr);
  }
  cairo_new_path(cr);
}

void places_init(Places *places, Box bounds)
{
  *places = (Places){.bounds = bounds};
}

void places_take(Places *places, Box box)
{
  if (places->n < PLACES_MAX)
    places->taken[places->n++] = box;
}

static bool boxes_touch(Box a, Box b)
{
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

int places_find(Places *places, const Box candidate[], size_t n)
{
  Box in = places->bounds;
  for (size_t i = 0; i < n; i++) {
    Box c = candidate[i];
    bool free_place = c.x >= in.x && c.y >= in.y && c.x + c.width <= in.x + in.width &&
                      c.y + c.height <= in.y + in.height;
    for (size_t k = 0; k < places->n && free_place; k++)
      free_place = !boxes_touch(c, places->taken[k]);
    if (free_place) {
      places_take(places, c);
      return (int)i;
    }
  }
  return -1;
}
