/* photo.c - life of a photo in a case, and what its scale does to what was traced on it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/photo.h"
#include "casefile/case_parts.h"
#include <string.h>

#define PULL_OF_NECK 3.0 /* stress goes as 1 / size^3 under a given moment */

void photo_init(Photo *photo)
{
  *photo = (Photo){.file = g_strdup(""), .sha256 = g_strdup(""), .opacity = PHOTO_OPACITY};
  photo_plane_init(&photo->plane, 0, 0, 0, point(0, 0));
}

void photo_clear(Photo *photo)
{
  g_free(photo->file);
  g_free(photo->sha256);
  photo_take_out(photo);
  *photo = (Photo){0};
}

Photo photo_copy(const Photo *from)
{
  Photo copy = *from;
  copy.file = g_strdup(from->file);
  copy.sha256 = g_strdup(from->sha256);
  if (copy.inside)
    g_bytes_ref(copy.inside);
  return copy;
}

/* As it stands in a file: the shortest text of a number reads back as the same number. */
bool photo_equal(const Photo *a, const Photo *b)
{
  g_autoptr(GString) left = g_string_new(NULL), right = g_string_new(NULL);
  write_photo(left, "", a);
  write_photo(right, "", b);
  if (!g_string_equal(left, right) || !a->inside != !b->inside)
    return false;
  return a->inside == b->inside || g_bytes_equal(a->inside, b->inside);
}

void photo_remove(Photo *photo)
{
  bool keep = photo->traced == ANSWER_YES;
  Photo none;
  photo_init(&none);
  if (keep) {
    none.plane = photo->plane;
    none.traced = photo->traced;
  }
  photo_clear(photo);
  *photo = none;
}

double connector_trace_percent(const Connector *connector)
{
  double mm_px, percent;
  if (connector->photo.traced != ANSWER_YES || !(connector->photo.plane.width > 0))
    return 0;
  if (photo_scale(&connector->photo.plane, &mm_px, &percent))
    return NAN;
  return percent;
}

double neck_trace_percent(double trace_percent, const Form *form)
{
  double arm = form->roof.y / form->neck_height;
  return trace_percent * (arm > 1 ? arm : 1);
}

double pull_trace_percent(double trace_percent, const Form *form)
{
  return PULL_OF_NECK * neck_trace_percent(trace_percent, form);
}
