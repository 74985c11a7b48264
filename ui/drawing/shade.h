/* shade.h - stress of a sheet as a picture: shaded pixels with hatch and edge line over the limit.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Pixels are premultiplied ARGB32, native endian (cairo, GdkMemoryTexture on little endian
 * B8G8R8A8).  A pixel is drawn when its centre lies in a triangle; shared edges belong to exactly
 * one side, so there are no cracks and no double cover.  Values are interpolated linearly in each
 * triangle.  No memory is allocated by shade_raster. */
#pragma once
#include "mechanics/field.h"
#include "ui/drawing/context.h"
#include <cairo.h>

typedef struct {
  uint32_t *pixel;
  int width, height, stride; /* stride in pixels */
} PixelGrid;

typedef struct {
  Palette palette;
  double limit_mpa; /* step 6 of the scale; > 0, else everything is unstressed */
  double hatch_px;  /* pitch of the hatch; 0 = none. Lines are 1.7/9 of it, at least 0.6 px, at 45
                       degrees */
  double edge_px;   /* edge line where the limit is passed; 0 = none           */
} ShadeStyle;

/* As the look asks on a screen: pitch 9, edge 1.2, times `scale`. */
ShadeStyle shade_style(Palette palette, double limit_mpa, double scale);

/* Draws into the grid, on top of what is there.
 *   view   in  mm to pixels of the grid (a half resolution grid has half the scale)
 *   value  in  n_vertex stresses, MPa (field_shade); triangles with a NaN are left out */
void shade_raster(const PixelGrid *grid, View view, const FieldSheet *sheet, const float value[],
                  const ShadeStyle *style);

/* An image surface of width x height px with `resolution` pixels a px (0.5, 1, 2), in the colour of
 * unstressed material: clip it to the body, then neither chords of the mesh nor paper show a
 * fringe.  NULL without memory. */
cairo_surface_t *shade_surface_plain(int width, int height, double resolution, Palette palette);
/* A sheet drawn onto it; the view is in px. */
void shade_onto(cairo_surface_t *surface, View view, const FieldSheet *sheet, const float value[],
                const ShadeStyle *style);
/* Both in one; the device scale is set, so it is painted at (0, 0) without scaling. */
cairo_surface_t *shade_surface(int width, int height, double resolution, View view,
                               const FieldSheet *sheet, const float value[],
                               const ShadeStyle *style);

/* A sheet with the stress of one load: what the worker makes and the pictures share.  Immutable. */
typedef struct {
  Field *field; /* owned ref */
  const FieldSheet *sheet;
  float *value, *angle;
  float *balance; /* first + third principal stress: changes sign where squeeze turns to stretch,
                     without a jump */
} Shaded;
MUST_CHECK Fault shaded_new(Field *field, SheetKind kind, NeckLoad load, Shaded **shaded);
void shaded_free(Shaded *shaded); /* accepts NULL */
