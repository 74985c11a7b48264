/* room.h - the room that an embrasure may fill, and whether an outline keeps to it.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, final sizes.  The room lies below its envelope, a line from the left foot up, over and down
 * to the right foot; an embrasure that keeps to it takes nothing from the material above.  Method:
 * core/SOURCES.md "room". */
#pragma once
#include "outline/roof_family.h"

typedef struct {
  Outline envelope; /* owned; its ends are the feet                                  */
  Outline tissue;   /* owned; gum below, n = 0: level at y = 0                       */
  Point *wall;      /* owned; n_wall points of the envelope, chord error TOL_FLATTEN_MM */
  size_t n_wall;
  double
      lean_least[2]; /* of its legs from upright, rad: as in the automatic room, 0 in a drawn one */
  double top;        /* its highest place                                             */
  double radius_least; /* the sharpest roof that the cutter makes; 0: none known        */
  double brush_mm;     /* what must pass between outline and gum; 0: nothing asked      */
  double neck_least;   /* neck height that must stay; 0: none                           */
  bool drawn;          /* by hand; else taken from neighbours and gum line              */
} Room;

void room_init(Room *room);
void room_clear(Room *room);
/* Feet, roof height and legs that lean 5 degrees at least: the room of the embrasure as it stands.
 * The limits are the caller's to set. FAULT_RANGE without an embrasure. */
MUST_CHECK Fault room_around(const Outline *gingival, Room *room);
/* A drawn line, its ends brought down to the level of the feet of `gingival`.  FAULT_RANGE when it
 * encloses nothing (0.3 mm high, 0.4 mm wide at least) or stands outside the outline. */
MUST_CHECK Fault room_drawn(const Outline *line, const Outline *gingival, Room *room);
/* Height of the envelope above x; NaN beside it. */
double room_ceiling(const Room *room, double x);
/* The straight gum with a papilla whose tip stands `papilla` above the feet, under the neck x = 0.
 * FAULT_DEGENERATE unless the feet stand on both sides of it. */
MUST_CHECK Fault tissue_of_papilla(double papilla, const Point foot[2], Outline *tissue);

/* How an outline may leave its room. */
typedef enum {
  ROOM_KEPT,
  ROOM_LEFT,  /* it passes the envelope           */
  ROOM_WAVY,  /* the roof turns the other way     */
  ROOM_SHARP, /* sharper than the cutter can make */
  ROOM_BRUSH, /* the brush does not pass          */
  ROOM_NECK,  /* less neck than must stay         */
  ROOM_BREACH_N
} RoomBreach;

/* What a roof may pass the envelope by, and how much sharper than the cutter it may be: chord and
 * curvature errors of cubics. */
#define ROOM_TOUCH_MM 2e-3
#define ROOM_SHARP_SHARE 0.01
/* Looks at the outline itself, not at how it was made.
 *   occlusal  in   NULL: the neck is not looked at
 *   *breach   out  the first that is met, in the order above; *where (may be NULL) its place */
MUST_CHECK Fault room_check(const Room *room, const Outline *gingival, const Outline *occlusal,
                            RoomBreach *breach, Point *where);
const char *room_breach_text(RoomBreach breach); /* English msgid */

/* A roof in the room: both halves of roof_family.h from this apex, brought down to the envelope. */
MUST_CHECK Fault room_fill(const Room *room, const Outline *gingival, Point apex,
                           const RoofHalf half[2], Outline *outline);
/* The outline `share` of the way from one to the other, 0 .. 1: apex to apex, foot to foot, by
 * equal parts of their lengths.  In a convex room a part keeps to what both ends keep to. */
MUST_CHECK Fault outline_blend(const Outline *from, const Outline *to, double share,
                               Outline *outline);
