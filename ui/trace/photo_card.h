/* photo_card.h - the card that leads through a photo: open, straighten, scale, trace.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Shown while the photo tool is in hand. */
#pragma once
#include "ui/canvas/canvas.h"

#define SOFFIT_TYPE_PHOTO_CARD (photo_card_get_type())
G_DECLARE_FINAL_TYPE(SoffitPhotoCard, photo_card, SOFFIT, PHOTO_CARD, GtkBox)

GtkWidget *photo_card_new(SoffitCanvas *canvas); /* borrowed: a sibling that lives as long */
