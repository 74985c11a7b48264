/* picture_surface.h - a scanned bridge from the cheek and from above, with the planes of its necks.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * px; places along the span, up and to the cheek in mm of the span's frame. */
#pragma once
#include "mesh/neck.h"
#include "ui/drawing/text.h"

typedef struct {
  const MeshSpan *span; /* borrowed */
  const Neck *plane;    /* borrowed, n: one for each connector of the case */
  const bool *used;     /* borrowed, n: the others are drawn thin          */
  char (*name)[12];     /* borrowed, n: "34/35"                            */
  size_t n, chosen;
} SurfacePicture;

typedef struct {
  View up, plan;  /* elevation: x, y; plan: x, z */
  double parting; /* px between the two          */
} SurfaceViews;

SurfaceViews surface_views(int width, int height, const DrawContext *context, const MeshSpan *span);
void picture_surface(cairo_t *cr, int width, int height, const DrawContext *context,
                     const SurfacePicture *picture);
