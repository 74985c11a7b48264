/* canvas_note.h - the words on the drawing: what went wrong where, and what the hand just set.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/canvas/canvas_private.h"

void canvas_note_draw(SoffitCanvas *canvas, GtkSnapshot *snapshot, int width, int height);
/* Shown for a moment above the tool row, and spoken; takes the text. */
void canvas_note_say(SoffitCanvas *canvas, char *text);
