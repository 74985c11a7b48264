/* photo_layer.h - the photo on the drawing: picture, marks, keys, dropped and pasted files.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/canvas/canvas_private.h"

void photo_layer_attach(SoffitCanvas *canvas); /* the desk, its signals, drop and paste */
void photo_layer_detach(SoffitCanvas *canvas);
void photo_layer_picture(SoffitCanvas *canvas, ConnectorPicture *picture);
/* Marks in hand, above everything. */
void photo_layer_marks(SoffitCanvas *canvas, GtkSnapshot *snapshot, int width, int height);
/* Keys of the photo tool, and Shift+F for everybody; false: not its key. */
bool photo_layer_key(SoffitCanvas *canvas, guint key, bool shift);
