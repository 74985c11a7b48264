/* signs.h - own signs: the arch of a verdict (whole, propped, parted) and the icons of the tool
 * row. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Drawn into the square (0, 0) .. (size, size); paths only, sharp at any size. */
#pragma once
#include "ui/drawing/palette.h"
#include <cairo.h>

/* Reads at 15 px and without colour.  VERDICT_NONE: a dash. */
void draw_verdict(cairo_t *cr, Verdict verdict, double size, Rgba colour);

typedef enum {
  ICON_PEN,
  ICON_ERASER,
  ICON_SMOOTHING,
  ICON_KNOT,
  ICON_U,
  ICON_V,
  ICON_DISC,
  ICON_GUM,
  ICON_PHOTO,
  ICON_COMB,
  ICON_SHADE,
  ICON_FLOW,
  ICON_BEST,
  ICON_BRUSH,
  ICON_MEASURE,
  ICON_SNAP,
  ICON_SIZES,
  ICON_ROOM,
  ICON_SEEK,
  ICON_LAYERS,
  ICON_SOFT,
  ICON_GRID,
  ICON_READING,
  ICON_HOT,
  ICON_CUTTER,
  ICON_BEFORE,
  ICON_WALK,
  ICON_N
} ToolIcon;
void draw_tool_icon(cairo_t *cr, ToolIcon icon, double size, Rgba colour);
/* In the middle of a place of this size: 24 px, more in a button of more than 44. */
void draw_tool_icon_in(cairo_t *cr, ToolIcon icon, int width, int height, Rgba colour);
