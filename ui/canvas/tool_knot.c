/* tool_knot.c - take a knot and move it; add, remove, nudge; set the mark of a disc.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "outline/shape.h"
#include "ui/canvas/tool.h"
#include <math.h>

#define DISC_DEPTH_MM 0.2 /* a slip of the disc as often seen: common practice, no source */
#define DISC_EDGE_MM 0.1  /* half the edge of a thin disc                                 */

static size_t knot_near(const Hand *hand, Point at)
{
  const Outline *outline = hand_outline(hand);
  double best = hand->reach_px / hand->view.scale;
  size_t found = SIZE_MAX;
  for (size_t i = 0; i < outline->n; i++) {
    double d = point_distance(outline->knot[i].at, at);
    if (d < best) {
      best = d;
      found = i;
    }
  }
  return found;
}

/* A knot where the hand is on the line but on no knot. */
static size_t knot_add(Hand *hand, Point at)
{
  double distance, t = outline_nearest(hand_outline(hand), at, &distance);
  Outline outline;
  outline_init(&outline);
  size_t index = SIZE_MAX;
  if (distance < hand->reach_px / hand->view.scale &&
      outline_copy(&outline, hand_outline(hand)) == FAULT_NONE &&
      outline_split(&outline, t, &index) == FAULT_NONE &&
      session_set_outline(hand->session, session_focus(hand->session), SIDE_GINGIVAL, &outline) !=
          FAULT_NONE)
    index = SIZE_MAX;
  outline_clear(&outline);
  return index;
}

static void knot_press(Hand *hand, const PenPoint *at)
{
  hand->trouble = NULL;
  hand->chosen = knot_near(hand, at->at);
  if (!session_edit_begin(hand->session, N_("Move knot")))
    return;
  hand->busy = true;
  if (hand->chosen == SIZE_MAX)
    hand->chosen = knot_add(hand, at->at);
  if (hand->chosen == SIZE_MAX || outline_copy(&hand->before, hand_outline(hand))) {
    session_edit_cancel(hand->session);
    hand->busy = false;
    return;
  }
  hand->grip = point_sub(hand->before.knot[hand->chosen].at, at->at);
}

static Fault knot_place(Hand *hand, Point to)
{
  Outline outline;
  outline_init(&outline);
  Fault fault = outline_copy(&outline, &hand->before);
  if (!fault) {
    Knot *knot = &outline.knot[hand->chosen];
    Point by = point_sub(to, knot->at);
    knot->at = to;
    knot->in = point_add(knot->in, by);
    knot->out = point_add(knot->out, by);
    fault = outline_check(&outline);
    if (!fault)
      fault = outline_find_crossing(&outline, &hand->trouble_at);
  }
  if (!fault)
    fault =
        session_set_outline(hand->session, session_focus(hand->session), SIDE_GINGIVAL, &outline);
  outline_clear(&outline);
  hand->trouble = fault ? fault_text(fault) : NULL;
  return fault;
}

static void knot_move(Hand *hand, const PenPoint at[], size_t n)
{
  if (hand->busy && n > 0 && knot_place(hand, point_add(at[n - 1].at, hand->grip)) == FAULT_NONE)
    session_edit_update(hand->session);
}

static void knot_release(Hand *hand)
{
  if (hand->busy)
    session_edit_end(hand->session);
  hand->busy = false;
}

static void knot_cancel(Hand *hand)
{
  if (hand->busy)
    session_edit_cancel(hand->session);
  hand->busy = false;
}

bool knot_nudge(Hand *hand, double dx, double dy)
{
  const Outline *outline = hand_outline(hand);
  if (hand->chosen >= outline->n || outline_copy(&hand->before, outline) ||
      !session_edit_begin_series(hand->session, N_("Move knot")))
    return false;
  hand_settle(hand, knot_place(hand, point_add(hand->before.knot[hand->chosen].at, point(dx, dy))));
  return true;
}

bool knot_remove(Hand *hand)
{
  const Outline *now = hand_outline(hand);
  if (hand->chosen == 0 || hand->chosen + 1 >= now->n || now->n < 4)
    return false;
  Outline outline;
  outline_init(&outline);
  Fault fault = outline_copy(&outline, now);
  if (!fault) {
    for (size_t i = hand->chosen; i + 1 < outline.n; i++)
      outline.knot[i] = outline.knot[i + 1];
    outline.n--;
    fault = outline_find_crossing(&outline, &hand->trouble_at);
  }
  hand_redraw(hand, N_("Remove knot"), fault, &outline, hand->trouble_at);
  outline_clear(&outline);
  hand->chosen = SIZE_MAX;
  return true;
}

bool knot_step(Hand *hand, int by)
{
  size_t n = hand_outline(hand)->n;
  if (n == 0)
    return false;
  if (hand->chosen >= n)
    hand->chosen = by > 0 ? 0 : n - 1;
  else
    hand->chosen = by > 0 ? (hand->chosen + 1) % n : (hand->chosen + n - 1) % n;
  return true;
}

static void disc_press(Hand *hand, const PenPoint *at)
{
  double distance, t = outline_nearest(hand_outline(hand), at->at, &distance);
  size_t connector = session_focus(hand->session);
  Outline outline;
  outline_init(&outline);
  if (distance > 2 * hand->reach_px / hand->view.scale)
    return;
  Fault fault = shape_disc_mark(hand_outline(hand), t, DISC_DEPTH_MM, DISC_EDGE_MM, &outline);
  Case *c = fault ? NULL : session_edit_begin(hand->session, N_("Set disc mark"));
  if (c) {
    fault = session_set_outline(hand->session, connector, SIDE_GINGIVAL, &outline);
    SurfaceEvent event = {.kind = EVENT_DISC,
                          .at_x = at->at.x,
                          .depth = DISC_DEPTH_MM,
                          .edge_radius = DISC_EDGE_MM,
                          .water = ANSWER_UNKNOWN};
    if (!fault) {
      g_array_append_val(c->connector[connector].event, event);
      c->connector[connector].finish[ZONE_ROOF] = FINISH_DISC_CUT;
    }
    hand_settle(hand, fault);
  }
  outline_clear(&outline);
  hand->trouble = fault ? fault_text(fault) : NULL;
  hand->trouble_at = at->at;
}

const Tool tool_knot = {.id = "knot",
                        .name = N_("Knots: take one and move it"),
                        .key = GDK_KEY_k,
                        .icon = ICON_KNOT,
                        .press = knot_press,
                        .move = knot_move,
                        .release = knot_release,
                        .cancel = knot_cancel};
const Tool tool_disc = {.id = "disc",
                        .name = N_("Disc mark: tap where the disc slipped"),
                        .key = GDK_KEY_m,
                        .icon = ICON_DISC,
                        .press = disc_press};
