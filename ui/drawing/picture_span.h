/* picture_span.h - the whole bridge: silhouette, shade at the load shown, load handle, moment
 * curve, doors. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm along the span from the far end of the first unit; px of the picture. */
#pragma once
#include "assess.h"
#include "ui/drawing/flat_bridge.h"
#include "ui/drawing/shade.h"
#include "ui/drawing/text.h"

typedef struct {
  const Assessment *a;
  size_t chosen; /* connector in the drawing below; SIZE_MAX: none                           */
  bool at_order; /* order's load at the worst place of the weakest; no handle, no curve      */
  bool handle;   /* the load can be dragged (window) or is an arrow only (paper)             */
  bool doors;    /* draws name and verdict of each connector (paper); windows lay buttons there */
  double door_width; /* screen px; 92                                                            */
  double below;      /* screen px kept free below the curve for the doors; 52                    */
  const FlatBridge *flat; /* its stress, shown already; NULL: bare bodies                       */
  cairo_surface_t *shade; /* span_shade() of the same size; NULL: rastered for this call         */
  bool old;               /* the shade is one of before: faint                                  */
} SpanPicture;

SpanPicture span_picture(const Assessment *a);

/* Where things are, for drawing and for the hand. */
typedef struct {
  View view;
  double track_y;        /* of the load handle                   */
  Point handle, tip;     /* middle of the ring; where the arrow ends */
  double load_x, load_n; /* mm, N                                */
  size_t n_neck;
  double neck_x[SPAN_MAX_UNITS - 1]; /* px                                   */
  double door_x[SPAN_MAX_UNITS - 1]; /* px, middle of the door               */
  double door_y, door_height;        /* px, upper edge                       */
  double curve_y, curve_scale;       /* zero line; px per N mm, downward     */
  double left, right;                /* px: ends of the span                 */
} SpanGeometry;

SpanGeometry span_geometry(const SpanPicture *picture, int width, int height,
                           const DrawContext *context);
double span_geometry_mm(const SpanGeometry *geometry, double x_px); /* limited to the span */
bool span_geometry_on_handle(const SpanGeometry *geometry, Point px, double reach_px);
/* On the moment curve; a moment that is no number lies on its zero line. */
Point span_geometry_curve(const SpanGeometry *geometry, double x_mm, double moment);
/* Where the figure of each neck stands: beside the neck, on the side where the curve lies higher,
 * below it and clear of it, of the doors and of one another.  wide: px of each, n_neck; value: as
 * many; width 0: there is no room. */
void span_geometry_values(const SpanGeometry *geometry, const Assessment *a,
                          const DrawContext *context, int width, const double wide[], Box value[]);
/* Connector whose column holds px (half way to the next neck); SIZE_MAX above the bridge or without
 * necks. */
size_t span_geometry_neck(const SpanGeometry *geometry, Point px);

/* The stress of the whole bridge in one image surface, for a worker; NULL without memory. */
cairo_surface_t *span_shade(const SpanPicture *picture, int width, int height,
                            const DrawContext *context);
void picture_span(cairo_t *cr, int width, int height, const DrawContext *context,
                  const SpanPicture *picture);
