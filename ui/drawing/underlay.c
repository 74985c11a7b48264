/* underlay.c - a photo sampled through its map, as pixels of the drawing.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/underlay.h"
#include <glib.h>
#include <string.h>

/* What of the drawing a photo can lie on, mm: a connector with both its units. */
#define LEFT_MM (-30.0)
#define RIGHT_MM 30.0
#define LOW_MM (-10.0)
#define HIGH_MM 35.0
#define COARSE 1.6 /* photo pixels a pixel of the drawing: beyond, the photo is halved first */

static void pixels_clear(void *data)
{
  g_free(((PhotoPixels *)data)->rgb);
}

PhotoPixels *photo_pixels_new(int width, int height)
{
  unsigned char *rgb = g_try_malloc0_n((size_t)width * (size_t)height, 3);
  if (!rgb)
    return NULL;
  PhotoPixels *pixels = g_atomic_rc_box_new0(PhotoPixels);
  *pixels = (PhotoPixels){rgb, width, height, width, height};
  return pixels;
}

PhotoPixels *photo_pixels_ref(PhotoPixels *pixels)
{
  return g_atomic_rc_box_acquire(pixels);
}

void photo_pixels_unref(PhotoPixels *pixels)
{
  if (pixels)
    g_atomic_rc_box_release_full(pixels, pixels_clear);
}

static void underlay_clear(void *data)
{
  Underlay *u = data;
  if (u->surface)
    cairo_surface_destroy(u->surface);
  g_free((float *)u->grey.grey);
}

Underlay *underlay_ref(Underlay *underlay)
{
  return g_atomic_rc_box_acquire(underlay);
}

void underlay_unref(Underlay *underlay)
{
  if (underlay)
    g_atomic_rc_box_release_full(underlay, underlay_clear);
}

PhotoPixels *photo_pixels_halved(const PhotoPixels *from)
{
  PhotoPixels *half = photo_pixels_new(from->width / 2, from->height / 2);
  if (!half)
    return NULL;
  size_t row = 3 * (size_t)from->width;
  for (int j = 0; j < half->height; j++) {
    const unsigned char *a = from->rgb + 2 * (size_t)j * row, *b = a + row;
    unsigned char *to = half->rgb + (size_t)j * 3 * (size_t)half->width;
    for (int i = 0; i < half->width; i++, a += 6, b += 6, to += 3)
      for (int k = 0; k < 3; k++)
        to[k] = (unsigned char)((a[k] + a[k + 3] + b[k] + b[k + 3] + 2) / 4);
  }
  half->full_width = from->full_width;
  half->full_height = from->full_height;
  return half;
}

/* The part of the drawing that the photo covers: corners; all of it where one is out of sight. */
static bool box_of(const PhotoPixels *p, const PlaneMap *map, Point *low, Point *high)
{
  *low = point(LEFT_MM, LOW_MM);
  *high = point(RIGHT_MM, HIGH_MM);
  const Point corner[4] = {
      {0, 0}, {p->full_width, 0}, {p->full_width, p->full_height}, {0, p->full_height}};
  Point least = {INFINITY, INFINITY}, most = {-INFINITY, -INFINITY};
  for (int i = 0; i < 4; i++) {
    Point at = plane_map_at(map, corner[i]);
    if (!point_finite(at))
      return true;
    least = point(fmin(least.x, at.x), fmin(least.y, at.y));
    most = point(fmax(most.x, at.x), fmax(most.y, at.y));
  }
  *low = point(fmax(low->x, least.x), fmax(low->y, least.y));
  *high = point(fmin(high->x, most.x), fmin(high->y, most.y));
  return high->x > low->x && high->y > low->y;
}

/* Four neighbours mixed; at: px of these pixels. */
static void sample(const PhotoPixels *p, Point at, double rgb[3])
{
  double x = CLAMP(at.x - 0.5, 0, p->width - 1.001), y = CLAMP(at.y - 0.5, 0, p->height - 1.001);
  int i = (int)x, j = (int)y;
  double s = x - i, t = y - j;
  const unsigned char *a = p->rgb + 3 * ((size_t)j * (size_t)p->width + (size_t)i),
                      *b = a + 3 * (size_t)p->width;
  for (int k = 0; k < 3; k++)
    rgb[k] = (1 - t) * ((1 - s) * a[k] + s * a[k + 3]) + t * ((1 - s) * b[k] + s * b[k + 3]);
}

static void fill(Underlay *u, const PhotoPixels *p, const PlaneMap *mm_to_px)
{
  float *grey = (float *)u->grey.grey;
  unsigned char *data = cairo_image_surface_get_data(u->surface);
  int stride = cairo_image_surface_get_stride(u->surface);
  double kx = p->width / p->full_width, ky = p->height / p->full_height;
  for (int j = 0; j < u->grey.height; j++) {
    guint32 *row = (guint32 *)(void *)(data + (size_t)j * (size_t)stride);
    for (int i = 0; i < u->grey.width; i++, grey++) {
      Point mm = point(u->corner.x + (i + 0.5) / u->px_mm, u->corner.y - (j + 0.5) / u->px_mm);
      Point at = plane_map_at(mm_to_px, mm);
      bool on = at.x >= 0 && at.y >= 0 && at.x <= p->full_width && at.y <= p->full_height;
      double rgb[3] = {0, 0, 0};
      if (on)
        sample(p, point(kx * at.x, ky * at.y), rgb);
      guint32 r = (guint32)(rgb[0] + 0.5), g = (guint32)(rgb[1] + 0.5), b = (guint32)(rgb[2] + 0.5);
      row[i] = on ? 0xFF000000U | r << 16 | g << 8 | b : 0;
      *grey = on ? (float)((0.299 * rgb[0] + 0.587 * rgb[1] + 0.114 * rgb[2]) / 255) : NAN;
    }
  }
}

/* The photo no finer than the drawing can show; *owned: what is to be given back. */
static const PhotoPixels *coarse_enough(const PhotoPixels *pixels, const PlaneMap *px_to_mm,
                                        double px_mm, PhotoPixels **owned)
{
  Point middle = point(pixels->full_width / 2, pixels->full_height / 2),
        stretch = plane_map_stretch(px_to_mm, middle);
  double mm_px = fmax(stretch.x, stretch.y);
  *owned = NULL;
  while (isfinite(mm_px) && pixels->width > 64 && pixels->height > 64 &&
         pixels->width / pixels->full_width / mm_px / px_mm > COARSE) {
    PhotoPixels *half = photo_pixels_halved(pixels);
    if (!half)
      break;
    photo_pixels_unref(*owned);
    pixels = *owned = half;
  }
  return pixels;
}

Fault underlay_new(const PhotoPixels *pixels, const PlaneMap *px_to_mm, double px_mm,
                   Underlay **underlay)
{
  PlaneMap back;
  Point low, high;
  Fault fault = plane_map_invert(px_to_mm, &back);
  if (fault)
    return fault;
  if (!(px_mm > 0) || pixels->width < 2 || pixels->height < 2 ||
      !box_of(pixels, px_to_mm, &low, &high))
    return FAULT_RANGE;
  double area = (high.x - low.x) * (high.y - low.y);
  px_mm = fmin(px_mm, sqrt(UNDERLAY_PX_MOST / area));
  int width = MAX(1, (int)ceil((high.x - low.x) * px_mm)),
      height = MAX(1, (int)ceil((high.y - low.y) * px_mm));
  if ((double)width * height > 2 * UNDERLAY_PX_MOST) /* a sliver: longer than it may be */
    return FAULT_RANGE;
  Underlay *u = g_atomic_rc_box_new0(Underlay);
  u->px_mm = px_mm;
  u->corner = point(low.x, high.y);
  u->grey =
      (GreyPicture){g_try_malloc_n((size_t)width * (size_t)height, sizeof(float)), width, height};
  u->surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, width, height);
  if (!u->grey.grey || cairo_surface_status(u->surface) != CAIRO_STATUS_SUCCESS) {
    underlay_unref(u);
    return FAULT_MEMORY;
  }
  PhotoPixels *owned;
  const PhotoPixels *fine = coarse_enough(pixels, px_to_mm, px_mm, &owned);
  cairo_surface_flush(u->surface);
  fill(u, fine, &back);
  cairo_surface_mark_dirty(u->surface);
  photo_pixels_unref(owned);
  *underlay = u;
  return FAULT_NONE;
}

void underlay_draw(cairo_t *cr, View view, const Underlay *u, double opacity)
{
  Point at = view_px(view, u->corner);
  cairo_save(cr);
  cairo_translate(cr, at.x, at.y);
  cairo_scale(cr, view.scale / u->px_mm, view.scale / u->px_mm);
  cairo_set_source_surface(cr, u->surface, 0, 0);
  cairo_pattern_set_filter(cairo_get_source(cr), CAIRO_FILTER_BILINEAR);
  cairo_paint_with_alpha(cr, CLAMP(opacity, 0, 1));
  cairo_restore(cr);
}

Fault underlay_cling(const Underlay *u, const Point mm[], size_t n, double reach_mm, Point clung[])
{
  Point *at = g_try_new(Point, n);
  if (!at)
    return FAULT_MEMORY;
  for (size_t i = 0; i < n; i++)
    at[i] = point((mm[i].x - u->corner.x) * u->px_mm, (u->corner.y - mm[i].y) * u->px_mm);
  Fault fault = stroke_cling(&u->grey, at, n, reach_mm * u->px_mm, at);
  for (size_t i = 0; !fault && i < n; i++)
    clung[i] = point(u->corner.x + at[i].x / u->px_mm, u->corner.y - at[i].y / u->px_mm);
  g_free(at);
  return fault;
}
