/* made_photo.h - an invented photo of an invented connector, drawn by formulas, for tests.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm in the frame of the connector: material between a roof y = ROOF (1 - (x / FOOT)^2) and y = 7,
 * ticks of a ruler every 0.5 mm at y = -1, the corners of a card at (+-5, 8) and (+-5, 10). */
#pragma once
#include "base/random.h"
#include "outline/plane_map.h"
#include <gdk-pixbuf/gdk-pixbuf.h>

#define MADE_ROOF 2.6
#define MADE_FOOT 1.5
#define MADE_WIDTH 1000
#define MADE_HEIGHT 800

/* How the lens saw it: px to mm, from four places of a photo taken at a slant. */
static inline PlaneMap made_map(void)
{
  const Point px[4] = {{130, 60}, {890, 100}, {930, 720}, {80, 760}},
              mm[4] = {{-6, 10.5}, {6, 10.5}, {6, -2}, {-6, -2}};
  PlaneMap map;
  g_assert_cmpint(plane_map_quad(px, mm, &map), ==, FAULT_NONE);
  return map;
}

static inline Point made_px(Point mm)
{
  PlaneMap map = made_map(), back;
  g_assert_cmpint(plane_map_invert(&map, &back), ==, FAULT_NONE);
  return plane_map_at(&back, mm);
}

static inline double made_grey(Point p)
{
  double roof = MADE_ROOF * (1 - p.x * p.x / (MADE_FOOT * MADE_FOOT));
  if (p.y > 0 && p.y < 7 && fabs(p.x) < 6 && p.y > roof)
    return 0.8;
  if (p.y > -1.3 && p.y < -0.8 && fabs(remainder(p.x, 0.5)) < 0.04)
    return 0.1;
  if (fabs(p.x) < 5 && p.y > 8 && p.y < 10)
    return 0.95;
  return 0.3;
}

/* 3 by 3 samples a pixel, then noise. */
static inline GdkPixbuf *made_photo(double noise)
{
  PlaneMap map = made_map();
  GdkPixbuf *photo = gdk_pixbuf_new(GDK_COLORSPACE_RGB, FALSE, 8, MADE_WIDTH, MADE_HEIGHT);
  guchar *row = gdk_pixbuf_get_pixels(photo);
  uint64_t state = 5;
  for (int j = 0; j < MADE_HEIGHT; j++, row += gdk_pixbuf_get_rowstride(photo))
    for (int i = 0; i < MADE_WIDTH; i++) {
      double grey = 0;
      for (int k = 0; k < 9; k++)
        grey += made_grey(plane_map_at(&map, point(i + (k % 3 + 0.5) / 3, j + (k / 3 + 0.5) / 3)));
      grey = 255 * (grey / 9 + noise * (random_unit(&state) + random_unit(&state) - 1));
      for (int k = 0; k < 3; k++)
        row[3 * i + k] = (guchar)CLAMP(grey, 0, 255);
    }
  return photo;
}

static inline GBytes *made_bytes(GdkPixbuf *photo, const char *kind)
{
  char *text;
  gsize n;
  GError *error = NULL;
  gdk_pixbuf_save_to_buffer(photo, &text, &n, kind, &error, NULL);
  g_assert_no_error(error);
  return g_bytes_new_take(text, n);
}
