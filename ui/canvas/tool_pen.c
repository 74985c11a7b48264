/* tool_pen.c - draw a stretch anew; the starters that draw a whole U or V.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "outline/form.h"
#include "outline/shape.h"
#include "outline/stroke_doubt.h"
#include "ui/canvas/tool.h"
#include <math.h>

#define REACH_MM 0.6 /* ends of a stroke that come this near join the outline there */

static const Point nowhere = {NAN, NAN};

static void pen_press(Hand *hand, const PenPoint *at)
{
  g_array_set_size(hand->pen, 0);
  g_array_append_val(hand->pen, *at);
  hand->trouble = NULL;
  if (outline_copy(&hand->before, hand_outline(hand)))
    return;
  hand->targets = hand_targets(hand, false);
  hand->snap = (Snap){.word = {NULL}};
  hand->ends[0] = hand_snap_end(hand, nowhere, at->at, REACH_MM);
  Case *c = session_edit_begin(hand->session, N_("Draw"));
  if (c)
    photo_desk_trace(hand->photo, c);
  hand->busy = c != NULL;
}

/* The stroke as it clings to the photo's edge; NULL where it does not. */
static PenPoint *stroke_clung(const Hand *hand)
{
  guint n = hand->pen->len;
  g_autofree Point *mm = g_new(Point, n);
  for (guint i = 0; i < n; i++)
    mm[i] = g_array_index(hand->pen, PenPoint, i).at;
  if (!photo_desk_clung(hand->photo, mm, n, mm))
    return NULL;
  PenPoint *clung = g_memdup2(hand->pen->data, n * sizeof *clung);
  for (guint i = 0; i < n; i++)
    clung[i].at = mm[i];
  return clung;
}

/* What the stroke leaves open of the roof that it drew; where it drew none, all stays. */
static Fault doubt_set(Hand *hand, const PenPoint stroke[], const Outline *outline)
{
  double percent = NAN;
  Fault fault = stroke_roof_doubt(stroke, hand->pen->len, outline, &percent);
  if (!fault && isfinite(percent))
    session_set_roof_doubt(hand->session, session_focus(hand->session), percent);
  return fault;
}

/* The stroke so far, set into the outline as it was; a fault when it cannot be (too short,
 * crosses). */
static Fault pen_apply(Hand *hand, const PenPoint stroke[])
{
  Outline outline;
  outline_init(&outline);
  Point where = {NAN, NAN};
  StrokeSettings settings = stroke_settings_default();
  settings.tolerance_mm = hand->smoothing_mm;
  settings.quick = hand->busy; /* the pen is still down */
  settings.ends = hand->ends;
  Fault fault = outline_copy(&outline, &hand->before);
  if (!fault)
    fault = stroke_apply(&outline, stroke, hand->pen->len, &settings, REACH_MM, &where);
  if (!fault)
    fault =
        session_set_outline(hand->session, session_focus(hand->session), SIDE_GINGIVAL, &outline);
  if (!fault && !settings.quick)
    fault = doubt_set(hand, stroke, &outline);
  outline_clear(&outline);
  hand->trouble_at = where;
  return fault;
}

static const PenPoint *raw(const Hand *hand)
{
  return (const PenPoint *)(void *)hand->pen->data;
}

static void end_snap(Hand *hand)
{
  Point first = raw(hand)[0].at, mate = point_finite(hand->ends[0]) ? hand->ends[0] : first;
  hand->ends[1] = hand_snap_end(hand, mate, raw(hand)[hand->pen->len - 1].at, REACH_MM);
}

static void pen_move(Hand *hand, const PenPoint at[], size_t n)
{
  if (!hand->busy)
    return;
  g_array_append_vals(hand->pen, at, (guint)n);
  if (hand->pen->len < 4)
    return;
  end_snap(hand);
  g_autofree PenPoint *clung = stroke_clung(hand);
  if (pen_apply(hand, clung ? clung : raw(hand)) == FAULT_NONE)
    session_edit_update(hand->session);
}

/* A step of its own: undo goes back to the stroke as it was drawn. */
static void pen_cling(Hand *hand)
{
  g_autofree PenPoint *clung = stroke_clung(hand);
  if (clung && session_edit_begin(hand->session, N_("Cling to the edge")))
    hand_settle(hand, pen_apply(hand, clung));
}

static void pen_release(Hand *hand)
{
  if (!hand->busy)
    return;
  hand->busy = false;
  if (hand->pen->len >= 2)
    end_snap(hand);
  Fault fault = hand->pen->len >= 2 ? pen_apply(hand, raw(hand)) : FAULT_DEGENERATE;
  if (fault) {
    session_edit_cancel(hand->session);
    hand->trouble = hand->pen->len >= 4 ? fault_text(fault) : NULL; /* a tap is no stroke */
  } else {
    session_edit_end(hand->session);
    pen_cling(hand);
  }
  g_array_set_size(hand->pen, 0);
}

static void pen_cancel(Hand *hand)
{
  if (hand->busy)
    session_edit_cancel(hand->session);
  hand->busy = false;
  g_array_set_size(hand->pen, 0);
}

/* exact: made by its sizes, nothing of it is a hand's. */
static void redraw(Hand *hand, const char *name, Fault made, const Outline *outline, Point at,
                   bool exact)
{
  if (!made && session_edit_begin(hand->session, name)) {
    made = session_set_outline(hand->session, session_focus(hand->session), SIDE_GINGIVAL, outline);
    if (!made && exact)
      session_set_roof_doubt(hand->session, session_focus(hand->session), 0);
    hand_settle(hand, made);
  }
  hand->trouble = made ? fault_text(made) : NULL;
  hand->trouble_at = at;
}

void hand_redraw(Hand *hand, const char *name, Fault made, const Outline *outline, Point at)
{
  redraw(hand, name, made, outline, at, false);
}

static bool starter(Hand *hand, const char *name,
                    Fault (*make)(double, double, const Neighbours *, Outline *))
{
  if (!session_has_case(hand->session))
    return false;
  size_t connector = session_focus(hand->session);
  const Case *c = session_case(hand->session);
  const Outline *side = c->connector[connector].side;
  double foot = 1.5, roof = 2.0; /* where nothing is drawn yet */
  Form form;
  if (!form_read(&side[SIDE_GINGIVAL], &side[SIDE_OCCLUSAL], NULL, NULL, NULL, &form, NULL) &&
      form.depth > 0.3 && fmin(-form.foot[0].x, form.foot[1].x) > 0.3) {
    foot = fmin(-form.foot[0].x, form.foot[1].x);
    roof = form.roof.y;
  }
  Neighbours around = case_neighbours(c, connector);
  Outline outline;
  outline_init(&outline);
  redraw(hand, name, make(foot, roof, &around, &outline), &outline, point(0, roof), true);
  outline_clear(&outline);
  return true;
}

static bool starter_u(Hand *hand)
{
  return starter(hand, N_("Start from a U"), shape_starter_u);
}

static bool starter_v(Hand *hand)
{
  return starter(hand, N_("Start from a V"), shape_starter_v);
}

const Tool tool_pen = {.id = "pen",
                       .name = N_("Pen: draw a stretch of the roof anew"),
                       .key = GDK_KEY_d,
                       .icon = ICON_PEN,
                       .press = pen_press,
                       .move = pen_move,
                       .release = pen_release,
                       .cancel = pen_cancel};
const Tool tool_starter_u = {.id = "starter-u",
                             .name = N_("Start from a U in this room"),
                             .key = GDK_KEY_u,
                             .icon = ICON_U,
                             .act = starter_u};
const Tool tool_starter_v = {.id = "starter-v",
                             .name = N_("Start from a V in this room"),
                             .key = GDK_KEY_v,
                             .icon = ICON_V,
                             .act = starter_v};
