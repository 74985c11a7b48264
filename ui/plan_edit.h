/* plan_edit.h - cheek and tongue outline under the hand: every change of them as an edit of the
 * session. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm; Point.x mesio-distal, Point.y = z, cheek +.  Of the current connector.  A change that no body
 * can follow is not made: the last good outlines stay, and `trouble` says what is wrong and where.
 */
#pragma once
#include "ui/session.h"

typedef struct {
  SoffitSession *session; /* borrowed */
  Side side;              /* SIDE_BUCCAL or SIDE_LINGUAL: whose knot is chosen */
  size_t knot;            /* SIZE_MAX: none */
  bool alike;             /* the other side is kept the image of the changed one */
  bool dragging;
  Outline before;   /* owned: the line at the begin of a drag */
  char *trouble;    /* owned; NULL: none */
  Point trouble_at; /* NaN: nowhere in particular */
} PlanHand;

/* No knot chosen; alike when both sides are. */
void plan_hand_init(PlanHand *hand, SoffitSession *session);
void plan_hand_clear(PlanHand *hand); /* a drag at hand is ended */

const Outline *plan_line(const PlanHand *hand, Side side); /* borrowed; empty without a case */
bool plan_chosen(const PlanHand *hand);                    /* a knot that is there is chosen */
/* The knot of either line nearest to a place, nearer than reach_mm; false, and none, without. */
bool plan_choose_at(PlanHand *hand, Point at, double reach_mm);
void plan_choose_next(PlanHand *hand, int by); /* around both lines, the cheek side first */
/* "Cheek side, point 3 of 9, smooth: …"; owned; NULL when none is chosen. */
char *plan_place_words(const PlanHand *hand);
/* Looks at the outlines as they stand: sets or clears the trouble. */
void plan_look(PlanHand *hand);

/* Each true when the outlines followed. */
bool plan_drag_begin(PlanHand *hand); /* of the chosen knot: one step until the end */
bool plan_drag_to(PlanHand *hand, Point to);
void plan_drag_end(PlanHand *hand);
bool plan_nudge(PlanHand *hand, Point by); /* a series is one step */
/* In the middle of the piece behind the chosen knot; the new knot is chosen. */
bool plan_add(PlanHand *hand);
/* At the place of either line nearest to `at`, nearer than reach_mm. */
bool plan_add_at(PlanHand *hand, Point at, double reach_mm);
bool plan_remove(PlanHand *hand);
bool plan_turn(PlanHand *hand); /* smooth becomes sharp, sharp smooth */
/* The other side becomes the image of the one whose knot is chosen, of the cheek side without. */
bool plan_set_alike(PlanHand *hand, bool alike);
/* Both outlines back to Soffit, which proposes them from the sizes. */
bool plan_propose(PlanHand *hand);
bool plan_drawn(const PlanHand *hand); /* there is something to give back */
