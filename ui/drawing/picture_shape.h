/* picture_shape.h - a section or a plan to shape: its size, its edge, its points.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "casefile/case.h"
#include "mechanics/section_shape.h"
#include "ui/drawing/context.h"
#include <cairo.h>

/*   points  in  whether the knots are shown, the one at `knot` as chosen (SIZE_MAX: none) */
void section_picture(cairo_t *cr, const DrawContext *context, View view, NeckHalves neck,
                     const Outline *section, bool points, size_t knot);

typedef struct {
  const Connector *drawn;    /* outlines to show                                             */
  cairo_surface_t *shade;    /* plan_shade() of this view; NULL: no stress is known here     */
  bool late;                 /* the shade is older than the outlines: at half strength       */
  bool unshaded;             /* there is an answer, but not for this face                    */
  double neck_x, neck_width; /* NaN: not known */
  int tooth[2];              /* left, right */
  size_t knot[2];   /* chosen knot of the cheek side, of the tongue side; SIZE_MAX: none     */
  double trouble_x; /* where something is wrong; NaN: nowhere                               */
} PlanShape;

/* Both outlines from end to end, cheek above. */
View plan_shape_view(int width, int height, const DrawContext *context, const Connector *c);
void plan_shape_picture(cairo_t *cr, int width, int height, const DrawContext *context, View view,
                        const PlanShape *plan);
