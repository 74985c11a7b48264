/* canvas.h - the drawing of the current connector, and the hand on it.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Ink appears in the frame of the event; the shade comes from a worker when it is ready. */
#pragma once
#include "ui/canvas/tool.h"

#define SOFFIT_TYPE_CANVAS (canvas_get_type())
G_DECLARE_FINAL_TYPE(SoffitCanvas, canvas, SOFFIT, CANVAS, GtkWidget)

GtkWidget *soffit_canvas_new(SoffitSession *session);

/* Folded window: plates lie on the drawing, the tool row is narrow and stands `edge` px from the
 * left.  0: open, the row in the middle.  room: px, for the row beside the key of the shade. */
void canvas_fold(SoffitCanvas *canvas, int edge, int room);
/* Where plates lie on the drawing, px; 0 x 0: none.  Words keep out of their way. */
#define CANVAS_PLATES 2
void canvas_set_plates(SoffitCanvas *canvas, const Box plate[CANVAS_PLATES]);

/* A sketch of a crack over the picture, up to a share 0 .. 1 of its way, and what it is; NULL:
 * none. */
typedef struct CrackWay CrackWay; /* ui/drawing/picture_crack.h */
void canvas_set_crack(SoffitCanvas *canvas, const CrackWay *way, double share);

/* A drawing to practise on: no ghost that nobody asked for, no tool that finds the best. */
void canvas_set_school(SoffitCanvas *canvas, bool school);
/* Takes a remark's pin into the hand; false: there is nothing to pin it to, or one is in the hand
 * already (ui/canvas/canvas_pin.h). */
bool canvas_pin_begin(SoffitCanvas *canvas);
void canvas_pin_drop(SoffitCanvas *canvas);
/* For the tool row. */
const Tool *canvas_tool(SoffitCanvas *canvas);
void canvas_set_tool(SoffitCanvas *canvas,
                     const Tool *tool); /* a starter acts at once and is not kept */
/* How far a stroke may be smoothed, 0 .. 0.5 mm, held inside; kept and told. */
double canvas_smoothing(SoffitCanvas *canvas);
void canvas_set_smoothing(SoffitCanvas *canvas, double mm);
unsigned canvas_layers(SoffitCanvas *canvas);
typedef struct _Overlay Overlay; /* ui/canvas/overlays.h */
/* Shows or hides it, kept and told. */
void canvas_toggle_overlay(SoffitCanvas *canvas, const Overlay *overlay);
SoffitPhotoDesk *canvas_photo(SoffitCanvas *canvas); /* borrowed */
