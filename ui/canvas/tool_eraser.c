/* tool_eraser.c - rub out a stretch of the outline: a plain join takes its place.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/tool.h"
#include <math.h>

static void eraser_press(Hand *hand, const PenPoint *at)
{
  g_array_set_size(hand->pen, 0);
  g_array_append_val(hand->pen, *at);
  hand->trouble = NULL;
  if (outline_copy(&hand->before, hand_outline(hand)) ||
      !session_edit_begin(hand->session, N_("Erase a stretch")))
    return;
  hand->busy = true;
}

/* FAULT_DEGENERATE: the line was not touched so far. */
static Fault erase(Hand *hand)
{
  Outline outline;
  outline_init(&outline);
  Point where = {NAN, NAN};
  Fault fault = outline_copy(&outline, &hand->before);
  if (!fault)
    fault = stroke_erase(&outline, (const PenPoint *)(void *)hand->pen->data, hand->pen->len,
                         eraser_reach(hand), &where);
  if (!fault)
    fault =
        session_set_outline(hand->session, session_focus(hand->session), SIDE_GINGIVAL, &outline);
  outline_clear(&outline);
  hand->trouble_at = where;
  return fault;
}

static void eraser_move(Hand *hand, const PenPoint at[], size_t n)
{
  if (!hand->busy)
    return;
  g_array_append_vals(hand->pen, at, (guint)n);
  if (erase(hand) == FAULT_NONE)
    session_edit_update(hand->session);
}

static void eraser_release(Hand *hand)
{
  if (!hand->busy)
    return;
  hand->busy = false;
  Fault fault = erase(hand);
  hand_settle(hand, fault);
  hand->trouble = fault && fault != FAULT_DEGENERATE ? fault_text(fault) : NULL;
  g_array_set_size(hand->pen, 0);
}

static void eraser_cancel(Hand *hand)
{
  if (hand->busy)
    session_edit_cancel(hand->session);
  hand->busy = false;
  g_array_set_size(hand->pen, 0);
}

const Tool tool_eraser = {.id = "eraser",
                          .name = N_("Eraser: rub out a stretch of the line"),
                          .key = GDK_KEY_w,
                          .icon = ICON_ERASER,
                          .press = eraser_press,
                          .move = eraser_move,
                          .release = eraser_release,
                          .cancel = eraser_cancel};
