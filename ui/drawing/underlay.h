/* underlay.h - a photo below the drawing: made straight by a worker, drawn under grid and outline.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Making one costs some ten ms and belongs in a thread; drawing it costs a copy.  Both immutable
 * and counted: any thread may hold them. */
#pragma once
#include "outline/edge_cling.h"
#include "outline/plane_map.h"
#include "ui/drawing/context.h"
#include <cairo.h>

/* A decoded photo, upright, perhaps smaller than its file says. */
typedef struct {
  unsigned char *rgb; /* 3 bytes a pixel, rows from the top, no gaps; owned */
  int width, height;
  double full_width, full_height; /* px of the file: the unit of all marks */
} PhotoPixels;
PhotoPixels *photo_pixels_new(int width, int height); /* black; NULL without memory */
PhotoPixels *photo_pixels_ref(PhotoPixels *pixels);
void photo_pixels_unref(PhotoPixels *pixels); /* accepts NULL */
/* Half as large, four pixels into one; NULL without memory. */
PhotoPixels *photo_pixels_halved(const PhotoPixels *pixels);

/* The straightened photo over a box of the drawing. */
typedef struct {
  cairo_surface_t *surface; /* owned; transparent where there is no photo */
  GreyPicture grey;         /* the same, owned; NaN where there is no photo */
  double px_mm;             /* pixels a mm */
  Point corner;             /* mm of its upper left corner */
} Underlay;
/* px_to_mm  in  of the full photo
 * px_mm     in  wanted; lowered where the picture would be larger than UNDERLAY_PX_MOST
 * FAULT_RANGE when nothing of the photo lies on the drawing. */
#define UNDERLAY_PX_MOST 6e6
MUST_CHECK Fault underlay_new(const PhotoPixels *pixels, const PlaneMap *px_to_mm, double px_mm,
                              Underlay **underlay);
Underlay *underlay_ref(Underlay *underlay);
void underlay_unref(Underlay *underlay); /* accepts NULL */

void underlay_draw(cairo_t *cr, View view, const Underlay *underlay, double opacity);
/* A stroke in mm clings to the photo's edges within `reach_mm`; FAULT_RANGE beyond what
 * stroke_cling allows. */
MUST_CHECK Fault underlay_cling(const Underlay *underlay, const Point mm[], size_t n,
                                double reach_mm, Point clung[]);
