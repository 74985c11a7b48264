/* gauges.h - measuring aids on the drawing: brush, cutter, largest room, load handle, knots.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * px.  Solid is, dots are an aid, dashes could be. */
#pragma once
#include "ui/drawing/ink.h"

void draw_brush(cairo_t *cr, const DrawContext *context, Point centre,
                double radius); /* ring with 16 bristles */
void draw_cutter(cairo_t *cr, const DrawContext *context, Point centre,
                 double radius); /* dotted ring, cross   */
void draw_room(cairo_t *cr, const DrawContext *context, Point centre,
               double radius); /* dotted, dim          */
/* The ring that is dragged along the biting edge, 12 px radius, and its arrow down to `tip`. */
void draw_load_handle(cairo_t *cr, const DrawContext *context, Point centre, Point tip,
                      bool movable);
#define LOAD_HANDLE_RADIUS 12.0                                                 /* screen px */
void draw_knot(cairo_t *cr, const DrawContext *context, Point at, bool chosen); /* 9 px square */
/* What a cutter of diameter d (mm, sizes after firing) leaves in the embrasure below `gingival`:
 * engraved. */
void draw_cutter_rest(cairo_t *cr, const DrawContext *context, View view, const Outline *gingival,
                      Point roof, double foot_low, double diameter);
