/* qr_code.h - a text as a square code (ISO/IEC 18004) that a telephone or a reader takes in.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <cairo.h>
#include <stdbool.h>

/* Filled squares, black whatever the theme, in a box of `size` with its quiet zone of four squares
 * on white.  Error correction M: 15 of 100 may be lost.
 *   text  in  UTF-8, at most 2000 bytes
 * False, and nothing drawn, when it does not fit or memory is short. */
bool draw_qr_code(cairo_t *cr, double x, double y, double size, const char *text);
