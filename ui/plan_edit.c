/* plan_edit.c - see plan_edit.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/plan_edit.h"
#include "base/tolerance.h"
#include "mechanics/plan_shape.h"
#include "outline/knot.h"
#include "ui/words.h"
#include <math.h>

static const Connector *joint(const PlanHand *hand)
{
  return &session_case(hand->session)->connector[session_focus(hand->session)];
}

static bool there(const PlanHand *hand)
{
  return session_focus(hand->session) + 1 < session_case(hand->session)->n_unit;
}

const Outline *plan_line(const PlanHand *hand, Side side)
{
  static const Outline none = {0};
  return there(hand) ? &joint(hand)->side[side] : &none;
}

static Side other(Side side)
{
  return side == SIDE_BUCCAL ? SIDE_LINGUAL : SIDE_BUCCAL;
}

/* ---- what is wrong ---- */

/* A place NaN: nowhere in particular.  Returns false. */
static bool trouble_set(PlanHand *hand, const char *reason, Point at)
{
  g_clear_pointer(&hand->trouble, g_free);
  hand->trouble_at = at;
  if (!reason)
    return false;
  g_autofree char *away = words_number(fabs(at.x), 2);
  hand->trouble = isnan(at.x) ? g_strdup(_(reason))
                  : at.x < 0  ? g_strdup_printf(_("%s mm left of the neck: %s"), away, _(reason))
                              : g_strdup_printf(_("%s mm right of the neck: %s"), away, _(reason));
  return false;
}

static LoftInput body_between(const Connector *k, const Outline *buccal, const Outline *lingual)
{
  return (LoftInput){.gingival = &k->side[SIDE_GINGIVAL],
                     .occlusal = &k->side[SIDE_OCCLUSAL],
                     .buccal = buccal,
                     .lingual = lingual,
                     .roundness_neck = k->roundness_neck,
                     .roundness_body = k->roundness_body,
                     .section = connector_section(k)};
}

static Fault lines_check(const PlanHand *hand, const Outline *buccal, const Outline *lingual,
                         Point *where, const char **reason)
{
  LoftInput input = body_between(joint(hand), buccal, lingual);
  return plan_check(&input, where, reason);
}

void plan_look(PlanHand *hand)
{
  Point where = {NAN, NAN};
  const char *reason = NULL;
  bool wrong = there(hand) && lines_check(hand, plan_line(hand, SIDE_BUCCAL),
                                          plan_line(hand, SIDE_LINGUAL), &where, &reason);
  trouble_set(hand, wrong ? reason : NULL, where);
}

/* ---- edits ---- */

/* Puts a line into the edit at hand where a body can follow.  Ribs that folded before, over the
 * gum side say, hinder nobody. */
static bool line_put(PlanHand *hand, Fault fault, const Outline *made)
{
  size_t connector = session_focus(hand->session);
  Side side = hand->side;
  Point where = {NAN, NAN}, before_at;
  const char *reason = fault_text(fault), *before;
  Outline image;
  outline_init(&image);
  if (!fault && hand->alike)
    fault = plan_mirror(made, &image);
  const Outline *line[2] = {made, hand->alike ? &image : plan_line(hand, other(side))};
  if (!fault)
    fault =
        lines_check(hand, line[side != SIDE_BUCCAL], line[side == SIDE_BUCCAL], &where, &reason);
  bool folded = fault == FAULT_FOLD &&
                lines_check(hand, plan_line(hand, SIDE_BUCCAL), plan_line(hand, SIDE_LINGUAL),
                            &before_at, &before) == FAULT_FOLD;
  trouble_set(hand, fault ? reason : NULL, where);
  if (folded)
    fault = FAULT_NONE;
  if (!fault)
    fault = session_set_outline(hand->session, connector, side, made);
  if (!fault && hand->alike)
    fault = session_set_outline(hand->session, connector, other(side), &image);
  outline_clear(&image);
  if (!fault)
    session_edit_update(hand->session);
  return !fault;
}

/* One whole edit; `made` is consumed. */
static bool line_edit(PlanHand *hand, const char *name, bool series, Fault fault, Outline *made)
{
  SoffitSession *session = hand->session;
  bool begun = series ? session_edit_begin_series(session, name) != NULL
                      : session_edit_begin(session, name) != NULL;
  bool put = begun && line_put(hand, fault, made);
  outline_clear(made);
  if (put)
    session_edit_end(session);
  else if (begun)
    session_edit_cancel(session);
  return put;
}

/* A copy of the line with the chosen knot, to be changed. */
static Fault line_copy(const PlanHand *hand, Outline *made)
{
  outline_init(made);
  return outline_copy(made, plan_line(hand, hand->side));
}

bool plan_drag_begin(PlanHand *hand)
{
  if (!plan_chosen(hand) || outline_copy(&hand->before, plan_line(hand, hand->side)) ||
      !session_edit_begin(hand->session, N_("Move plan point")))
    return false;
  return hand->dragging = true;
}

bool plan_drag_to(PlanHand *hand, Point to)
{
  Outline made;
  if (!hand->dragging || !session_editing(hand->session))
    return false;
  outline_init(&made);
  Fault fault = outline_copy(&made, &hand->before);
  if (!fault)
    fault = plan_move_knot(&made, hand->knot, to);
  bool put = line_put(hand, fault, &made);
  outline_clear(&made);
  return put;
}

void plan_drag_end(PlanHand *hand)
{
  if (hand->dragging)
    session_edit_end(hand->session);
  hand->dragging = false;
}

bool plan_nudge(PlanHand *hand, Point by)
{
  Outline made;
  if (!plan_chosen(hand))
    return false;
  Fault fault = line_copy(hand, &made);
  if (!fault)
    fault = plan_move_knot(&made, hand->knot, point_add(made.knot[hand->knot].at, by));
  return line_edit(hand, N_("Move plan point"), true, fault, &made);
}

static bool knot_put(PlanHand *hand, double t)
{
  Outline made;
  size_t knot = SIZE_MAX;
  Fault fault = line_copy(hand, &made);
  if (!fault)
    fault = outline_split(&made, t, &knot);
  if (!line_edit(hand, N_("Add plan point"), false, fault, &made))
    return false;
  hand->knot = knot;
  return true;
}

bool plan_add(PlanHand *hand)
{
  size_t pieces = outline_pieces(plan_line(hand, hand->side));
  return plan_chosen(hand) && knot_put(hand, (double)MIN(hand->knot, pieces - 1) + 0.5);
}

bool plan_add_at(PlanHand *hand, Point at, double reach_mm)
{
  double least = reach_mm, away, t = NAN;
  for (Side side = SIDE_BUCCAL; side <= SIDE_LINGUAL; side++) {
    if (plan_line(hand, side)->n < 2)
      continue;
    double here = outline_nearest(plan_line(hand, side), at, &away);
    if (away < least) {
      least = away;
      t = here;
      hand->side = side;
    }
  }
  return !isnan(t) && knot_put(hand, t);
}

static bool knot_change(PlanHand *hand, const char *name, Fault (*change)(Outline *, size_t))
{
  Outline made;
  Fault fault = line_copy(hand, &made);
  if (!fault)
    fault = change(&made, hand->knot);
  return line_edit(hand, name, false, fault, &made);
}

/* An end of the line can neither be taken out nor turned. */
static bool inner_chosen(PlanHand *hand)
{
  const Outline *line = plan_line(hand, hand->side);
  if (!plan_chosen(hand))
    return false;
  if (knot_has(line, hand->knot, KNOT_IN) && knot_has(line, hand->knot, KNOT_OUT))
    return true;
  return trouble_set(hand, N_("This is an end of the outline: it can be moved in and out only."),
                     point(NAN, NAN));
}

bool plan_remove(PlanHand *hand)
{
  if (!inner_chosen(hand) || !knot_change(hand, N_("Remove plan point"), knot_drop))
    return false;
  hand->knot = SIZE_MAX;
  return true;
}

bool plan_turn(PlanHand *hand)
{
  if (!inner_chosen(hand))
    return false;
  bool smooth = knot_smooth(plan_line(hand, hand->side), hand->knot);
  return knot_change(hand, smooth ? N_("Make plan point sharp") : N_("Make plan point smooth"),
                     smooth ? knot_make_sharp : knot_make_smooth);
}

static bool alike_now(const PlanHand *hand)
{
  Outline image;
  outline_init(&image);
  bool alike = !plan_mirror(plan_line(hand, SIDE_BUCCAL), &image) &&
               outline_equal(&image, plan_line(hand, SIDE_LINGUAL), TOL_SYMMETRY_MM);
  outline_clear(&image);
  return alike;
}

bool plan_set_alike(PlanHand *hand, bool alike)
{
  Outline made;
  hand->alike = alike;
  if (!alike || alike_now(hand))
    return true;
  if (!plan_chosen(hand))
    hand->side = SIDE_BUCCAL;
  Fault fault = line_copy(hand, &made);
  hand->alike = line_edit(hand, N_("Plan alike on both sides"), false, fault, &made);
  return hand->alike;
}

bool plan_drawn(const PlanHand *hand)
{
  return there(hand) && (joint(hand)->drawn[SIDE_BUCCAL] || joint(hand)->drawn[SIDE_LINGUAL]);
}

bool plan_propose(PlanHand *hand)
{
  Side side;
  size_t connector = session_focus(hand->session);
  Case *c = plan_drawn(hand) ? session_edit_begin(hand->session, N_("Propose plan again")) : NULL;
  if (!c)
    return false;
  c->connector[connector].drawn[SIDE_BUCCAL] = c->connector[connector].drawn[SIDE_LINGUAL] = false;
  Fault fault = connector_complete(c, connector, &side);
  if (fault) {
    session_edit_cancel(hand->session);
    return trouble_set(hand, fault_text(fault), point(NAN, NAN));
  }
  session_edit_end(hand->session);
  hand->knot = SIZE_MAX;
  plan_look(hand);
  return true;
}

/* ---- what is chosen ---- */

void plan_hand_init(PlanHand *hand, SoffitSession *session)
{
  *hand = (PlanHand){.session = session, .side = SIDE_BUCCAL, .knot = SIZE_MAX};
  outline_init(&hand->before);
  hand->alike = alike_now(hand);
  plan_look(hand);
}

void plan_hand_clear(PlanHand *hand)
{
  plan_drag_end(hand);
  outline_clear(&hand->before);
  g_clear_pointer(&hand->trouble, g_free);
}

bool plan_chosen(const PlanHand *hand)
{
  return hand->knot < plan_line(hand, hand->side)->n;
}

bool plan_choose_at(PlanHand *hand, Point at, double reach_mm)
{
  double least = reach_mm, away;
  hand->knot = SIZE_MAX;
  for (Side side = SIDE_BUCCAL; side <= SIDE_LINGUAL; side++) {
    size_t knot = knot_near(plan_line(hand, side), at, least, &away);
    if (knot == SIZE_MAX)
      continue;
    least = away;
    hand->side = side;
    hand->knot = knot;
  }
  return plan_chosen(hand);
}

void plan_choose_next(PlanHand *hand, int by)
{
  size_t cheek = plan_line(hand, SIDE_BUCCAL)->n, n = cheek + plan_line(hand, SIDE_LINGUAL)->n;
  if (n == 0)
    return;
  size_t at = by > 0 ? 0 : n - 1;
  if (plan_chosen(hand))
    at = (hand->knot + (hand->side == SIDE_LINGUAL ? cheek : 0) + (by > 0 ? 1 : n - 1)) % n;
  hand->side = at < cheek ? SIDE_BUCCAL : SIDE_LINGUAL;
  hand->knot = at < cheek ? at : at - cheek;
}

char *plan_place_words(const PlanHand *hand)
{
  if (!plan_chosen(hand))
    return NULL;
  const Outline *line = plan_line(hand, hand->side);
  Point at = line->knot[hand->knot].at;
  g_autofree char *along = words_number(at.x, 2), *out = words_number(fabs(at.y), 2);
  return g_strdup_printf(hand->side == SIDE_BUCCAL
                             ? _("Cheek side, point %zu of %zu, %s: %s mm along, %s mm out")
                             : _("Tongue side, point %zu of %zu, %s: %s mm along, %s mm out"),
                         hand->knot + 1, line->n,
                         knot_smooth(line, hand->knot) ? _("smooth") : _("sharp"), along, out);
}
