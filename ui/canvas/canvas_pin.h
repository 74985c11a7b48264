/* canvas_pin.h - a remark's pin in the hand: put to a place of the drawing, then its words.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Also on a case that another has open: what is pinned goes straight into its file. */
#pragma once
#include "ui/canvas/canvas_private.h"

/* A press or Enter puts it there and asks for its words, arrows move it, Escape puts it away. */
bool canvas_pin_key(SoffitCanvas *canvas, guint key, GdkModifierType state); /* true: taken */
bool canvas_pin_press(SoffitCanvas *canvas, Point at);                       /* mm; true: taken */
bool canvas_pin_at(SoffitCanvas *canvas, Point *at); /* mm; false: none is in the hand */
