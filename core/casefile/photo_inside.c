/* photo_inside.c - photos kept inside of the case: base64 at the end of its file.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * <pictures> is the last element of a case, so that what people read stands above it; a picture is
 * found by the SHA-256 of its bytes, and one that two necks share is written once.  Base64 of RFC
 * 4648, lines of 76 (RFC 2045). */
#include "base/phrase.h"
#include "casefile/case_fields.h"
#include "casefile/case_parts.h"
#include "casefile/photo.h"
#include <libxml/tree.h>
#include <string.h>

#define LINE 76
#define MIB (1024.0 * 1024.0)

bool photo_put_inside(Photo *photo, GBytes *bytes, GError **error)
{
  size_t n = g_bytes_get_size(bytes);
  if (n > PHOTO_INSIDE_MOST) {
    g_set_error(error, CASE_ERROR, CASE_ERROR_TOO_LARGE,
                g_dgettext("soffit", N_("The photo has %.1f MiB; up to %.0f MiB can be kept inside "
                                        "of a case. Leave it beside the case, or open a smaller "
                                        "one.")),
                (double)n / MIB, (double)PHOTO_INSIDE_MOST / MIB);
    return false;
  }
  GBytes *kept = g_bytes_ref(bytes);
  photo_take_out(photo);
  photo->inside = kept;
  return true;
}

void photo_take_out(Photo *photo)
{
  g_clear_pointer(&photo->inside, g_bytes_unref);
}

/* ---- written ---- */

static bool written_before(const Case *c, size_t connector)
{
  const char *sha = c->connector[connector].photo.sha256;
  for (size_t i = 0; i < connector; i++)
    if (c->connector[i].photo.inside && strcmp(c->connector[i].photo.sha256, sha) == 0)
      return true;
  return false;
}

static void write_picture(GString *out, const Photo *photo)
{
  gsize n;
  const guchar *bytes = g_bytes_get_data(photo->inside, &n);
  g_autofree char *text = g_base64_encode(bytes, n);
  size_t length = strlen(text);
  g_string_append(out, "    <picture");
  write_text(out, "sha256", photo->sha256);
  g_string_append(out, ">\n");
  for (size_t at = 0; at < length; at += LINE) {
    g_string_append_len(out, text + at, (gssize)MIN(LINE, length - at));
    g_string_append_c(out, '\n');
  }
  g_string_append(out, "    </picture>\n");
}

void write_pictures(GString *out, const Case *c)
{
  bool any = false;
  for (size_t i = 0; i + 1 < c->n_unit; i++) {
    const Photo *photo = &c->connector[i].photo;
    if (!photo->inside || written_before(c, i))
      continue;
    if (!any)
      g_string_append(out, "  <pictures>\n");
    any = true;
    write_picture(out, photo);
  }
  if (any)
    g_string_append(out, "  </pictures>\n");
}

/* ---- read ---- */

static bool base64_only(const char *text)
{
  for (; *text; text++)
    if (!g_ascii_isalnum(*text) && !g_ascii_isspace(*text) && !strchr("+/=", *text))
      return false;
  return true;
}

static bool read_picture(Reader *r, xmlNode *node, Case *c)
{
  g_autofree char *sha = node_attribute(node, "sha256");
  xmlChar *text = xmlNodeGetContent(node);
  bool good = text && base64_only((const char *)text);
  gsize n = 0;
  guchar *raw = good ? g_base64_decode((const char *)text, &n) : NULL;
  xmlFree(text);
  g_autoptr(GBytes) bytes = g_bytes_new_take(raw, n);
  g_autofree char *is = photo_sha256(n ? raw : (const void *)"", n);
  if (!good || n == 0 || n > PHOTO_INSIDE_MOST || g_strcmp0(is, sha) != 0)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                       "this <picture> is damaged or too large: its text is not the base64 of at "
                       "most %d MiB with this sha256. Delete it and open the photo again.",
                       (int)(PHOTO_INSIDE_MOST >> 20));
  bool used = false;
  for (size_t i = 0; i + 1 < c->n_unit; i++) {
    Photo *photo = &c->connector[i].photo;
    if (!photo_there(photo) || strcmp(photo->sha256, sha) != 0)
      continue;
    used = true;
    if (!photo_put_inside(photo, bytes, r->error))
      return false;
  }
  return used || reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                             "this <picture> belongs to no <photo>. Delete it, or write its sha256 "
                             "into the <photo> that it is.");
}

bool read_pictures(Reader *r, xmlNode *root, Case *c)
{
  xmlNode *all = node_child(root, "pictures");
  for (xmlNode *node = all ? node_child(all, "picture") : NULL; node && !r->failed;
       node = node_next(node, "picture"))
    read_picture(r, node, c);
  return !r->failed;
}
