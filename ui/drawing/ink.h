/* ink.h - the strokes that all pictures share: colours, outlines as paths, plates, dashes, dots.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * px; measures are those of a screen and are multiplied by the context's scale here, once. */
#pragma once
#include "outline/outline.h"
#include "ui/drawing/context.h"
#include "ui/drawing/contour.h"
#include <cairo.h>

typedef struct {
  double x, y, width, height;
} Box;

static inline double px(const DrawContext *context, double measure)
{
  return measure * context->scale;
}

void ink_colour(cairo_t *cr, Rgba colour);
void ink_use(cairo_t *cr, const DrawContext *context, Colour colour);
void ink_width(cairo_t *cr, const DrawContext *context,
               double width_px); /* round joins and ends, no dash */
/* Dash pattern in screen px, ended by 0. */
void ink_dash(cairo_t *cr, const DrawContext *context, const double pattern[]);
/* Strokes the path that is set on a halo of paper, so that it shows on any shade and photo; dash
 * NULL: solid. */
void ink_stroke_haloed(cairo_t *cr, const DrawContext *context, Rgba colour, double width_px,
                       const double dash[]);
extern const double DASH_GHOST[], DASH_NECK[], DOT_CUTTER[], DOT_ROOM[], DOT_ZERO[], DASH_DIE[],
    DOT_TRACK[], DASH_BEFORE[];

/* Paths; they neither stroke nor fill. */
void path_outline(cairo_t *cr, View view, const Outline *outline);
void path_outline_on(cairo_t *cr, View view, const Outline *outline,
                     bool back); /* joined to what is there */
void path_lines(cairo_t *cr, View view, const LineSet *lines);
void path_circle(cairo_t *cr, Point centre, double radius);
void path_box(cairo_t *cr, Box box, double radius);

/* A plate: card ground, border of the given colour and width. */
void draw_plate(cairo_t *cr, const DrawContext *context, Box box, Rgba border, double width_px);
void draw_line(cairo_t *cr, Point a, Point b);
void draw_dimension(cairo_t *cr, const DrawContext *context, Point a,
                    Point b); /* thin, with ticks */
/* The gum line at height y from x0 to x1 with its engraved, left-leaning strokes. */
void draw_gum_line(cairo_t *cr, const DrawContext *context, double x0, double x1, double y);
/* Fills the path that is set, which is consumed, with an image surface at (0, 0); NULL: nothing. */
void fill_with(cairo_t *cr, cairo_surface_t *surface);

/* Places for labels. */
#define PLACES_MAX 64
typedef struct {
  Box bounds;
  Box taken[PLACES_MAX];
  size_t n;
} Places;
void places_init(Places *places, Box bounds);
void places_take(Places *places, Box box);
/* The first candidate that is in bounds and touches nothing; it is taken.  Returns its index, or
 * -1. */
int places_find(Places *places, const Box candidate[], size_t n);
