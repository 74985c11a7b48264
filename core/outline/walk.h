/* walk.h - going along a drawn line: steps, landmarks, and how the line bends where one stands.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, degrees.  `t` is a place on the outline (outline.h).  Open outlines of at least 2 knots. */
#pragma once
#include "outline/form.h"

/* Way along the line from its start to t, mm. */
double walk_way(const Outline *outline, double t);
/* *to: `by_mm` further along the line from t (negative: back), held at its ends. */
MUST_CHECK Fault walk_step(const Outline *outline, double t, double by_mm, double *to);

/* Running from small to large x, material above: a roof is hollow. */
typedef enum { BEND_STRAIGHT, BEND_HOLLOW, BEND_BULGING, BEND_CORNER } BendKind;

typedef struct {
  Point at;
  BendKind kind;
  Banded radius;     /* HOLLOW, BULGING: with the band of WALK_REACH_MM to either side */
  double corner_deg; /* CORNER: sudden change of direction                              */
} WalkBend;
#define WALK_REACH_MM 0.02    /* the finest step                        */
#define WALK_STRAIGHT_MM 50.0 /* a larger radius is told as straight    */
#define WALK_CORNER_DEG 1.0   /* a smaller turn at a knot is no corner  */
MUST_CHECK Fault walk_bend(const Outline *outline, double t, WalkBend *bend);

/* The places that one jumps between.  Leg: half way between foot and roof, by length of line. */
typedef enum {
  LANDMARK_FOOT_LEFT,
  LANDMARK_LEG_LEFT,
  LANDMARK_ROOF,
  LANDMARK_NECK,
  LANDMARK_HOT_SPOT,
  LANDMARK_LEG_RIGHT,
  LANDMARK_FOOT_RIGHT,
  LANDMARK_N
} LandmarkKind;
typedef struct {
  LandmarkKind kind;
  double t;
} Landmark;
#define WALK_SAME_MM 0.005 /* nearer, two places are one */

/* Those that are known, in the order of the line; returns how many.
 *   hot  in  hot spot in the elevation, NaN or far from this line: none */
size_t walk_landmarks(const Outline *outline, const Form *form, Point hot,
                      Landmark mark[LANDMARK_N]);
