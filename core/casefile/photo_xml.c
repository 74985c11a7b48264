/* photo_xml.c - the element <photo> of a connector, read and written.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/case_fields.h"
#include "casefile/case_parts.h"
#include "casefile/photo.h"
#include "base/tolerance.h"
#include <libxml/tree.h>
#include <string.h>

#define FAR_MM 1e4 /* beyond any placement that makes sense */

static const Attribute photo_row[] = {
    TEXT_ROW("file", Photo, file),
    TEXT_ROW("sha256", Photo, sha256),
    NUMBER_ROW("width", Photo, plane.width, 1, PHOTO_PX_MOST),
    NUMBER_ROW("height", Photo, plane.height, 1, PHOTO_PX_MOST),
    NUMBER_ROW("x", Photo, plane.x, -FAR_MM, FAR_MM),
    NUMBER_ROW("y", Photo, plane.y, -FAR_MM, FAR_MM),
    NUMBER_ROW("turn", Photo, plane.turn_deg, -360, 360),
    NUMBER_ROW("zoom", Photo, plane.zoom, 1e-7, MAX_SIZE_MM),
    NUMBER_ROW("distance", Photo, plane.distance, 0.001, MAX_SIZE_MM),
    NUMBER_ROW("distance-error", Photo, plane.distance_error, 0, MAX_SIZE_MM),
    NUMBER_ROW("mark-error", Photo, plane.mark_error, 0.01, 1000),
    NUMBER_ROW("rectangle-width", Photo, plane.rect_width, 0.001, 1000),
    NUMBER_ROW("rectangle-height", Photo, plane.rect_height, 0.001, 1000),
    NUMBER_ROW("rectangle-error", Photo, plane.rect_error, 0, MAX_SIZE_MM),
    NUMBER_ROW("opacity", Photo, opacity, 0, 1),
    WORD_ROW("locked", Photo, locked, WORDS_YES_NO),
    WORD_ROW("traced", Photo, traced, WORDS_YES_NO),
};
static const Element photo_element = {"photo", photo_row, G_N_ELEMENTS(photo_row)};

/* "(u, v) (u, v) ..." as the corners of outlines are written. */
static bool read_places(Reader *r, xmlNode *node, const char *name, size_t least, size_t most,
                        Point at[], size_t *n)
{
  Corner place[PHOTO_MARKS];
  size_t bad_at;
  g_autofree char *text = node_attribute(node, name);
  *n = 0;
  if (!text || !*text)
    return true;
  bool good = corners_from_text(text, place, most, n, &bad_at) && *n >= least;
  for (size_t i = 0; good && i < *n; i++) {
    at[i] = point(place[i].x, place[i].y);
    good = fabs(at[i].x) <= PHOTO_PX_MOST && fabs(at[i].y) <= PHOTO_PX_MOST;
  }
  return good || reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                             "the %s of <photo> are no %zu to %zu places on it. Write them like "
                             "\"(120, 80) (460, 85)\", in px, or delete the attribute.",
                             name, least, most);
}

bool read_photo(Reader *r, xmlNode *node, Photo *photo)
{
  PhotoPlane *plane = &photo->plane;
  if (!read_required(r, node, "width", "4000") || !read_required(r, node, "height", "3000"))
    return false;
  attributes_read(r, node, &photo_element, photo);
  size_t corners = 0;
  if (r->failed || !read_places(r, node, "marks", 2, PHOTO_MARKS, plane->mark, &plane->n_mark) ||
      !read_places(r, node, "corners", 4, 4, plane->corner, &corners))
    return false;
  plane->straightened = corners == 4;
  const char *reason;
  if (!photo_file_check(photo->file, &reason))
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node), "<photo>: %s",
                       g_dgettext("soffit", reason));
  PlaneMap map;
  if (photo_map(plane, &map))
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                       "the marks, the corners or the sizes of <photo> give no picture. Correct "
                       "them, or delete the element and open the photo again.");
  return true;
}

static void write_places(GString *out, const char *name, const Point at[], size_t n)
{
  g_autoptr(GString) text = g_string_new(NULL);
  char u[32], v[32];
  for (size_t i = 0; i < n; i++)
    g_string_append_printf(text, "%s(%s, %s)", i ? " " : "", number_to_text(at[i].x, u),
                           number_to_text(at[i].y, v));
  write_text(out, name, text->str);
}

void write_photo(GString *out, const char *indent, const Photo *photo)
{
  const PhotoPlane *plane = &photo->plane;
  if (!(plane->width > 0))
    return;
  g_string_append_printf(out, "%s<%s", indent, photo_element.name);
  attributes_write(out, &photo_element, photo);
  if (plane->straightened)
    write_places(out, "corners", plane->corner, 4);
  if (plane->n_mark >= 2)
    write_places(out, "marks", plane->mark, plane->n_mark);
  g_string_append(out, "/>\n");
}
