/* depth_raster.h - the skin of a connector turned in space and drawn with a depth buffer.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm and px.  Parallel projection; the eye carries the light, so that a face is the darker the more
 * it turns away, by little: the scale of stress stays readable. */
#pragma once
#include "ui/drawing/shade.h"

/* Where the eye stands: at turn = tilt = 0 it looks at the cheek side, as the elevation does. */
typedef struct {
  double turn;  /* rad about the upright axis, > 0: the right end comes nearer */
  double tilt;  /* rad, -pi/2 .. pi/2; < 0: from below, the gum side shows     */
  double scale; /* px per mm                                                   */
  Point centre; /* px                                                          */
  Vec3 about;   /* mm: the place that stays in the centre                      */
} DepthView;

typedef struct {
  Point px;
  double near; /* mm towards the eye */
} DepthPlace;
DepthPlace depth_place(const DepthView *view, Vec3 at);

typedef struct {
  cairo_surface_t *surface; /* owned; transparent beside the body                      */
  float *near;              /* owned: mm towards the eye, a pixel; -INFINITY: nothing    */
  int width, height;        /* pixels                                                  */
  double resolution;        /* pixels a px                                             */
} DepthRaster;

/* width, height in px.  shaded: of SHEET_SKIN.  FAULT_DEGENERATE for a sheet without skin. */
MUST_CHECK Fault depth_raster_new(int width, int height, double resolution, const DepthView *view,
                                  const Shaded *shaded, const ShadeStyle *style,
                                  DepthRaster *raster);
void depth_raster_clear(DepthRaster *raster);
/* Whether nothing lies in front of a place of the surface. */
bool depth_raster_sees(const DepthRaster *raster, DepthPlace place);
