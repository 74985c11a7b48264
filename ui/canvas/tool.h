/* tool.h - what a hand can do on the drawing: one const table a tool.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Places are mm in the frame of the connector.  All edits go through the session. */
#pragma once
#include "outline/stroke.h"
#include "ui/drawing/picture_connector.h"
#include "ui/drawing/signs.h"
#include "ui/session.h"
#include <gtk/gtk.h>

/* The hand on the drawing, kept by the canvas. */
typedef struct {
  SoffitSession *session; /* borrowed */
  View view;
  double reach_px;     /* how near is on it: 12 for a mouse, 22 for pen and finger             */
  bool busy;           /* between press and release                                            */
  GArray *pen;         /* PenPoint: the stroke so far                                          */
  Outline before;      /* gum-side outline when the hand came down                             */
  size_t chosen;       /* knot; SIZE_MAX = none                                                */
  Point grip;          /* where in the knot it was taken                                       */
  const char *trouble; /* msgid of what went wrong, NULL = nothing                             */
  Point trouble_at;
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
  bool (*act)(Hand *hand);   /* done at once when chosen (starters); others NULL */
  void (*enter)(Hand *hand); /* when it is chosen, also again; may be NULL                    */
  bool (*key_pressed)(Hand *hand, guint key); /* true: it took the key; may be NULL */
} Tool;

extern const Tool tool_pen, tool_knot, tool_starter_u, tool_starter_v, tool_disc, tool_room,
    tool_best;

/* Keys of the knot tool. */
bool knot_nudge(Hand *hand, double dx, double dy); /* false without a chosen knot */
bool knot_remove(Hand *hand);
bool knot_step(Hand *hand, int by); /* next or previous knot is chosen */

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
