/* brush_size.h - sizes of brushes for the gap between teeth, by passage hole diameter (ISO 16409).
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  Passage holes come in steps of 0.1.  From memory, but for size 1 (core/SOURCES.md "limits").
 */
#pragma once

#define BRUSH_SIZE_NONE (-1)

typedef struct {
  int size;       /* 0 .. 7; BRUSH_SIZE_NONE: no brush passes */
  double passage; /* largest passage hole that passes; NaN without */
} BrushSize;

/* The largest brush that passes a round gap; 0 or NaN: none. */
BrushSize brush_size_through(double gap_mm);
