/* photo_look.h - a photo of a case to look at, away from its drawing.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Any thread; some ten ms to seconds. */
#pragma once
#include "casefile/photo.h"
#include "ui/drawing/underlay.h"

/* Found, decoded, upright; straightened where its corners are marked; halved until no side is
 * longer than 2 most_px.  NULL and the error set (PHOTO_ERROR): what is wrong, what to do.
 *   case_path  in  the file of the case, which the photo lies beside */
PhotoPixels *photo_look(const Photo *photo, const char *case_path, int most_px, GError **error);
