/* canvas.h - the drawing of the current connector, and the hand on it.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Ink appears in the frame of the event; the shade comes from a worker when it is ready. */
#pragma once
#include "ui/canvas/tool.h"

#define SOFFIT_TYPE_CANVAS (canvas_get_type())
G_DECLARE_FINAL_TYPE(SoffitCanvas, canvas, SOFFIT, CANVAS, GtkWidget)

GtkWidget *soffit_canvas_new(SoffitSession *session);

/* For the tool row. */
const Tool *canvas_tool(SoffitCanvas *canvas);
void canvas_set_tool(SoffitCanvas *canvas, const Tool *tool); /* a starter acts at once and is not kept */
unsigned canvas_layers(SoffitCanvas *canvas);
void canvas_toggle_layer(SoffitCanvas *canvas, unsigned layer);
