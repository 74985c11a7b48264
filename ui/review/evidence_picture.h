/* evidence_picture.h - the connector in view at the order's load, with the remarks on it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/review/review_desk.h"
#include <gtk/gtk.h>

#define SOFFIT_TYPE_EVIDENCE_PICTURE (evidence_picture_get_type())
G_DECLARE_FINAL_TYPE(SoffitEvidencePicture, evidence_picture, SOFFIT, EVIDENCE_PICTURE, GtkWidget)
GtkWidget *evidence_picture_new(SoffitReviewDesk *desk);
/* A pin in the hand, at the hot spot: arrows move it along the line, Enter asks for its words. */
void evidence_picture_pin(SoffitEvidencePicture *picture);
/* The newest remark that is not sent yet into the hand, once more: the one before it.  Arrows move
 * it, Enter keeps its place, Escape the one of before. */
void evidence_picture_move(SoffitEvidencePicture *picture);
bool evidence_picture_leave(SoffitEvidencePicture *picture); /* the hand; false: it was empty */
/* What the drawing shows of the outlines that were approved; false when there is nothing. */
bool evidence_picture_can_compare(SoffitEvidencePicture *picture);
void evidence_picture_compare(SoffitEvidencePicture *picture, bool on);
