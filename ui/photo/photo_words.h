/* photo_words.h - what the card of the photo says, in the language of the desktop.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Owned by the caller; the troubles are borrowed. */
#pragma once
#include "ui/photo/photo_desk.h"

char *photo_status_text(SoffitPhotoDesk *desk);
char *photo_scale_text(SoffitPhotoDesk *desk); /* "" without a photo */
char *photo_corner_text(SoffitPhotoDesk *desk);
char *photo_tick_text(SoffitPhotoDesk *desk);
/* Why straightening or scaling met a fault, and what to do. */
const char *photo_corner_trouble(SoffitPhotoDesk *desk, Fault fault);
const char *photo_tick_trouble(SoffitPhotoDesk *desk, Fault fault);
