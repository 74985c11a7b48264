/* paper.h - a case on paper: bridge, one page a connector, finishing list with boxes.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Points (1/72 inch).  Pages are drawn one after the other onto the same cairo_t, each ended by
 * cairo_show_page(): any paged surface will do. */
#pragma once
#include "assess.h"
#include "ui/drawing/text.h"

typedef struct {
  cairo_t *cr;
  const DrawContext *context; /* light palette; scale 0.66 gives 8.6 pt notes and 10 pt text */
  const Assessment *a;
  const char *time;     /* as shown to the reader */
  double width, height; /* of a page */
  double y;             /* where the next thing goes */
  int page, pages;      /* shown in the foot; pages = 0: not known yet */
  bool counting;        /* lays out without drawing pictures */
} Paper;

#define PAPER_A4_WIDTH 595.276
#define PAPER_A4_HEIGHT 841.89
#define PAPER_SCALE 0.66
#define PAPER_MARGIN 45.0
#define PAPER_FOOT 62.0 /* lowest place for content, above the bottom */

/* All pages; returns their number. */
int paper_draw(cairo_t *cr, const DrawContext *context, const Assessment *a, const char *time,
               int pages, bool counting);
