/* photo.h - the photo below a connector's drawing, as part of the case and as a file beside it.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A photo's file is named after what is in it ("photos/34-35-1a2b3c4d5e6f.jpg"), so that two cases
 * in one folder never take each other's.  A picture that is missing or was changed costs no number:
 * marks, scale and outlines stand in the case. */
#pragma once
#include "casefile/case.h"
#include <glib.h>

#define PHOTO_OPACITY 0.6
#define PHOTO_INSIDE_MOST ((size_t)6 * 1024 * 1024) /* the XML reader takes 10 MB of text */
#define PHOTO_BYTES_MOST ((size_t)256 * 1024 * 1024)

void photo_init(Photo *photo); /* none */
void photo_clear(Photo *photo);
Photo photo_copy(const Photo *from);
bool photo_equal(const Photo *a, const Photo *b);
static inline bool photo_there(const Photo *photo)
{
  return photo->file[0] != '\0';
}
/* The file goes.  What was traced on it keeps marks and scale; else nothing is left. */
void photo_remove(Photo *photo);

/* Keeps the bytes of its file inside of the case (a reference is taken); refused with a message
 * when they are too many.  Taken out, it is written beside the case again when that is saved, from
 * the store (photo_store). */
bool photo_put_inside(Photo *photo, GBytes *bytes, GError **error);
void photo_take_out(Photo *photo);

/* Relative error of the sizes of the gum-side outline, percent: 0 where it was not traced on a
 * photo, NaN where that photo has no scale. */
double connector_trace_percent(const Connector *connector);
/* The same of the neck's height, percent.  The line is off by that share of its height above the
 * feet, which for a low neck above a high roof is more of the neck. */
double neck_trace_percent(double trace_percent, const Form *form);
/* Of the pull at the hot spot: three times the neck's, core/SOURCES.md "photo". */
double pull_trace_percent(double trace_percent, const Form *form);

/* Path inside the folder of the case; false with a static English msgid. */
bool photo_file_check(const char *file, const char **reason);
/* sha: 64 hex digits; name: of the file it comes from, whose ending is kept.  Owned. */
char *photo_file_name(const Case *c, size_t connector, const char *sha, const char *name);
char *photo_sha256(const void *bytes, size_t n); /* owned */

typedef enum { PHOTO_FOUND, PHOTO_MISSING, PHOTO_CHANGED } PhotoFound;
/* Looks inside of the case, beside it, then in the store for unsaved work; either may be NULL.
 *   path   out  owned; where it is, or where it should be
 *   bytes  out  owned; NULL unless found */
PhotoFound photo_find(const Photo *photo, const char *case_path, const char *store, char **path,
                      GBytes **bytes);
/* Keeps the bytes of a photo in the store until its case is saved. */
bool photo_store(const char *store, const Photo *photo, GBytes *bytes, GError **error);
/* Before a case is saved to `to`: writes its photos beside that file, from beside `from` (may be
 * NULL) or from the store (may be NULL).  Photos that are missing stay missing. */
bool photos_save(const Case *c, const char *to, const char *from, const char *store,
                 GError **error);
