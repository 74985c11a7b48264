/* gauges.c - see gauges.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/gauges.h"

#define BRISTLES 16
#define RIM 400    /* points of an outline for the reach of the cutter */
#define COLUMNS 25 /* places the cutter is tried at                    */
#define SWEPT 120  /* points of the edge that it leaves                */

void draw_brush(cairo_t *cr, const DrawContext *context, Point centre, double radius)
{
  ink_use(cr, context, COLOUR_INK);
  ink_width(cr, context, 1.6);
  path_circle(cr, centre, radius);
  cairo_stroke(cr);
  ink_width(cr, context, 1);
  for (int i = 0; i < BRISTLES; i++) {
    double a = 2 * M_PI * i / BRISTLES;
    Point d = point(cos(a), sin(a));
    draw_line(cr, point_add(centre, point_scale(d, 0.68 * radius)),
              point_add(centre, point_scale(d, 0.93 * radius)));
  }
  path_circle(cr, centre, px(context, 1.8));
  cairo_fill(cr);
}

void draw_cutter(cairo_t *cr, const DrawContext *context, Point centre, double radius)
{
  double arm = fmin(px(context, 4), radius / 2);
  ink_use(cr, context, COLOUR_INK);
  ink_width(cr, context, 1.2);
  draw_line(cr, point(centre.x - arm, centre.y), point(centre.x + arm, centre.y));
  draw_line(cr, point(centre.x, centre.y - arm), point(centre.x, centre.y + arm));
  ink_width(cr, context, 1.5);
  ink_dash(cr, context, DOT_CUTTER);
  path_circle(cr, centre, radius);
  cairo_stroke(cr);
}

void draw_room(cairo_t *cr, const DrawContext *context, Point centre, double radius)
{
  ink_use(cr, context, COLOUR_DIM);
  ink_width(cr, context, 1.1);
  ink_dash(cr, context, DOT_ROOM);
  path_circle(cr, centre, radius);
  cairo_stroke(cr);
}

static void chevron(cairo_t *cr, Point tip, double dx, double dy)
{
  cairo_move_to(cr, tip.x + dx, tip.y - dy);
  cairo_line_to(cr, tip.x, tip.y);
  cairo_line_to(cr, tip.x + dx, tip.y + dy);
  cairo_stroke(cr);
}

void draw_load_handle(cairo_t *cr, const DrawContext *context, Point centre, Point tip,
                      bool movable)
{
  double r = px(context, LOAD_HANDLE_RADIUS), head = px(context, 6);
  Point from = movable ? point(centre.x, centre.y + r) : centre;
  ink_use(cr, context, COLOUR_ACCENT);
  ink_width(cr, context, 2.6);
  cairo_set_line_cap(cr, CAIRO_LINE_CAP_BUTT);
  if (tip.y - head > from.y)
    draw_line(cr, from, point(tip.x, tip.y - head));
  cairo_move_to(cr, tip.x - head * 0.8, tip.y - head * 1.3);
  cairo_line_to(cr, tip.x + head * 0.8, tip.y - head * 1.3);
  cairo_line_to(cr, tip.x, tip.y);
  cairo_close_path(cr);
  cairo_fill(cr);
  if (!movable)
    return;
  path_circle(cr, centre, r - px(context, 1.3));
  ink_use(cr, context, COLOUR_CARD);
  cairo_fill_preserve(cr);
  ink_use(cr, context, COLOUR_ACCENT);
  ink_width(cr, context, 2.6);
  cairo_stroke(cr);
  ink_width(cr, context, 1.8);
  chevron(cr, point(centre.x - px(context, 5.2), centre.y), px(context, 3), px(context, 3.4));
  chevron(cr, point(centre.x + px(context, 5.2), centre.y), -px(context, 3), px(context, 3.4));
}

void draw_knot(cairo_t *cr, const DrawContext *context, Point at, bool chosen)
{
  double half = px(context, 4.5);
  cairo_rectangle(cr, at.x - half, at.y - half, 2 * half, 2 * half);
  ink_use(cr, context, chosen ? COLOUR_ACCENT : COLOUR_CARD);
  cairo_fill_preserve(cr);
  ink_use(cr, context, chosen ? COLOUR_ACCENT : COLOUR_INK);
  ink_width(cr, context, 1.6);
  cairo_stroke(cr);
}

static double rim_distance(const Point rim[], size_t n, Point p)
{
  double best = INFINITY;
  for (size_t i = 0; i + 1 < n; i++) {
    Point d = point_sub(rim[i + 1], rim[i]);
    double length2 = point_dot(d, d),
           t = length2 > 0 ? point_dot(point_sub(p, rim[i]), d) / length2 : 0;
    Point away = point_sub(point_add(rim[i], point_scale(d, t < 0 ? 0 : t > 1 ? 1 : t)), p);
    double square = point_dot(away, away);
    best = square < best ? square : best;
  }
  return sqrt(best);
}

/* Highest place of the cutter's middle at x, coming from below; NaN if it does not fit at all. */
static double reach_at(const Point rim[], size_t n, double x, double low, double high,
                       double radius)
{
  double y = low, clear = rim_distance(rim, n, point(x, y)) - radius;
  if (!(clear >= 0))
    return NAN;
  /* it may rise by as much as it is clear of the rim */
  for (int i = 0; i < 40 && clear > 1e-3 && y < high; i++) {
    y += clear;
    clear = rim_distance(rim, n, point(x, y)) - radius;
  }
  return fmin(y, high);
}

/* Upper edge of all that the cutter sweeps, at x; low where it never comes. */
static double swept_at(const Point middle[], size_t n, double x, double low, double radius)
{
  double top = low;
  for (size_t i = 0; i < n; i++) {
    double dx = x - middle[i].x;
    if (fabs(dx) < radius)
      top = fmax(top, middle[i].y + sqrt(radius * radius - dx * dx));
  }
  return top;
}

/* The open space below the outline, from roof to feet. */
static void path_embrasure(cairo_t *cr, View view, const Outline *gingival, double foot_low)
{
  double floor_px = view.y - view.scale * foot_low + 1, last = (double)outline_pieces(gingival);
  Point left = view_px(view, outline_at(gingival, 0)),
        right = view_px(view, outline_at(gingival, last));
  path_outline(cr, view, gingival);
  cairo_line_to(cr, right.x, floor_px);
  cairo_line_to(cr, left.x, floor_px);
  cairo_close_path(cr);
}

void draw_cutter_rest(cairo_t *cr, const DrawContext *context, View view, const Outline *gingival,
                      Point roof, double foot_low, double diameter)
{
  double radius = diameter / 2, low = foot_low - radius, last = (double)outline_pieces(gingival);
  if (!(diameter > 0.05) || !(roof.y > foot_low) || !(last > 0) || roof.y - low > 50)
    return;
  Point rim[RIM], middle[COLUMNS];
  double band = radius + 0.6; /* mm right and left of the roof that are looked at */
  size_t n = 0, n_rim = 0;
  for (int i = 0; i < RIM; i++) {
    rim[n_rim] = outline_at(gingival, last * i / (RIM - 1));
    n_rim += fabs(rim[n_rim].x - roof.x) < band + 2 * radius;
  }
  for (int i = 0; i < COLUMNS; i++) {
    double x = roof.x + band * (2.0 * i / (COLUMNS - 1) - 1),
           y = reach_at(rim, n_rim, x, low, roof.y, radius);
    if (!isnan(y))
      middle[n++] = point(x, y);
  }
  cairo_save(cr);
  path_embrasure(cr, view, gingival, foot_low);
  cairo_clip(cr);
  Point top = view_px(view, point(roof.x - band, roof.y));
  double tall = (roof.y - foot_low) * view.scale, wide = 2 * band * view.scale;
  cairo_move_to(cr, top.x, top.y - 2);
  for (int i = 0; i <= SWEPT; i++) {
    double x = roof.x + band * (2.0 * i / SWEPT - 1);
    Point p = view_px(view, point(x, fmax(swept_at(middle, n, x, low, radius), foot_low)));
    cairo_line_to(cr, p.x, p.y);
  }
  cairo_line_to(cr, top.x + wide, top.y - 2);
  cairo_close_path(cr);
  cairo_clip(cr);
  ink_use(cr, context, COLOUR_DIM);
  ink_width(cr, context, 1);
  for (double x = top.x - tall; x < top.x + wide; x += px(context, 3)) {
    cairo_move_to(cr, x, top.y + tall);
    cairo_line_to(cr, x + tall, top.y);
  }
  cairo_stroke(cr);
  cairo_restore(cr);
}
