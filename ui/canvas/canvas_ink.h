/* canvas_ink.h - the raw ink under the pen, its band, and how it gives way to the fitted line.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * px.  Ink is shown as it comes, unsmoothed.  Each report of the pen is rastered once: finished
 * pieces stay as render nodes, only the newest piece is made anew in a frame.  After the pen lifts
 * the ink stays above the fitted line and fades within INK_BLEND_MS; at once where the desktop asks
 * for less motion. */
#pragma once
#include "ui/canvas/tool.h"

#define INK_BLEND_MS 160

typedef struct CanvasInk CanvasInk;
CanvasInk *canvas_ink_new(void);
void canvas_ink_free(CanvasInk *ink); /* accepts NULL */

/* Takes what the hand drew since; a new stroke begins when the hand has fewer points than before.
 *   band_px  half width of the band around the ink, 0 = none */
void canvas_ink_follow(CanvasInk *ink, const Hand *hand, const DrawContext *context,
                       double band_px);
void canvas_ink_lift(CanvasInk *ink, gint64 now_us, bool motion); /* the pen left the drawing  */
void canvas_ink_drop(CanvasInk *ink);                             /* gone at once: cancelled   */
bool canvas_ink_blending(CanvasInk *ink, gint64 now_us);          /* frames are still needed   */
/* 1 while the pen draws, falling to 0 after it lifted; 0 without ink. */
double canvas_ink_strength(CanvasInk *ink, gint64 now_us);
/* Pieces rastered so far in this stroke, for tests: about one a frame and never all again. */
size_t canvas_ink_rastered(const CanvasInk *ink);
void canvas_ink_snapshot(CanvasInk *ink, GtkSnapshot *snapshot, gint64 now_us);
