/* canvas_private.h - what canvas.c and canvas_hand.c share.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/canvas/canvas.h"
#include "ui/canvas/shade_job.h"

struct _SoffitCanvas {
  GtkWidget parent;
  SoffitSession *session; /* owned ref */
  Hand hand;
  const Tool *tool;
  unsigned layers;
  bool fitted;            /* the view belongs to this neck and size */
  ShadeJob *job;          /* owned */
  ShadeAnswer *answer;    /* owned; newest */
  GskRenderNode *picture; /* owned; NULL = to be drawn */
  GtkWidget *row, *best;  /* owned children: tools, slider of the best outline */
  gint64 stroke_start;    /* us */
  double zoom_start;      /* scale when two fingers came down */
  Point pan_from;         /* px */
  bool panning;
  int card_width, card_height, card_edge; /* px, see canvas_set_card */
};

void canvas_invalidate(SoffitCanvas *canvas);
void canvas_zoom(SoffitCanvas *canvas, double factor, Point about_px);
void canvas_pan(SoffitCanvas *canvas, double dx, double dy);
void canvas_fit(SoffitCanvas *canvas);
/* The drawing grows to the soft piece and shrinks back; the geometry stays that of the fired one.
 * False, with words, when the enlargement is not recorded. */
bool canvas_soft(SoffitCanvas *canvas, bool soft);
void canvas_hand_attach(SoffitCanvas *canvas); /* mouse, pen, fingers, wheel */
