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
  GtkWidget *row;         /* owned child */
  SoffitPhotoDesk *photo; /* owned */
  gint64 stroke_start;    /* us */
  double zoom_start;      /* scale when two fingers came down */
  Point pan_from;         /* px */
  bool panning;
  Box size_box[SIZE_KINDS];               /* labels of sizes on the picture; 0 x 0: not shown */
  Places taken;                           /* by words and loupe */
  Point menu_at;                          /* mm, where the menu was asked for */
  int card_width, card_height, card_edge; /* px, see canvas_set_card */
};

void canvas_invalidate(SoffitCanvas *canvas);
void canvas_zoom(SoffitCanvas *canvas, double factor, Point about_px);
void canvas_pan(SoffitCanvas *canvas, double dx, double dy);
void canvas_fit(SoffitCanvas *canvas);
void canvas_hand_attach(SoffitCanvas *canvas); /* mouse, pen, fingers, wheel */
void canvas_keys_attach(SoffitCanvas *canvas);
void canvas_pointer_attach(SoffitCanvas *canvas); /* what comes before the tools */
/* Asks for an exact size, beside its label. */
void canvas_type_size(SoffitCanvas *canvas, SizeKind kind);
/* What lies over the drawing: tool row, card; 0 x 0: nothing. */
void canvas_covered(SoffitCanvas *canvas, int width, Box over[2]);
void canvas_menu_install(GtkWidgetClass *class);
void canvas_menu_show(SoffitCanvas *canvas, Point at_px);
void canvas_marks_draw(SoffitCanvas *canvas, GtkSnapshot *snapshot, int width, int height);
