/* tool_room.c - draw the room that the embrasure may fill, move its roof, or leave it to Soffit.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_room.h"
#include "ui/arrow_key.h"
#include "ui/canvas/tool.h"
#include <math.h>

#define STEP_MM 0.05
#define NO_ROOM N_("This line encloses no room. Draw it like an arch, from foot to foot.")

static bool room_now(const Hand *hand, Room *room)
{
  const Assessment *a = session_assessment(hand->session);
  size_t connector = session_focus(hand->session);
  return a && connector < a->n_connector &&
         !room_of(session_case(hand->session), connector, &a->connector[connector].form, room);
}

/* Keeps a line as the room, when it is one; n = 0: back to the room that Soffit takes. */
static void room_keep(Hand *hand, const char *name, const Outline *line)
{
  size_t connector = session_focus(hand->session);
  Room room;
  room_init(&room);
  Fault fault = line->n ? room_drawn(line, hand_outline(hand), &room) : FAULT_NONE;
  room_clear(&room);
  Case *c = fault ? NULL : session_edit_begin(hand->session, name);
  if (c) {
    fault = outline_copy(&c->connector[connector].room, line);
    hand_settle(hand, fault);
  }
  hand->trouble = fault == FAULT_RANGE ? NO_ROOM : fault ? fault_text(fault) : NULL;
  hand->trouble_at = line->n ? outline_at(line, (double)outline_pieces(line) / 2) : point(NAN, NAN);
}

static void room_press(Hand *hand, const PenPoint *at)
{
  g_array_set_size(hand->pen, 0);
  g_array_append_val(hand->pen, *at);
  hand->trouble = NULL;
  hand->busy = true;
}

static void room_move(Hand *hand, const PenPoint at[], size_t n)
{
  g_array_append_vals(hand->pen, at, (guint)n);
}

static void room_cancel(Hand *hand)
{
  hand->busy = false;
  g_array_set_size(hand->pen, 0);
}

static void room_release(Hand *hand)
{
  Outline line;
  outline_init(&line);
  if (hand->pen->len >= 4) {
    Fault fault =
        stroke_fit((const PenPoint *)(void *)hand->pen->data, hand->pen->len, NULL, &line, NULL);
    if (!fault && line.knot[0].at.x > line.knot[line.n - 1].at.x)
      outline_reverse(&line);
    if (!fault)
      room_keep(hand, N_("Draw the room"), &line);
    else
      hand->trouble = fault_text(fault);
  }
  outline_clear(&line);
  room_cancel(hand);
}

/* Stretches the room as it is: wider on both sides, or higher above its feet. */
static void room_stretch(Hand *hand, double wider, double higher)
{
  Room room;
  Outline line;
  room_init(&room);
  outline_init(&line);
  if (room_now(hand, &room) && !outline_copy(&line, &room.envelope)) {
    double left = room.wall[0].x, right = room.wall[room.n_wall - 1].x;
    double foot = fmin(room.wall[0].y, room.wall[room.n_wall - 1].y), middle = (left + right) / 2;
    double x = 1 + wider / (right - left), y = 1 + higher / (room.top - foot);
    outline_transform(&line, (const double[6]){x, 0, 0, y, middle * (1 - x), foot * (1 - y)});
    room_keep(hand, N_("Stretch the room"), &line);
  }
  outline_clear(&line);
  room_clear(&room);
}

static bool room_key(Hand *hand, guint key, bool fine)
{
  Point by;
  if (fine) /* Shift: keys of the layers */
    return false;
  if (arrow_key(key, STEP_MM, &by)) {
    room_stretch(hand, 2 * by.x, by.y);
    return true;
  }
  switch (key) {
  case GDK_KEY_Delete:
  case GDK_KEY_BackSpace: {
    Outline none;
    outline_init(&none);
    room_keep(hand, N_("Leave the room to Soffit"), &none);
    return true;
  }
  default:
    return false;
  }
}

const Tool tool_room = {
    .id = "room",
    .name = N_("Room: draw what the embrasure may fill; Delete leaves it to Soffit"),
    .key = GDK_KEY_r,
    .icon = ICON_ROOM,
    .press = room_press,
    .move = room_move,
    .release = room_release,
    .cancel = room_cancel,
    .keyed = room_key};
