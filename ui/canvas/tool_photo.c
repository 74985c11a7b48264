/* tool_photo.c - the hand on the photo: marks with mouse, pen, finger or keys, and moving it.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm; the steps of the keys are px of the screen, so that a nearer view gives finer steps. */
#include "ui/canvas/tool.h"
#include "ui/arrow_key.h"

#define STEP_PX 10.0
#define FINE_PX 1.0
#define MOVE_MM 0.05
#define MOVE_FINE_MM 0.01
#define TURN_DEG 0.5
#define TURN_FINE_DEG 0.1

static bool marking(const Hand *hand)
{
  PhotoMode mode = photo_desk_mode(hand->photo);
  return mode == PHOTO_CORNERS || mode == PHOTO_TICKS;
}

static void photo_press(Hand *hand, const PenPoint *at)
{
  if (photo_desk_state(hand->photo) != PHOTO_SHOWN)
    return;
  hand->busy = marking(hand) || photo_desk_mode(hand->photo) == PHOTO_MOVE;
  hand->grip = at->at;
  if (marking(hand))
    photo_desk_mark(hand->photo, at->at, hand->reach_px / hand->view.scale);
}

static void photo_move(Hand *hand, const PenPoint at[], size_t n)
{
  if (!hand->busy || n == 0)
    return;
  Point to = at[n - 1].at;
  if (marking(hand))
    photo_desk_mark_move(hand->photo, to);
  else
    photo_desk_shift(hand->photo, to.x - hand->grip.x, to.y - hand->grip.y);
  hand->grip = to;
}

static void photo_release(Hand *hand)
{
  hand->busy = false;
}

/* ---- keys ---- */

static Point cross_at(const Hand *hand)
{
  Point mm;
  if (!photo_desk_cross(hand->photo, &mm))
    mm = point(0, 2);
  return mm;
}

static bool mark_keyed(Hand *hand, guint key, bool fine)
{
  Point by, at = cross_at(hand);
  if (arrow_key(key, (fine ? FINE_PX : STEP_PX) / hand->view.scale, &by)) {
    photo_desk_cross_to(hand->photo, point_add(at, by));
    return true;
  }
  switch (key) {
  case GDK_KEY_Return:
  case GDK_KEY_KP_Enter:
    photo_desk_cross_to(hand->photo, at);
    photo_desk_mark(hand->photo, at, FINE_PX / hand->view.scale);
    return true;
  case GDK_KEY_BackSpace:
  case GDK_KEY_Delete:
    photo_desk_mark_drop(hand->photo);
    return true;
  default:
    return false;
  }
}

static bool photo_keyed(Hand *hand, guint key, bool fine)
{
  Point by;
  if (photo_desk_state(hand->photo) != PHOTO_SHOWN)
    return false;
  if (key == GDK_KEY_Escape && photo_desk_mode(hand->photo) != PHOTO_REST) {
    photo_desk_set_mode(hand->photo, PHOTO_REST);
    return true;
  }
  if (marking(hand))
    return mark_keyed(hand, key, fine);
  double turn = fine ? TURN_FINE_DEG : TURN_DEG;
  if (arrow_key(key, fine ? MOVE_FINE_MM : MOVE_MM, &by))
    photo_desk_shift(hand->photo, by.x, by.y);
  else if (key == GDK_KEY_comma || key == GDK_KEY_less || key == GDK_KEY_semicolon)
    photo_desk_turn(hand->photo, turn);
  else if (key == GDK_KEY_period || key == GDK_KEY_greater || key == GDK_KEY_colon)
    photo_desk_turn(hand->photo, -turn);
  else
    return false;
  return true;
}

const Tool tool_photo = {.id = "photo",
                         .name = N_("Photo: lay a photo below the drawing and trace it"),
                         .key = GDK_KEY_f,
                         .icon = ICON_PHOTO,
                         .press = photo_press,
                         .move = photo_move,
                         .release = photo_release,
                         .cancel = photo_release,
                         .keyed = photo_keyed};
