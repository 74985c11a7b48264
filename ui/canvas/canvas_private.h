/* canvas_private.h - what the files of the canvas share; tests give reports of a pen by it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/canvas/canvas.h"
#include "ui/canvas/canvas_ink.h"
#include "ui/canvas/palm.h"
#include "ui/canvas/shade_job.h"
#include "ui/drawing/picture_crack.h"

struct _SoffitCanvas {
  GtkWidget parent;
  SoffitSession *session; /* owned ref */
  Hand hand;
  const Tool *tool;
  bool school; /* canvas_set_school */
  unsigned layers;
  bool fitted;            /* the view belongs to this neck and size */
  ShadeJob *job;          /* owned */
  ShadeAnswer *answer;    /* owned; newest */
  GskRenderNode *picture; /* owned; NULL = to be drawn */
  View picture_view;      /* that it was drawn for */
  GskRenderNode *line;    /* owned: what moves under the hand; NULL = to be drawn */
  CanvasInk *ink;         /* owned */
  guint settle;           /* source: the view still moves */
  const Tool *acting;     /* of the stroke at hand; the pen's other end is the eraser */
  bool by_finger;         /* the stroke at hand */
  PalmGuard palm;
  int fingers;     /* on the drawing */
  bool pinching;   /* two of them move the view: none draws until all are gone */
  Point pinch_at;  /* px, middle of both */
  guint kinetic;   /* tick callback: the view glides on */
  Point glide;     /* px a second */
  gint64 glide_us; /* last step */
  char *note;      /* owned: what the hand just set, beside the tool row; NULL = nothing */
  guint note_end;  /* source */
  GtkWidget *row, *best, *marks, *walk; /* owned children: tools, slider of the best outline, what a
                                           screen reader finds, the place of the walk */
  guint marks_ask;                      /* source */
  int width, height;                    /* px, that the view was fitted to */
  SoffitPhotoDesk *photo;               /* owned */
  gint64 stroke_start;                  /* us */
  double zoom_start;                    /* scale when two fingers came down */
  Point pan_from;                       /* px */
  Point pointer; /* px, where it was last: a turn of a wheel has no place of its own */
  bool panning;
  Box size_box[SIZE_KINDS]; /* labels of sizes on the picture; 0 x 0: not shown */
  Places taken;             /* by words and loupe */
  Box told;                 /* of what was measured or walked to, as drawn last */
  Point menu_at;            /* mm, where the menu was asked for */
  CrackWay crack;           /* n = 0: not shown */
  double crack_share;       /* 0 .. 1 of it */
  int folded_edge;          /* px, see canvas_fold */
  Box plate[CANVAS_PLATES]; /* px, see canvas_set_plates */
};

void canvas_invalidate(SoffitCanvas *canvas);
void canvas_walk_tell(SoffitCanvas *canvas); /* to a screen reader; the focus follows the walk */

/* ---- what is shown (canvas_picture.c) ---- */
/* What the drawing shows now, but for outlines, advice and answer. */
ConnectorPicture canvas_picture(SoffitCanvas *canvas, const DrawContext *context);
void canvas_picture_draw(SoffitCanvas *canvas, cairo_t *cr, int width, int height);
/* The view that shows the whole connector. */
void canvas_view_fit(SoffitCanvas *canvas);
/* The line moves under the hand, above the picture. */
bool canvas_line_apart(const SoffitCanvas *canvas);
void canvas_shade_came(ShadeAnswer *answer, void *canvas);
const Advice *canvas_advice(SoffitCanvas *canvas); /* whose ghost is shown; NULL: none */
/* The marks are told anew when the loop is idle and no hand draws. */
void canvas_marks_tell(SoffitCanvas *canvas);

/* Asks the worker for the shade of what is shown, in motion for the whole drawing. */
void canvas_shade_ask(SoffitCanvas *canvas);

/* ---- in motion (canvas_motion.c) ---- */
GskRenderNode *canvas_drawing_node(SoffitCanvas *canvas, const ShadeAnswer *answer);
void canvas_picture_append(SoffitCanvas *canvas, GtkSnapshot *snapshot);
void canvas_line_append(SoffitCanvas *canvas, GtkSnapshot *snapshot, int width, int height);

void canvas_zoom(SoffitCanvas *canvas, double factor, Point about_px);
void canvas_pan(SoffitCanvas *canvas, double dx, double dy);
void canvas_fit(SoffitCanvas *canvas);
/* The drawing grows to the soft piece and shrinks back; the geometry stays that of the fired one.
 * False, with words, when the enlargement is not recorded. */
bool canvas_soft(SoffitCanvas *canvas, bool soft);
void canvas_keys_attach(SoffitCanvas *canvas);
void canvas_pointer_attach(SoffitCanvas *canvas); /* what comes before the tools */
/* Asks for an exact size, beside its label. */
void canvas_type_size(SoffitCanvas *canvas, SizeKind kind);
/* What lies over the drawing: tool row, bar of the best outline, plates; 0 x 0: nothing. */
void canvas_covered(SoffitCanvas *canvas, Box over[KEEP_FREE]);
void canvas_menu_install(GtkWidgetClass *class);
void canvas_menu_show(SoffitCanvas *canvas, Point at_px);
void canvas_marks_draw(SoffitCanvas *canvas, GtkSnapshot *snapshot, int width, int height);
void canvas_crack_draw(SoffitCanvas *canvas, GtkSnapshot *snapshot, int width, int height);
void canvas_walk_follow(SoffitCanvas *canvas);  /* the place where one stands is in view */
void canvas_motion_begin(SoffitCanvas *canvas); /* asks the worker for pictures without the line */
void canvas_hand_attach(SoffitCanvas *canvas);  /* mouse, pen, fingers, wheel */

/* ---- the hand, as its events say (canvas_hand.c) ---- */
typedef enum { HAND_MOUSE, HAND_PEN, HAND_ERASER, HAND_FINGER } HandKind;
void canvas_press(SoffitCanvas *canvas, HandKind kind, const PenPoint *at);
void canvas_move(SoffitCanvas *canvas, const PenPoint at[], size_t n);
void canvas_release(SoffitCanvas *canvas);
bool canvas_cancel(SoffitCanvas *canvas); /* false: there was no stroke */
/* The pen came over the drawing or left it; a stroke that the palm began is given up. */
void canvas_pen_near(SoffitCanvas *canvas, bool near, guint32 time_ms);
/* A finger came down; false when it shall not draw: a palm, or one of two. */
bool canvas_finger_down(SoffitCanvas *canvas, guint32 time_ms);
void canvas_finger_up(SoffitCanvas *canvas);

/* Raw ink and band above the picture, with the frames that its fading needs (canvas_hand.c). */
void canvas_ink_show(SoffitCanvas *canvas, GtkSnapshot *snapshot);
