/* remark_pins.h - remarks pinned to a sketch: numbered drops that hang below their place, and their
 * words. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * px.  The tip of a drop is the place; the hot spot above it stays free. */
#pragma once
#include "ui/drawing/text.h"

#define PIN_REACH_PX 16.0 /* of a hand, around the middle of the drop */

/* strong: filled with the accent, else on a card. */
void draw_pin(cairo_t *cr, const DrawContext *context, Point tip, unsigned number, bool strong);
Point pin_middle(const DrawContext *context, Point tip);
bool pin_hit(const DrawContext *context, Point tip, Point px);
/* "2 · RT: round it to 0.75"; owned. */
char *pin_words(unsigned number, const char *initials, const char *text);
/* Words on a plate beside the drop, led to it, where there is room; false: there is none.
 *   head  in  small first line; NULL: none */
bool draw_pin_words(cairo_t *cr, const DrawContext *context, Places *places, Point tip,
                    const char *head, const char *words);
