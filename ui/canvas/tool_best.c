/* tool_best.c - look for the best outline in the room, and drag the line part of the way to it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "outline/room.h"
#include "ui/arrow_key.h"
#include "ui/canvas/tool.h"
#include <math.h>

#define STEP 0.05 /* of the way, a key */

/* How far the place lies on the way from the outline to its ghost, 0 .. 1. */
static double share_at(const Hand *hand, Point at)
{
  const Outline *from = session_best_from(hand->session),
                *ghost = &session_previewed(hand->session)->ghost;
  Point near = outline_at(from, outline_nearest(from, at, NULL));
  Point best = outline_at(ghost, outline_nearest(ghost, near, NULL));
  Point way = point_sub(best, near);
  double size = point_dot(way, way);
  return size > 1e-6 ? fmin(fmax(point_dot(point_sub(at, near), way) / size, 0), 1) : 0;
}

static bool part_begin(Hand *hand)
{
  return session_best_ready(hand->session) &&
         session_edit_begin_series(hand->session, N_("Take part of the best outline")) != NULL;
}

static void best_press(Hand *hand, const PenPoint *at)
{
  (void)at;
  hand->trouble = NULL;
  hand->busy = part_begin(hand);
}

static void best_move(Hand *hand, const PenPoint at[], size_t n)
{
  Fault fault = session_best_set_share(hand->session, share_at(hand, at[n - 1].at));
  hand->trouble = fault ? fault_text(fault) : NULL;
}

static void best_release(Hand *hand)
{
  hand->busy = false;
  session_edit_end(hand->session);
}

static void best_cancel(Hand *hand)
{
  hand->busy = false;
  session_edit_cancel(hand->session);
}

static void best_enter(Hand *hand)
{
  hand->trouble = NULL;
  if (!session_best_shown(hand->session))
    session_best_begin(hand->session, false);
}

static bool best_key(Hand *hand, guint key, bool fine)
{
  if (fine) /* Shift: keys of the layers */
    return false;
  Point by;
  if (!arrow_key(key, STEP, &by))
    return false;
  if (!part_begin(hand)) /* still looking: the keyboard stays on the drawing */
    return true;
  double share = session_best_share(hand->session) + by.x + by.y;
  hand_settle(hand, session_best_set_share(hand->session, fmin(fmax(share, 0), 1)));
  return true;
}

const Tool tool_best = {.id = "best",
                        .name =
                            N_("Best outline in this room; drag the line part of the way to it"),
                        .key = GDK_KEY_b,
                        .icon = ICON_SEEK,
                        .press = best_press,
                        .move = best_move,
                        .release = best_release,
                        .cancel = best_cancel,
                        .enter = best_enter,
                        .keyed = best_key};
