/* picture_plan.h - the connector from the gum side: mesio-distal across, cheek above, tongue below.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "assess.h"
#include "ui/drawing/shade.h"
#include "ui/drawing/text.h"

/*   shaded  in  SHEET_GUM_SIDE of the load shown (shaded_new); NULL: made for this call
 *   advice  in  ghost of a plan outline (ADVICE_WIDEN), or NULL */
void picture_plan(cairo_t *cr, int width, int height, const DrawContext *context,
                  const Assessment *a, size_t connector, bool at_order, const Shaded *shaded,
                  const Advice *advice);

/* Parts of it, for the plan that is shaped by hand. */
/* The body between both outlines and its edges.
 *   shade  in  plan_shade() of this view; NULL: none
 *   alpha  in  of the shade; below 1 where the answer is older than the outlines */
void plan_body(cairo_t *cr, const DrawContext *context, View view, const Connector *c,
               cairo_surface_t *shade, double alpha);
cairo_surface_t *plan_shade(int width, int height, const DrawContext *context, View view,
                            const Shaded *shaded, double limit);
/* The width at the neck, its figure at the right edge of the picture. */
void plan_width(cairo_t *cr, const DrawContext *context, View view, const Connector *c,
                double neck_x, double neck_width, double right);
