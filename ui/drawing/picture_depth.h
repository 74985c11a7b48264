/* picture_depth.h - one connector in depth: its surface with the solid's stress, turned at will.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "assess.h"
#include "ui/drawing/depth_raster.h"
#include "ui/drawing/text.h"

#define DEPTH_TILT_MOST 1.5 /* rad: not quite from above or below */

typedef struct {
  double turn, tilt; /* see DepthView                      */
  double zoom;       /* 1: the whole connector fits        */
} DepthEye;
#define DEPTH_EYE_START ((DepthEye){0.25, -0.8, 1.3})

/* Trial load.  Says in words where there is nothing to show.
 *   fine  in  two pixels for one each way: smooth edges, for a picture at rest */
void picture_depth(cairo_t *cr, int width, int height, const DrawContext *context,
                   const Assessment *a, size_t connector, DepthEye eye, bool fine);
/* From where the eye looks, and a msgid for each part: "from the cheek", "from below" ("" level).
 */
void depth_words(const Assessment *a, size_t connector, DepthEye eye, const char *words[2]);
