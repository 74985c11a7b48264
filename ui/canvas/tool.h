/* tool.h - what a hand can do on the drawing: one const table a tool.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Places are mm in the frame of the connector.  All edits go through the session. */
#pragma once
#include "outline/knot.h"
#include "outline/measure.h"
#include "outline/stroke.h"
#include "outline/walk.h"
#include "ui/canvas/snap.h"
#include "ui/drawing/picture_connector.h"
#include "ui/drawing/signs.h"
#include "ui/photo/photo_desk.h"
#include "ui/session.h"
#include <gtk/gtk.h>

/* The hand on the drawing, kept by the canvas. */
typedef struct {
  SoffitSession *session; /* borrowed */
  SoffitPhotoDesk *photo; /* borrowed */
  View view;
  double reach_px;     /* how near is on it: 12 for a mouse, 22 for pen and finger             */
  bool busy;           /* between press and release                                            */
  GArray *pen;         /* PenPoint: the stroke so far                                          */
  double smoothing_mm; /* StrokeSettings.tolerance_mm of the pen                               */
  Outline before;      /* gum-side outline when the hand came down                             */
  size_t chosen;       /* knot; SIZE_MAX = none                                                */
  Point grip;          /* where in the knot it was taken                                       */
  const char *trouble; /* msgid of what went wrong, NULL = nothing                             */
  Point trouble_at;
  KnotPart part;     /* of the chosen knot: itself or a tangent                              */
  gint64 pressed_us; /* of the last press of the knot tool, and where: two make a knot       */
  Point pressed_at;
  bool free_hand; /* Ctrl is held: nothing snaps                                          */
  SnapSettings snaps;
  SnapTargets targets;    /* since the hand came down; lines: `before` and the groove             */
  Point ends[2];          /* of the pen's stroke: where they join the line; NaN: nearest place    */
  Snap snap;              /* what the last place came to rest on; words NULL: nothing             */
  MeasuredPlace place[3]; /* measured so far                                                    */
  bool walks;             /* along the gum-side line, and stands at walk_t of it                */
  double walk_t;
  size_t n_place, held; /* held: which of them is dragged or moved by keys                    */
  void (*say)(void *to, const char *words); /* for screen readers; words translated             */
  void *say_to;
} Hand;

typedef struct {
  const char *id;   /* "pen"                                  */
  const char *name; /* msgid with what it does                */
  guint key;        /* GDK key, lower case                    */
  ToolIcon icon;
  void (*press)(Hand *hand, const PenPoint *at);
  void (*move)(Hand *hand, const PenPoint at[], size_t n);
  void (*release)(Hand *hand);
  void (*cancel)(Hand *hand);
  bool (*keyed)(Hand *hand, guint key, bool fine); /* false: not its key; NULL: has none */
  bool (*act)(Hand *hand);   /* done at once when chosen (starters); others NULL */
  void (*enter)(Hand *hand); /* when it is chosen, also again; may be NULL                    */
} Tool;

extern const Tool tool_pen, tool_eraser, tool_knot, tool_starter_u, tool_starter_v, tool_disc,
    tool_measure, tool_photo, tool_room, tool_best, tool_walk;

/* Half width of what the eraser rubs out, mm. */
#define ERASER_PX 10
static inline double eraser_reach(const Hand *hand)
{
  return ERASER_PX / hand->view.scale;
}

/* Keys of the knot tool; all but step, add and mirror are false without a chosen knot. */
bool knot_nudge(Hand *hand, double dx, double dy);
bool knot_remove(Hand *hand);
bool knot_step(Hand *hand, int by);        /* next or previous knot is chosen          */
bool knot_add_after(Hand *hand);           /* half way to the next knot; none chosen: at the roof */
bool knot_add_at(Hand *hand, Point at);    /* false where there is no line  */
bool knot_choose_at(Hand *hand, Point at); /* the knot there; false: none is chosen now */
bool knot_line_at(const Hand *hand, Point at);    /* the line is within reach */
bool knot_turn(Hand *hand);                       /* smooth becomes sharp, sharp smooth       */
bool knot_choose_part(Hand *hand, KnotPart part); /* a tangent; the same again: the knot  */
bool knot_mirror(Hand *hand, int keep_side);      /* -1: the left flank to the right          */
/* Keys of the measuring tool. */
void measure_nudge(Hand *hand, double dx, double dy);
void measure_next(Hand *hand);  /* sets the next place, or begins anew after the third */
bool measure_clear(Hand *hand); /* false when nothing was measured */
/* Walking along the line. */
void walk_to(Hand *hand, double t);
void walk_begin(Hand *hand); /* at the hot spot, else at the roof      */
void walk_say(Hand *hand);   /* the place again: its stress may be new */
size_t walk_marks(const Hand *hand, Landmark mark[LANDMARK_N]); /* in order; how many */

static inline const Outline *hand_outline(const Hand *hand)
{
  return &session_case(hand->session)->connector[session_focus(hand->session)].side[SIDE_GINGIVAL];
}
/* Ends the open edit, or takes it back when it met a fault. */
static inline void hand_settle(const Hand *hand, Fault fault)
{
  if (fault)
    session_edit_cancel(hand->session);
  else
    session_edit_end(hand->session);
}
/* Draws the gum-side outline anew as one named step; the trouble of the hand says how it went. */
void hand_redraw(Hand *hand, const char *name, Fault made, const Outline *outline, Point at);
void hand_say(Hand *hand, const char *words);
/* What this tool may snap to now; *targets borrows the outlines. */
SnapTargets hand_targets(const Hand *hand, bool onto);
/* Snapped, unless Ctrl is held; hand->snap says on what. */
Point hand_snap(Hand *hand, const SnapTargets *targets, Point at);
/* Where this end of a stroke joins the line as it was, the other end at `mate` (NaN: none); NaN:
 * nowhere in particular. */
Point hand_snap_end(Hand *hand, Point mate, Point at, double join_mm);
/* "on the axis · grid"; NULL: nothing.  To be freed. */
char *snap_words(const Snap *snap);
