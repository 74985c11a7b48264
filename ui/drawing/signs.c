/* signs.c - the three arches.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/signs.h"
#include <math.h>

/* An arch with legs between two radii, in the unit square. */
static void arch(cairo_t *cr, double outer, double inner)
{
  double y = 0.08 + outer;
  cairo_new_sub_path(cr);
  cairo_move_to(cr, 0.5 - outer, 0.92);
  cairo_arc(cr, 0.5, y, outer, M_PI, 2 * M_PI);
  cairo_line_to(cr, 0.5 + outer, 0.92);
  cairo_line_to(cr, 0.5 + inner, 0.92);
  cairo_arc_negative(cr, 0.5, y, inner, 2 * M_PI, M_PI);
  cairo_line_to(cr, 0.5 - inner, 0.92);
  cairo_close_path(cr);
}

static void bar(cairo_t *cr, double x0, double y0, double x1, double y1)
{
  cairo_rectangle(cr, x0, y0, x1 - x0, y1 - y0);
}

/* Half of a broken arch, leaning outward about its foot; side -1 left, +1 right. */
static void broken_half(cairo_t *cr, int side)
{
  const double outer = 0.40, inner = 0.14, y = 0.50;
  cairo_save(cr);
  cairo_translate(cr, 0.5 + side * 0.28, 0.92);
  cairo_rotate(cr, side * 0.055);
  cairo_translate(cr, -0.5 - side * 0.28, -0.92);
  cairo_translate(cr, side * 0.045, 0);
  cairo_new_sub_path(cr);
  if (side < 0) {
    cairo_move_to(cr, 0.5 - outer, 0.92);
    cairo_arc(cr, 0.5, y, outer, M_PI, M_PI * 1.42);
    cairo_line_to(cr, 0.495, 0.20);
    cairo_line_to(cr, 0.40, 0.245);
    cairo_line_to(cr, 0.475, 0.33);
    cairo_arc_negative(cr, 0.5, y, inner, M_PI * 1.42, M_PI);
    cairo_line_to(cr, 0.5 - inner, 0.92);
  } else {
    cairo_move_to(cr, 0.5 + outer, 0.92);
    cairo_arc_negative(cr, 0.5, y, outer, 2 * M_PI, M_PI * 1.47);
    cairo_line_to(cr, 0.575, 0.185);
    cairo_line_to(cr, 0.49, 0.235);
    cairo_line_to(cr, 0.56, 0.315);
    cairo_line_to(cr, 0.535, 0.37);
    cairo_arc(cr, 0.5, y, inner, M_PI * 1.62, 2 * M_PI);
    cairo_line_to(cr, 0.5 + inner, 0.92);
  }
  cairo_close_path(cr);
  cairo_restore(cr);
}

void draw_verdict(cairo_t *cr, Verdict verdict, double size, Rgba colour)
{
  cairo_save(cr);
  cairo_scale(cr, size, size);
  cairo_new_path(cr);
  cairo_set_source_rgba(cr, colour.r, colour.g, colour.b, colour.a);
  switch (verdict) {
  case VERDICT_HOLDS:
    arch(cr, 0.40, 0.16);
    break;
  case VERDICT_CLOSE:
    arch(cr, 0.42, 0.31);
    cairo_fill(cr);
    bar(cr, 0.27, 0.36, 0.73, 0.46);
    bar(cr, 0.445, 0.40, 0.555, 0.92);
    bar(cr, 0.34, 0.83, 0.66, 0.92);
    break;
  case VERDICT_REWORK:
    broken_half(cr, -1);
    broken_half(cr, 1);
    break;
  case VERDICT_NONE:
  default:
    bar(cr, 0.25, 0.46, 0.75, 0.54);
  }
  cairo_fill(cr);
  cairo_restore(cr);
}
