/* photo_decode.c - gdk-pixbuf behind a gate: kind, size and damage are looked at first.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/photo/photo_decode.h"
#include "ui/words.h"
#include <gdk-pixbuf/gdk-pixbuf.h>
#include <string.h>

#define TAIL                                                                                       \
  ((size_t)65536)   /* bytes that may follow the end of a picture: cameras add of theirs           \
                     */
#define PIECE 65536 /* bytes handed over at once, so that a refused size is not read on */

GQuark photo_error_quark(void)
{
  return g_quark_from_static_string("soffit-photo-error");
}

const char *photo_kind(const void *bytes, size_t n)
{
  static const struct {
    const char *kind, *begins;
    size_t n;
  } known[] = {{"png", "\x89PNG\r\n\x1a\n", 8},
               {"jpeg", "\xff\xd8\xff", 3},
               {"tiff", "II*\0", 4},
               {"tiff", "MM\0*", 4}};
  for (size_t i = 0; i < G_N_ELEMENTS(known); i++)
    if (n >= known[i].n && memcmp(bytes, known[i].begins, known[i].n) == 0)
      return known[i].kind;
  return NULL;
}

typedef struct {
  int width, height; /* of the file, as it lies there */
  bool refused;
} Prepared;

static void size_prepared(GdkPixbufLoader *loader, int width, int height, gpointer data)
{
  Prepared *p = data;
  double megapixels = (double)width * height / 1e6;
  p->width = width;
  p->height = height;
  p->refused = megapixels > PHOTO_MEGAPIXELS_MOST || width > PHOTO_PX_MOST ||
               height > PHOTO_PX_MOST || MIN(width, height) < PHOTO_SIDE_LEAST;
  if (p->refused) {
    gdk_pixbuf_loader_set_size(loader, 0, 0);
  } else if (megapixels > PHOTO_MEGAPIXELS_KEPT) {
    double k = sqrt(PHOTO_MEGAPIXELS_KEPT / megapixels);
    gdk_pixbuf_loader_set_size(loader, MAX(2, (int)(k * width)), MAX(2, (int)(k * height)));
  }
}

static void refuse(const Prepared *p, const char *name, GError **error)
{
  if (MIN(p->width, p->height) < PHOTO_SIDE_LEAST)
    g_set_error(error, PHOTO_ERROR, PHOTO_ERROR_SMALL,
                _("%s: the picture has only %d × %d pixels. Take the photo again, nearer or with "
                  "more pixels."),
                name, p->width, p->height);
  else
    g_set_error(error, PHOTO_ERROR, PHOTO_ERROR_LARGE,
                _("%s: the picture has %d × %d pixels, more than %.0f million. Make it smaller, "
                  "then open it again."),
                name, p->width, p->height, PHOTO_MEGAPIXELS_MOST);
}

static bool feed(GdkPixbufLoader *loader, const guchar *bytes, size_t n, const Prepared *p,
                 GError **error)
{
  bool good = true;
  for (size_t at = 0; good && at < n && !p->refused; at += PIECE)
    good = gdk_pixbuf_loader_write(loader, bytes + at, MIN(PIECE, n - at), error);
  return gdk_pixbuf_loader_close(loader, good ? error : NULL) && good;
}

/* A picture that was cut off: the library would show what there is of it, the rest in black. */
static bool cut_off(const guchar *bytes, size_t n, const char *kind)
{
  bool png = *kind == 'p';
  const char *end = png ? "IEND" : "\xff\xd9";
  size_t length = png ? 4 : 2, far = MAX(n / 10, TAIL);
  if (*kind == 't')
    return false; /* its library looks itself */
  for (size_t at = n - length, least = n > far ? n - far : 0; at > least; at--)
    if (memcmp(bytes + at, end, length) == 0)
      return false;
  return true;
}

/* On white paper, without gaps between the rows. */
static PhotoPixels *pixels_from(const GdkPixbuf *picture)
{
  PhotoPixels *pixels =
      photo_pixels_new(gdk_pixbuf_get_width(picture), gdk_pixbuf_get_height(picture));
  int channels = gdk_pixbuf_get_n_channels(picture), stride = gdk_pixbuf_get_rowstride(picture);
  bool clear = gdk_pixbuf_get_has_alpha(picture);
  const guchar *from = gdk_pixbuf_read_pixels(picture);
  for (int j = 0; pixels && j < pixels->height; j++) {
    const guchar *a = from + (size_t)j * (size_t)stride;
    unsigned char *to = pixels->rgb + 3 * (size_t)j * (size_t)pixels->width;
    for (int i = 0; i < pixels->width; i++, a += channels, to += 3)
      for (int k = 0; k < 3; k++)
        to[k] = clear ? (unsigned char)((a[k] * a[3] + 255 * (255 - a[3])) / 255) : a[k];
  }
  return pixels;
}

PhotoPixels *photo_decode(const void *bytes, size_t n, const char *name, GError **error)
{
  const char *kind = photo_kind(bytes, n);
  if (n == 0) {
    g_set_error(error, PHOTO_ERROR, PHOTO_ERROR_EMPTY,
                _("%s: the file is empty. Copy the photo again."), name);
    return NULL;
  }
  if (!kind) {
    g_set_error(error, PHOTO_ERROR, PHOTO_ERROR_KIND,
                _("%s: this is no PNG, JPEG or TIFF picture. Save the photo as one of these, then "
                  "open it again."),
                name);
    return NULL;
  }
  Prepared prepared = {0};
  g_autoptr(GError) why = NULL;
  g_autoptr(GdkPixbufLoader) loader = gdk_pixbuf_loader_new_with_type(kind, &why);
  g_autoptr(GdkPixbuf) upright = NULL;
  if (loader) {
    g_signal_connect(loader, "size-prepared", G_CALLBACK(size_prepared), &prepared);
    bool good = feed(loader, bytes, n, &prepared, &why);
    GdkPixbuf *picture = good && !prepared.refused ? gdk_pixbuf_loader_get_pixbuf(loader) : NULL;
    upright = picture ? gdk_pixbuf_apply_embedded_orientation(picture) : NULL;
  }
  if (upright && !why && cut_off(bytes, n, kind)) {
    g_clear_object(&upright);
    g_set_error(&why, PHOTO_ERROR, PHOTO_ERROR_BROKEN, "%s", _("its end is missing"));
  }
  if (prepared.refused) {
    refuse(&prepared, name, error);
    return NULL;
  }
  PhotoPixels *pixels = upright ? pixels_from(upright) : NULL;
  if (!pixels) {
    g_set_error(error, PHOTO_ERROR, PHOTO_ERROR_BROKEN,
                _("%s: the picture is damaged or of a rare kind (%s). Open it in a picture "
                  "program, save it as PNG or JPEG, then open it again."),
                name, why ? why->message : _("no pixels"));
    return NULL;
  }
  bool turned = (pixels->width > pixels->height) != (prepared.width > prepared.height) &&
                prepared.width != prepared.height;
  pixels->full_width = turned ? prepared.height : prepared.width;
  pixels->full_height = turned ? prepared.width : prepared.height;
  return pixels;
}
