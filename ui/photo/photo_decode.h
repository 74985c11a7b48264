/* photo_decode.h - the bytes of a PNG, JPEG or TIFF into upright pixels.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Any thread.  16 bits, CMYK, grey, palettes and see-through pictures become 8 bits of red, green
 * and blue on white; a turned picture is turned upright.  Errors name the file, what is wrong and
 * what to do: domain PHOTO_ERROR. */
#pragma once
#include "outline/photo_plane.h"
#include "ui/drawing/underlay.h"
#include <glib.h>

#define PHOTO_ERROR (photo_error_quark())
GQuark photo_error_quark(void);
typedef enum {
  PHOTO_ERROR_EMPTY,
  PHOTO_ERROR_KIND,
  PHOTO_ERROR_BROKEN,
  PHOTO_ERROR_SMALL,
  PHOTO_ERROR_LARGE,
  PHOTO_ERROR_READ
} PhotoErrorCode;

#define PHOTO_SIDE_LEAST 16         /* px */
#define PHOTO_MEGAPIXELS_MOST 120.0 /* refused beyond: half a gigabyte while it is read */
#define PHOTO_MEGAPIXELS_KEPT 16.0  /* larger ones are kept smaller */

/* By its first bytes: "png", "jpeg", "tiff", or NULL. */
const char *photo_kind(const void *bytes, size_t n);
/* name: for messages and nothing else.  NULL and the error set when there is no picture. */
PhotoPixels *photo_decode(const void *bytes, size_t n, const char *name, GError **error);
