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
/* What the drawing shows of the outlines that were approved; false when there is nothing. */
bool evidence_picture_can_compare(SoffitEvidencePicture *picture);
void evidence_picture_compare(SoffitEvidencePicture *picture, bool on);
