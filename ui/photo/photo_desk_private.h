/* photo_desk_private.h - the inside of a photo desk: picture, marks and placement share it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/photo/photo_desk.h"

struct _SoffitPhotoDesk {
  GObject parent;
  SoffitSession *session; /* owned ref */
  /* picture */
  PhotoState state;
  char *why;           /* owned */
  char *sha;           /* owned: of `pixels`, or of what is sought */
  size_t connector;    /* whose photo is shown */
  PhotoPixels *pixels; /* owned ref; NULL until it came */
  Underlay *underlay;  /* owned ref */
  PlaneMap shown_map;  /* of the underlay */
  double shown_px_mm, px_mm;
  bool hidden, rastering, stale, active;
  unsigned serial; /* of the picture sought: answers of others are dropped */
  /* marks */
  PhotoMode mode;
  Point mark[PHOTO_MARKS]; /* px */
  size_t n_mark, chosen;
  Point cross; /* mm */
  bool has_cross;
  /* tracing */
  bool cling;
  double reach_mm;
};

void photo_desk_tell(SoffitPhotoDesk *desk);                       /* "changed" */
void photo_desk_trouble(SoffitPhotoDesk *desk, const char *words); /* "trouble" */
void photo_desk_look(SoffitPhotoDesk *desk);                       /* case or neck changed */
void photo_desk_raster(SoffitPhotoDesk *desk); /* asks for the picture as it lies now */
/* px to mm and back; false without a photo. */
bool photo_desk_map(SoffitPhotoDesk *desk, PlaneMap *px_to_mm, PlaneMap *mm_to_px);
/* As it is first laid below the drawing: as wide as both units, its middle at the neck. */
void photo_desk_lay(const Case *c, size_t connector, double width, double height,
                    PhotoPlane *plane);
