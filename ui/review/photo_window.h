/* photo_window.h - one photo of a case, large.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "casefile/photo.h"
#include <gtk/gtk.h>

/* What a photo shows and where it lies. */
typedef struct {
  Photo photo; /* owned */
  char *about; /* owned, translated: "34/35", "Break" */
} CasePhoto;
GArray *case_photos(const Case *c); /* CasePhoto */

/* Takes the texture off the main thread; done(NULL, error) when there is none.
 *   owner  in  kept alive until done */
typedef void (*PhotoCame)(GObject *owner, GdkTexture *texture, const GError *error, void *data);
void photo_fetch(GObject *owner, const Photo *photo, const char *case_path, int most_px,
                 GCancellable *stop, PhotoCame came, void *data);

/* Escape closes it, Left and Right go on to the others. */
void photo_window_show(GtkWindow *parent, const GArray *photos, guint at, const char *case_path);
