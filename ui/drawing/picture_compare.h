/* picture_compare.h - two outlines of one connector under the same load: side by side, or one on
 * the other with the difference shaded. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Warm and hatched: pulled more than today; cool: pulled less; the largest of both bear sign and
 * figure. */
#pragma once
#include "ui/drawing/difference.h"
#include "ui/drawing/picture_connector.h"

typedef struct {
  const Assessment *today, *other; /* of bridges that differ in this connector alone */
  size_t connector;
  const Difference *difference; /* NULL: none is known */
  const char *name;             /* of the other */
  bool beside;
} ComparePicture;
/* The crowns begin below name and figures, which take COMPARE_HEAD_PX. */
#define COMPARE_HEAD_PX 46.0
View compare_view(const ComparePicture *picture, int width, int height, const DrawContext *context);
void picture_compare(cairo_t *cr, int width, int height, const DrawContext *context,
                     const ComparePicture *picture);
