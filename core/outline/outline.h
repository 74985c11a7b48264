/* outline.h - a drawn line: a chain of cubic Bezier pieces through knots.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Units mm; curvature 1/mm.  Elevation: x mesio-distal, y up (toward the biting side).  Plan: x the
 * same, y of the Point is z, buccal side positive.  Open outlines of a connector run from small x
 * (the unit listed first) to large x.  Closed outlines run counter-clockwise (material on the
 * left). A place on an outline is its parameter t in [0, pieces]: piece floor(t), Bezier parameter
 * t - floor(t). Nothing here prints or keeps state. */
#pragma once
#include "base/fault.h"
#include "base/vec.h"
#include <stdbool.h>
#include <stddef.h>

typedef struct {
  Point at;      /* the knot itself                                           */
  Point in, out; /* control points before and after it, absolute; = at if none */
} Knot;

typedef struct {
  Knot *knot; /* owned, n of them                                           */
  size_t n;
  size_t room; /* allocated                                                  */
  bool closed; /* a piece joins the last knot to the first                   */
} Outline;

/* A corner of the trade notation "(x, y; r R)": straight lines between corners, each rounded by r.
 */
typedef struct {
  double x, y, r;
} Corner;

void outline_init(Outline *outline);
void outline_clear(Outline *outline); /* accepts NULL and cleared outlines */
MUST_CHECK Fault outline_copy(Outline *to,
                              const Outline *from); /* `to` must be inited; is replaced */
bool outline_equal(const Outline *a, const Outline *b, double tolerance_mm);
/* Finite, inside MAX_SIZE_MM, at least 2 knots (3 if closed), no zero-length piece. */
MUST_CHECK Fault outline_check(const Outline *outline);

/* Builders: append a first knot, then straight or curved pieces. */
MUST_CHECK Fault outline_move_to(Outline *outline, Point p);
MUST_CHECK Fault outline_line_to(Outline *outline, Point p);
MUST_CHECK Fault outline_curve_to(Outline *outline, Point c1, Point c2, Point p);
/* Circular arc from the last knot around `centre`, turning by `angle` rad (left positive), as
 * cubics of at most 30 degrees (radial error < 1e-6 r, curvature error < 2e-3). */
MUST_CHECK Fault outline_arc_to(Outline *outline, Point centre, double angle);
/* Closes with a straight piece, or by merging the last knot with the first where they meet. */
MUST_CHECK Fault outline_close(Outline *outline);
/* Appends the stretch of `from` between t0 <= t1; starts `to` there when it is empty, else the
 * stretch must begin at its last knot. */
MUST_CHECK Fault outline_append_part(Outline *to, const Outline *from, double t0, double t1);
/* Corners of the trade notation; a radius too large for its legs is FAULT_RANGE. */
MUST_CHECK Fault outline_from_corners(Outline *outline, const Corner corner[], size_t n);
MUST_CHECK Fault outline_from_points(Outline *outline, const Point at[], size_t n, bool closed);

size_t outline_pieces(const Outline *outline);
/* The four control points of piece i in [0, pieces). */
void outline_piece(const Outline *outline, size_t i, Point control[4]);
/* t of a closed outline brought back into [0, pieces) from less than once round outside. */
double outline_wrap(const Outline *outline, double t);
Point outline_at(const Outline *outline, double t);
/* First and second derivative by t; either may be NULL. */
void outline_derivatives(const Outline *outline, double t, Point *first, Point *second);
/* Signed curvature, left turn positive. */
double outline_curvature(const Outline *outline, double t);
double outline_length(const Outline *outline);
double outline_area(const Outline *outline); /* closed only; counter-clockwise positive */
/* t of the place nearest to p, and the distance if not NULL. */
double outline_nearest(const Outline *outline, Point p, double *distance_mm);

/* x' = a x + c y + e;  y' = b x + d y + f  (the SVG matrix order) */
void outline_transform(Outline *outline, const double matrix[6]);
void outline_reverse(Outline *outline);
/* The same outline mirrored about x = axis, still running from small to large x. */
void outline_mirror(Outline *outline, double axis);
/* Cuts at t (a knot is put there) and returns its index in *knot. Shape unchanged. */
MUST_CHECK Fault outline_split(Outline *outline, double t, size_t *knot);
/* Replaces the stretch between t0 < t1 by `stretch`, whose ends are joined to the outline smoothly.
 */
MUST_CHECK Fault outline_replace(Outline *outline, double t0, double t1, const Outline *stretch);

/* Polyline with at most `tolerance_mm` chord error. */
typedef struct {
  Point *at; /* owned */
  double *t; /* owned: place on the outline of each point      */
  double *s; /* owned: arc length from the start, mm           */
  size_t n;
} Polyline;
MUST_CHECK Fault outline_flatten(const Outline *outline, double tolerance_mm, Polyline *line);
void polyline_clear(Polyline *line);

/* First place where the outline crosses itself: FAULT_CROSSING and *where, or FAULT_NONE. */
MUST_CHECK Fault outline_find_crossing(const Outline *outline, Point *where);
/* First place where two outlines cross each other. */
MUST_CHECK Fault outlines_find_crossing(const Outline *a, const Outline *b, Point *where);

/* SVG path data in and out.  All commands M L H V C S Q T A Z, absolute and relative; one subpath.
 * On error FAULT_RANGE and *bad_at = byte offset of the first wrong character.  y is taken as it
 * stands. The numbers may be other than mm: transform, then outline_check(). */
MUST_CHECK Fault outline_from_path(Outline *outline, const char *d, size_t *bad_at);
/* Writes "M x y C ..." (L for straight pieces) with 6 decimals trimmed, '.' always; returns the
 * length needed. */
size_t outline_to_path(const Outline *outline, char *buf, size_t room);
