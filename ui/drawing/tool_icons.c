/* tool_icons.c - icons of the tool row as strokes on a field of 24 by 24.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/signs.h"
#include <math.h>

static void line(cairo_t *cr, double x0, double y0, double x1, double y1)
{
  cairo_move_to(cr, x0, y0);
  cairo_line_to(cr, x1, y1);
}

static void pen(cairo_t *cr)
{
  cairo_move_to(cr, 5, 19);
  cairo_line_to(cr, 6, 14.6);
  cairo_line_to(cr, 15.8, 4.8);
  cairo_line_to(cr, 19.2, 8.2);
  cairo_line_to(cr, 9.4, 18);
  cairo_close_path(cr);
  line(cr, 13.4, 7.2, 16.8, 10.6);
}

static void eraser(cairo_t *cr)
{
  cairo_move_to(cr, 8.6, 18.6);
  cairo_line_to(cr, 4.4, 14.4);
  cairo_line_to(cr, 14, 4.8);
  cairo_line_to(cr, 19.6, 10.4);
  cairo_line_to(cr, 11.4, 18.6);
  cairo_close_path(cr);
  line(cr, 9, 9.8, 14.6, 15.4);
  line(cr, 4, 20.6, 20, 20.6);
}

/* A trembling line in its band. */
static void smoothing(cairo_t *cr)
{
  static const double dash[] = {2.4, 2.4};
  cairo_move_to(cr, 3.5, 12);
  for (int i = 0; i < 4; i++)
    cairo_rel_curve_to(cr, 1.2, i % 2 ? 3 : -3, 3, i % 2 ? 3 : -3, 4.25, 0);
  cairo_stroke(cr);
  cairo_set_line_cap(cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_dash(cr, dash, 2, 0);
  line(cr, 3.5, 6, 20.5, 6);
  line(cr, 3.5, 18, 20.5, 18);
}

static void knot(cairo_t *cr)
{
  cairo_move_to(cr, 3, 19);
  cairo_curve_to(cr, 6, 18.6, 8, 17, 9.8, 14.4);
  cairo_move_to(cr, 14.2, 9.6);
  cairo_curve_to(cr, 16, 7, 18, 5.4, 21, 5);
  cairo_stroke(cr);
  cairo_rectangle(cr, 9.4, 9.4, 5.2, 5.2);
}

/* A leg up to the roof, steps on it, a cross where one stands. */
static void walk(cairo_t *cr)
{
  cairo_move_to(cr, 3.5, 20.5);
  cairo_curve_to(cr, 4.5, 11, 8, 8.2, 20.5, 7.6);
  line(cr, 2.2, 15.4, 5.6, 16);
  line(cr, 5.2, 10.6, 7.8, 12.6);
  line(cr, 14, 3.4, 14, 12.4);
  line(cr, 9.5, 7.9, 18.5, 7.9);
}

static void disc(cairo_t *cr)
{
  cairo_arc(cr, 11, 13, 7, 0, 2 * M_PI);
  cairo_stroke(cr);
  line(cr, 11, 13, 20.5, 4);
  cairo_stroke(cr);
  cairo_arc(cr, 11, 13, 1.7, 0, 2 * M_PI);
  cairo_fill(cr);
}

static void gum(cairo_t *cr)
{
  cairo_move_to(cr, 3, 10);
  cairo_curve_to(cr, 7, 15.5, 9.5, 13.5, 12, 9.5);
  cairo_curve_to(cr, 14.5, 13.5, 17, 15.5, 21, 10);
  for (int i = 0; i < 4; i++)
    line(cr, 5.6 + 4.2 * i, 16.2, 4.6 + 4.2 * i, 19);
}

static void photo(cairo_t *cr)
{
  cairo_rectangle(cr, 4, 5.5, 16, 13);
  cairo_move_to(cr, 4.6, 17);
  cairo_line_to(cr, 9.4, 11.6);
  cairo_line_to(cr, 12.6, 15.2);
  cairo_line_to(cr, 15.4, 12.6);
  cairo_line_to(cr, 19.4, 17);
  cairo_stroke(cr);
  cairo_arc(cr, 15.6, 9.3, 1.2, 0, 2 * M_PI);
}

static void comb(cairo_t *cr)
{
  cairo_arc(cr, 12, 19, 7, M_PI, 2 * M_PI);
  for (int i = -2; i <= 2; i++) {
    double a = M_PI * 1.5 + i * 0.5, tooth = 11.2 + (i == 0 ? 4 : i == 1 || i == -1 ? 2.2 : 0.8);
    line(cr, 12 + 9.2 * cos(a), 19 + 9.2 * sin(a), 12 + tooth * cos(a), 19 + tooth * sin(a));
  }
}

static void shade(cairo_t *cr)
{
  cairo_rectangle(cr, 4.5, 4.5, 15, 15);
  line(cr, 4.5, 10, 10, 4.5);
  line(cr, 4.5, 15, 15, 4.5);
  line(cr, 5, 19.2, 19.2, 5);
  line(cr, 9.5, 19.5, 19.5, 9.5);
  line(cr, 14.5, 19.5, 19.5, 14.5);
}

static void flow(cairo_t *cr)
{
  for (int i = 0; i < 3; i++) {
    double y = 8.5 + 5 * i;
    cairo_move_to(cr, 3.5, y);
    cairo_curve_to(cr, 8, y, 9.5, y - 3.4 + i * 0.5, 12, y - 3.4 + i * 0.5);
    cairo_curve_to(cr, 14.5, y - 3.4 + i * 0.5, 16, y, 20.5, y);
  }
}

static void best(cairo_t *cr)
{
  static const double dash[] = {3.6, 2.6};
  cairo_set_line_cap(cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_dash(cr, dash, 2, 0);
  cairo_move_to(cr, 5, 20);
  cairo_curve_to(cr, 5.6, 9, 7, 4.8, 12, 4.8);
  cairo_curve_to(cr, 17, 4.8, 18.4, 9, 19, 20);
}

static void brush(cairo_t *cr)
{
  cairo_arc(cr, 12, 12, 3.6, 0, 2 * M_PI);
  for (int i = 0; i < 8; i++) {
    double a = i * M_PI / 4;
    line(cr, 12 + 6.2 * cos(a), 12 + 6.2 * sin(a), 12 + 9.2 * cos(a), 12 + 9.2 * sin(a));
  }
}

/* A rule across, its short strokes along one edge. */
static void measure(cairo_t *cr)
{
  cairo_move_to(cr, 3.4, 16);
  cairo_line_to(cr, 16, 3.4);
  cairo_line_to(cr, 20.6, 8);
  cairo_line_to(cr, 8, 20.6);
  cairo_close_path(cr);
  for (int i = 0; i < 4; i++)
    line(cr, 6 + 2.8 * i, 13.4 - 2.8 * i, 7.6 + 2.8 * i + (i % 2), 15 - 2.8 * i + (i % 2));
}

/* A place drawn to the crossing of two lines. */
static void snap(cairo_t *cr)
{
  line(cr, 4, 15.5, 20.5, 15.5);
  line(cr, 8.5, 3.5, 8.5, 20.5);
  line(cr, 18.5, 5.5, 13.2, 10.8);
  line(cr, 13.2, 10.8, 16.6, 10.8);
  line(cr, 13.2, 10.8, 13.2, 7.4);
  cairo_stroke(cr);
  cairo_arc(cr, 8.5, 15.5, 2.6, 0, 2 * M_PI);
  cairo_fill(cr);
}

/* An arch with its height and width beside it. */
static void sizes(cairo_t *cr)
{
  cairo_move_to(cr, 9, 15);
  cairo_curve_to(cr, 9.4, 7, 10.6, 4.4, 14, 4.4);
  cairo_curve_to(cr, 17.4, 4.4, 18.6, 7, 19, 15);
  line(cr, 4.6, 4.4, 4.6, 15);
  line(cr, 3, 4.4, 6.2, 4.4);
  line(cr, 3, 15, 6.2, 15);
  line(cr, 9, 19.4, 19, 19.4);
  line(cr, 9, 17.8, 9, 21);
  line(cr, 19, 17.8, 19, 21);
}

/* Walls and roof as dots. */
static void room(cairo_t *cr)
{
  static const double dot[] = {0.01, 3.2};
  cairo_set_dash(cr, dot, 2, 0);
  cairo_set_line_width(cr, 2.2);
  line(cr, 4.5, 20, 7.5, 5);
  cairo_line_to(cr, 16.5, 5);
  cairo_line_to(cr, 19.5, 20);
}

/* A pointed arch on its way out to the best one. */
static void seek(cairo_t *cr)
{
  line(cr, 8, 20, 12, 9.5);
  cairo_line_to(cr, 16, 20);
  cairo_stroke(cr);
  best(cr);
}

/* Sheets above each other. */
static void layers(cairo_t *cr)
{
  for (int i = 0; i < 3; i++) {
    double y = 8 + 4.5 * i;
    if (i == 0) {
      cairo_move_to(cr, 12, y + 5);
      cairo_line_to(cr, 3, y);
      cairo_line_to(cr, 12, y - 5);
      cairo_line_to(cr, 21, y);
      cairo_close_path(cr);
    } else {
      cairo_move_to(cr, 3, y);
      cairo_line_to(cr, 12, y + 5);
      cairo_line_to(cr, 21, y);
    }
  }
}

/* A small piece and the larger one that it shrinks from. */
static void soft(cairo_t *cr)
{
  static const double dash[] = {2.6, 2.2};
  cairo_rectangle(cr, 4, 11, 9, 9);
  cairo_stroke(cr);
  cairo_set_line_cap(cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_dash(cr, dash, 2, 0);
  cairo_rectangle(cr, 4, 4, 16, 16);
}

static void grid(cairo_t *cr)
{
  for (int i = 0; i < 3; i++) {
    double at = 6 + 6 * i;
    line(cr, at, 3.5, at, 20.5);
    line(cr, 3.5, at, 20.5, at);
  }
}

/* The circle in the roof, with its spoke, between two legs. */
static void reading(cairo_t *cr)
{
  line(cr, 4.5, 20.5, 7.6, 9.5);
  line(cr, 19.5, 20.5, 16.4, 9.5);
  cairo_stroke(cr);
  cairo_arc(cr, 12, 8.5, 4.6, 0, 2 * M_PI);
  line(cr, 12, 8.5, 12, 3.9);
}

/* A ring around the spot, and its leader. */
static void hot(cairo_t *cr)
{
  cairo_arc(cr, 9, 15, 5, 0, 2 * M_PI);
  line(cr, 12.6, 11.4, 19.5, 4.5);
  cairo_stroke(cr);
  cairo_arc(cr, 9, 15, 1.8, 0, 2 * M_PI);
  cairo_fill(cr);
}

/* A dotted circle with its cross. */
static void cutter(cairo_t *cr)
{
  static const double dot[] = {2, 2.9};
  line(cr, 9.4, 12, 14.6, 12);
  line(cr, 12, 9.4, 12, 14.6);
  cairo_stroke(cr);
  cairo_set_line_cap(cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_dash(cr, dot, 2, 0);
  cairo_arc(cr, 12, 12, 8, 0, 2 * M_PI);
}

/* An arch, and the one before it in short strokes. */
static void before(cairo_t *cr)
{
  static const double dash[] = {2, 2.4};
  cairo_move_to(cr, 8, 20);
  cairo_curve_to(cr, 8.4, 11, 9.6, 9, 13.5, 9);
  cairo_curve_to(cr, 17.4, 9, 18.6, 11, 19, 20);
  cairo_stroke(cr);
  cairo_set_line_cap(cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_dash(cr, dash, 2, 0);
  cairo_move_to(cr, 4.5, 20);
  cairo_curve_to(cr, 5, 8, 6, 4.4, 10.5, 4.4);
  cairo_curve_to(cr, 13, 4.4, 14, 5.4, 14.8, 7.4);
}

void draw_tool_icon(cairo_t *cr, ToolIcon icon, double size, Rgba colour)
{
  cairo_save(cr);
  cairo_scale(cr, size / 24, size / 24);
  cairo_new_path(cr);
  cairo_set_source_rgba(cr, colour.r, colour.g, colour.b, colour.a);
  cairo_set_line_width(cr, 1.6);
  cairo_set_line_cap(cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_join(cr, CAIRO_LINE_JOIN_ROUND);
  switch (icon) {
  case ICON_PEN:
    pen(cr);
    break;
  case ICON_ERASER:
    eraser(cr);
    break;
  case ICON_SMOOTHING:
    smoothing(cr);
    break;
  case ICON_KNOT:
    knot(cr);
    break;
  case ICON_U:
    cairo_move_to(cr, 6, 20);
    cairo_curve_to(cr, 6.6, 9, 6.6, 4.6, 12, 4.6);
    cairo_curve_to(cr, 17.4, 4.6, 17.4, 9, 18, 20);
    break;
  case ICON_V:
    line(cr, 5.5, 20, 12, 4.6);
    cairo_line_to(cr, 18.5, 20);
    break;
  case ICON_DISC:
    disc(cr);
    break;
  case ICON_GUM:
    gum(cr);
    break;
  case ICON_PHOTO:
    photo(cr);
    break;
  case ICON_COMB:
    comb(cr);
    break;
  case ICON_SHADE:
    shade(cr);
    break;
  case ICON_FLOW:
    flow(cr);
    break;
  case ICON_BEST:
    best(cr);
    break;
  case ICON_BRUSH:
    brush(cr);
    break;
  case ICON_MEASURE:
    measure(cr);
    break;
  case ICON_SNAP:
    snap(cr);
    break;
  case ICON_SIZES:
    sizes(cr);
    break;
  case ICON_ROOM:
    room(cr);
    break;
  case ICON_SEEK:
    seek(cr);
    break;
  case ICON_LAYERS:
    layers(cr);
    break;
  case ICON_SOFT:
    soft(cr);
    break;
  case ICON_GRID:
    grid(cr);
    break;
  case ICON_READING:
    reading(cr);
    break;
  case ICON_HOT:
    hot(cr);
    break;
  case ICON_CUTTER:
    cutter(cr);
    break;
  case ICON_BEFORE:
    before(cr);
    break;
  case ICON_WALK:
    walk(cr);
    break;
  case ICON_N:
  default:
    break;
  }
  cairo_stroke(cr);
  cairo_restore(cr);
}

void draw_tool_icon_in(cairo_t *cr, ToolIcon icon, int width, int height, Rgba colour)
{
  double size = 24 * fmax(1, fmin(width, height) / 44.0);
  cairo_save(cr);
  cairo_translate(cr, (width - size) / 2, (height - size) / 2);
  draw_tool_icon(cr, icon, size, colour);
  cairo_restore(cr);
}
