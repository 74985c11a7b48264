/* evidence_picture_private.h - the drawing of a case in Review: its picture, and the pins over it.
 * Private to evidence_picture.c and evidence_pins.c.  SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/drawing/picture_connector.h"
#include "ui/review/evidence_picture.h"

/* What the hand does with a pin. */
typedef enum { HAND_EMPTY, HAND_NEW, HAND_MOVES } PinHand;

struct _SoffitEvidencePicture {
  GtkWidget parent;
  SoffitReviewDesk *desk; /* owned ref */
  cairo_surface_t *sheet; /* owned; NULL: to be drawn */
  int width, height;      /* of it */
  View view;
  Places taken; /* by its words */
  bool comparing;
  PinHand hand;
  guint moved;   /* HAND_MOVES: which of the desk's remarks */
  Point pin;     /* mm: of the one in the hand */
  double pin_t;  /* HAND_NEW: on the gum-side line */
  Point grabbed; /* px from its tip to the pointer that drags it */
  GtkWidget *popover, *entry, *compare;
};

/* Of the connector in view; NULL: nothing to draw yet. */
const Assessment *picture_answer(SoffitEvidencePicture *self);
const ConnectorAssessment *picture_neck(SoffitEvidencePicture *self);

void picture_pins_init(SoffitEvidencePicture *self); /* keys, pointer, the field for its words */
void picture_pins_draw(SoffitEvidencePicture *self, cairo_t *cr, const DrawContext *context);
void picture_pins_drop(SoffitEvidencePicture *self);  /* nothing in the hand any more */
void picture_pins_fresh(SoffitEvidencePicture *self); /* remarks came or went */
/* What the picture is called: the connector, or the pin in the hand and where it is. */
void picture_name_show(SoffitEvidencePicture *self);
