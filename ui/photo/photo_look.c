/* photo_look.c - see photo_look.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/photo/photo_look.h"
#include "ui/photo/photo_decode.h"
#include "ui/words.h"

/* On white paper. */
static PhotoPixels *surface_pixels(cairo_surface_t *surface)
{
  int width = cairo_image_surface_get_width(surface),
      height = cairo_image_surface_get_height(surface),
      stride = cairo_image_surface_get_stride(surface);
  PhotoPixels *pixels = photo_pixels_new(width, height);
  cairo_surface_flush(surface);
  const unsigned char *from = cairo_image_surface_get_data(surface);
  for (int j = 0; pixels && j < height; j++) {
    const guint32 *argb = (const guint32 *)(const void *)(from + (size_t)j * (size_t)stride);
    unsigned char *to = pixels->rgb + 3 * (size_t)j * (size_t)width;
    for (int i = 0; i < width; i++, to += 3) { /* colours are multiplied by what covers the paper */
      guint32 paper = 255 - (argb[i] >> 24);
      to[0] = (unsigned char)(((argb[i] >> 16) & 255) + paper);
      to[1] = (unsigned char)(((argb[i] >> 8) & 255) + paper);
      to[2] = (unsigned char)((argb[i] & 255) + paper);
    }
  }
  return pixels;
}

/* As its corners say; the photo as it was taken where they make no sense. */
static PhotoPixels *straightened(PhotoPixels *pixels, const PhotoPlane *plane)
{
  PlaneMap map;
  Underlay *straight = NULL;
  if (photo_map(plane, &map))
    return pixels;
  Point middle = point(pixels->full_width / 2, pixels->full_height / 2),
        stretch = plane_map_stretch(&map, middle);
  double px_mm = 1 / fmax(fmin(stretch.x, stretch.y), 1e-6) * pixels->width / pixels->full_width;
  if (underlay_new(pixels, &map, px_mm, &straight))
    return pixels;
  PhotoPixels *made = surface_pixels(straight->surface);
  underlay_unref(straight);
  if (made)
    photo_pixels_unref(pixels);
  return made ? made : pixels;
}

PhotoPixels *photo_look(const Photo *photo, const char *case_path, int most_px, GError **error)
{
  g_autofree char *path = NULL;
  g_autoptr(GBytes) bytes = NULL;
  const char *reason;
  PhotoFound found = photo->inside || photo_file_check(photo->file, &reason)
                         ? photo_find(photo, case_path, NULL, &path, &bytes)
                         : PHOTO_MISSING;
  if (found != PHOTO_FOUND) {
    g_set_error(error, PHOTO_ERROR, PHOTO_ERROR_READ,
                found == PHOTO_MISSING
                    ? _("%s: the photo is not there. Put it back beside the case.")
                    : _("%s: this is not the photo any more that the case was drawn with."),
                photo->file);
    return NULL;
  }
  gsize n;
  const void *data = g_bytes_get_data(bytes, &n);
  PhotoPixels *pixels = photo_decode(data, n, photo->file, error);
  if (pixels && photo->plane.straightened)
    pixels = straightened(pixels, &photo->plane);
  while (pixels && MAX(pixels->width, pixels->height) > 2 * most_px) {
    PhotoPixels *half = photo_pixels_halved(pixels);
    if (!half)
      break;
    photo_pixels_unref(pixels);
    pixels = half;
  }
  return pixels;
}
