/* tool_knot.c - take a knot or its tangent and move it; add, remove, smooth, sharpen, mirror.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "outline/shape.h"
#include "ui/canvas/tool.h"
#include "ui/words.h"
#include <math.h>

static double reach_mm(const Hand *hand)
{
  return hand->reach_px / hand->view.scale;
}

/* The tangent of the chosen knot that is under the hand. */
static KnotPart part_near(const Hand *hand, Point at)
{
  const Outline *outline = hand_outline(hand);
  double best = reach_mm(hand);
  KnotPart found = KNOT_ITSELF;
  for (KnotPart part = KNOT_IN; part <= KNOT_OUT; part++) {
    if (!knot_has(outline, hand->chosen, part))
      continue;
    double d = point_distance(knot_part_at(outline, hand->chosen, part), at);
    if (d < best) {
      best = d;
      found = part;
    }
  }
  return found;
}

/* A knot at place t of the line, as a step of its own; it is chosen. */
static bool knot_put(Hand *hand, double t)
{
  Outline outline;
  outline_init(&outline);
  size_t index = SIZE_MAX;
  Fault fault = outline_copy(&outline, hand_outline(hand));
  if (!fault)
    fault = outline_split(&outline, t, &index);
  hand_redraw(hand, N_("Add knot"), fault, &outline, point(NAN, NAN));
  outline_clear(&outline);
  if (hand->trouble)
    return false;
  hand->chosen = index;
  hand->part = KNOT_ITSELF;
  hand_say(hand, _("Knot added"));
  return true;
}

static double line_near(const Hand *hand, Point at, double *t)
{
  double distance;
  *t = outline_nearest(hand_outline(hand), at, &distance);
  return distance;
}

bool knot_line_at(const Hand *hand, Point at)
{
  double t;
  return line_near(hand, at, &t) < reach_mm(hand);
}

bool knot_add_at(Hand *hand, Point at)
{
  double t;
  return line_near(hand, at, &t) < reach_mm(hand) && knot_put(hand, t);
}

bool knot_choose_at(Hand *hand, Point at)
{
  hand->chosen = knot_near(hand_outline(hand), at, reach_mm(hand), NULL);
  hand->part = KNOT_ITSELF;
  return hand->chosen != SIZE_MAX;
}

/* The second press of two at one place. */
static bool pressed_twice(Hand *hand, Point at)
{
  int within_ms = 400;
  g_object_get(gtk_settings_get_default(), "gtk-double-click-time", &within_ms, NULL);
  gint64 now = g_get_monotonic_time();
  bool twice = now - hand->pressed_us < within_ms * 1000 &&
               point_distance(at, hand->pressed_at) < reach_mm(hand);
  hand->pressed_us = twice ? 0 : now;
  hand->pressed_at = at;
  return twice;
}

static void knot_press(Hand *hand, const PenPoint *at)
{
  bool twice = pressed_twice(hand, at->at);
  KnotPart part = part_near(hand, at->at);
  size_t knot = knot_near(hand_outline(hand), at->at, reach_mm(hand), NULL);
  hand->trouble = NULL;
  if (part == KNOT_ITSELF || knot == hand->chosen) {
    part = knot != SIZE_MAX && knot == hand->chosen ? KNOT_ITSELF : part;
    hand->chosen = knot;
  }
  hand->part = part;
  if (hand->chosen == SIZE_MAX && twice)
    knot_add_at(hand, at->at);
  if (hand->chosen == SIZE_MAX || outline_copy(&hand->before, hand_outline(hand)) ||
      !session_edit_begin(hand->session, part ? N_("Turn tangent") : N_("Move knot")))
    return;
  hand->busy = true;
  hand->targets = hand_targets(hand, false);
  hand->grip = point_sub(knot_part_at(&hand->before, hand->chosen, part), at->at);
}

/* Puts a changed line in the place of the one drawn, inside an edit. */
static Fault line_set(Hand *hand, Fault fault, const Outline *outline)
{
  if (!fault)
    fault = outline_check(outline);
  if (!fault)
    fault = outline_find_crossing(outline, &hand->trouble_at);
  if (!fault)
    fault =
        session_set_outline(hand->session, session_focus(hand->session), SIDE_GINGIVAL, outline);
  hand->trouble = fault ? fault_text(fault) : NULL;
  return fault;
}

static Fault knot_place(Hand *hand, Point to)
{
  Outline outline;
  outline_init(&outline);
  Fault fault = outline_copy(&outline, &hand->before);
  if (!fault)
    fault = knot_move(&outline, hand->chosen, hand->part, to);
  fault = line_set(hand, fault, &outline);
  outline_clear(&outline);
  return fault;
}

static void knot_drag(Hand *hand, const PenPoint at[], size_t n)
{
  if (!hand->busy || n == 0)
    return;
  Point to = hand_snap(hand, &hand->targets, point_add(at[n - 1].at, hand->grip));
  if (knot_place(hand, to) == FAULT_NONE)
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

/* ---- keys ---- */

static bool has_chosen(const Hand *hand)
{
  return hand->chosen < hand_outline(hand)->n;
}

static void say_place(Hand *hand)
{
  static const char *const name[] = {N_("Knot %zu of %zu, %s: %s, %s mm"),
                                     N_("Tangent before knot %zu of %zu, %s: %s, %s mm"),
                                     N_("Tangent after knot %zu of %zu, %s: %s, %s mm")};
  const Outline *outline = hand_outline(hand);
  Point at = knot_part_at(outline, hand->chosen, hand->part);
  g_autofree char *x = words_number(at.x, 2), *y = words_number(at.y, 2);
  const char *kind = knot_smooth(outline, hand->chosen) ? _("smooth") : _("sharp");
  g_autofree char *words =
      g_strdup_printf(_(name[hand->part]), hand->chosen + 1, outline->n, kind, x, y);
  hand_say(hand, words);
}

bool knot_nudge(Hand *hand, double dx, double dy)
{
  const Outline *outline = hand_outline(hand);
  const char *name = hand->part ? N_("Turn tangent") : N_("Move knot");
  if (!has_chosen(hand) || outline_copy(&hand->before, outline) ||
      !session_edit_begin_series(hand->session, name))
    return false;
  Point from = knot_part_at(&hand->before, hand->chosen, hand->part);
  hand_settle(hand, knot_place(hand, point_add(from, point(dx, dy))));
  say_place(hand);
  return true;
}

/* One named step that changes the chosen knot. */
static bool knot_change(Hand *hand, const char *name, Fault (*change)(Outline *, size_t))
{
  if (!has_chosen(hand))
    return false;
  Outline outline;
  outline_init(&outline);
  Point at = hand_outline(hand)->knot[hand->chosen].at;
  Fault fault = outline_copy(&outline, hand_outline(hand));
  if (!fault)
    fault = change(&outline, hand->chosen);
  if (!fault)
    fault = outline_find_crossing(&outline, &at);
  hand_redraw(hand, name, fault, &outline, at);
  outline_clear(&outline);
  return true;
}

bool knot_remove(Hand *hand)
{
  if (!knot_has(hand_outline(hand), hand->chosen, KNOT_IN) ||
      !knot_has(hand_outline(hand), hand->chosen, KNOT_OUT) ||
      !knot_change(hand, N_("Remove knot"), knot_drop))
    return false;
  if (!hand->trouble) {
    hand->chosen = SIZE_MAX;
    hand->part = KNOT_ITSELF;
    hand_say(hand, _("Knot removed"));
  }
  return true;
}

bool knot_turn(Hand *hand)
{
  if (!has_chosen(hand))
    return false;
  bool smooth = knot_smooth(hand_outline(hand), hand->chosen);
  if (!knot_change(hand, smooth ? N_("Make knot sharp") : N_("Make knot smooth"),
                   smooth ? knot_make_sharp : knot_make_smooth))
    return false;
  say_place(hand);
  return true;
}

bool knot_add_after(Hand *hand)
{
  const Outline *outline = hand_outline(hand);
  if (outline->n < 2)
    return false;
  size_t top = 0;
  for (size_t i = 1; i < outline->n; i++)
    if (outline->knot[i].at.y > outline->knot[top].at.y)
      top = i;
  size_t from = has_chosen(hand) ? hand->chosen : top;
  return knot_put(hand, (double)MIN(from, outline_pieces(outline) - 1) + 0.5);
}

bool knot_choose_part(Hand *hand, KnotPart part)
{
  if (!knot_has(hand_outline(hand), hand->chosen, part))
    return false;
  hand->part = hand->part == part ? KNOT_ITSELF : part;
  say_place(hand);
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
  hand->part = KNOT_ITSELF;
  say_place(hand);
  return true;
}

bool knot_mirror(Hand *hand, int keep_side)
{
  Outline outline;
  outline_init(&outline);
  Fault fault = shape_mirror_leg(hand_outline(hand), keep_side, &outline);
  hand_redraw(hand, keep_side < 0 ? N_("Mirror the left flank") : N_("Mirror the right flank"),
              fault, &outline, point(NAN, NAN));
  outline_clear(&outline);
  hand->chosen = SIZE_MAX;
  if (!hand->trouble)
    hand_say(hand, keep_side < 0 ? _("The right flank is the left one mirrored")
                                 : _("The left flank is the right one mirrored"));
  return true;
}

const Tool tool_knot = {.id = "knot",
                        .name = N_("Knots: take one and move it; tap the line twice for a new one"),
                        .key = GDK_KEY_k,
                        .icon = ICON_KNOT,
                        .press = knot_press,
                        .move = knot_drag,
                        .release = knot_release,
                        .cancel = knot_cancel};
