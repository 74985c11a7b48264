/* picture_lines.h - the lines of a drawing that was opened, numbered, those with a part named.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, y up. */
#pragma once
#include "ui/drawing/text.h"

typedef struct {
  const Outline *const *line; /* borrowed, n                                        */
  const char *const *part;    /* borrowed, n: "gum side", translated; NULL = no part */
  size_t n;
} LinesPicture;

void picture_lines(cairo_t *cr, int width, int height, const DrawContext *context,
                   const LinesPicture *picture);
