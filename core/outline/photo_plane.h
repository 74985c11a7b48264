/* photo_plane.h - how a photo lies on the drawing: straightened, scaled, placed; and how well that
 * is known. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * px of the upright photo, u right, v down, (0, 0) its upper left corner; mm in the frame of the
 * connector, y up; degrees.  The marks lie in the plane of the connector: what stands nearer to the
 * lens is larger than it seems.  Method: core/SOURCES.md "photo". */
#pragma once
#include "outline/outline.h"
#include "outline/plane_map.h"

#define PHOTO_MARKS 24       /* most ticks of a ruler */
#define PHOTO_PX_MOST 100000 /* of a side */
#define PHOTO_MARK_PX 1.5    /* how far a mark is off where nothing else is said: own assumption */

typedef struct {
  double width, height; /* px; 0 = no photo */
  /* Straighten: the corners of a rectangle, in the order of quad_order. */
  Point corner[4];
  bool straightened;
  double rect_width, rect_height; /* mm, or their ratio alone where rect_error is NaN */
  double rect_error;              /* mm: each side is known to +- this */
  /* Scale: two places of known distance, or ticks of a ruler, neighbours equally far apart. */
  Point mark[PHOTO_MARKS];
  size_t n_mark;                   /* 0, or 2 .. PHOTO_MARKS */
  double distance, distance_error; /* mm, of neighbours; +- mm */
  double mark_error;               /* px: how far a mark is off; NaN = PHOTO_MARK_PX */
  /* Placement by hand: middle of the photo (of the rectangle, when straightened), mm. */
  double x, y, turn_deg;
  double zoom; /* mm a px; while nothing gives a scale */
} PhotoPlane;

/* No scale, no marks, `wide` mm across, its middle at `at`. */
void photo_plane_init(PhotoPlane *plane, double width, double height, double wide_mm, Point at);
/* FAULT_UNSCALED without marks and without a rectangle of known size. */
MUST_CHECK Fault photo_scale(const PhotoPlane *plane, double *mm_px, double *error_percent);
/* px to mm; FAULT_DEGENERATE when corners or marks make no sense. */
MUST_CHECK Fault photo_map(const PhotoPlane *plane, PlaneMap *px_to_mm);

/* Each changes the plane and keeps `still` (mm) where it is; *carry, px of mm before to mm after,
 * may be NULL: for lines that were traced on the photo.  On a fault nothing is changed. */
MUST_CHECK Fault photo_set_corners(PhotoPlane *plane, const Point corner[4], double width,
                                   double height, double error, Point still, PlaneMap *carry);
MUST_CHECK Fault photo_set_marks(PhotoPlane *plane, const Point mark[], size_t n, double distance,
                                 double error, double mark_error, Point still, PlaneMap *carry);
MUST_CHECK Fault photo_straighten_off(PhotoPlane *plane, Point still, PlaneMap *carry);
MUST_CHECK Fault photo_scale_off(PhotoPlane *plane, Point still, PlaneMap *carry);
/* Turned about `still`; zoomed only while nothing gives a scale. */
void photo_turn(PhotoPlane *plane, double by_deg, Point still);
void photo_zoom(PhotoPlane *plane, double factor, Point still);

/* Knots and handles one by one: exact for a scale, to second order of a piece for a perspective. */
MUST_CHECK Fault outline_carry(Outline *outline, const PlaneMap *carry);
