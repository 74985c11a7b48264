/* canvas_remarks.h - the supervisor's remarks on the drawing: numbered drops, words beside them.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/canvas/canvas_private.h"

/* Those of the connector in view that are not settled. */
/* A pin tells its words under the pointer, also where there was no room to write them. */
void canvas_remarks_attach(SoffitCanvas *canvas);
void canvas_remarks_draw(SoffitCanvas *canvas, GtkSnapshot *snapshot, int width, int height);
