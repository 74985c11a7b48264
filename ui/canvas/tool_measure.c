/* tool_measure.c - measure between two places, or the circle through three; the case stays as it
 * is. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A press sets a place, dragging moves it; a drag from the first sets the second. */
#include "ui/canvas/measure_words.h"
#include "ui/canvas/tool.h"
#include <math.h>

/* A free place is known to a px, one on the line or set by keys to the step of the readings. */
static MeasuredPlace place_at(Hand *hand, Point at)
{
  SnapTargets targets = hand_targets(hand, true);
  Point to = hand_snap(hand, &targets, at);
  double within =
      hand->snap.on_line ? MEASURE_DRAWN_MM : fmax(1 / hand->view.scale, MEASURE_DRAWN_MM);
  return (MeasuredPlace){to, within};
}

static void say_measure(Hand *hand)
{
  g_autofree char *words = measure_sentence(hand->place, hand->n_place);
  hand_say(hand, words);
}

static size_t place_near(const Hand *hand, Point at)
{
  for (size_t i = 0; i < hand->n_place; i++)
    if (point_distance(hand->place[i].at, at) * hand->view.scale < hand->reach_px)
      return i;
  return SIZE_MAX;
}

static void measure_press(Hand *hand, const PenPoint *at)
{
  size_t near = place_near(hand, at->at);
  if (near == SIZE_MAX) {
    if (hand->n_place == G_N_ELEMENTS(hand->place))
      hand->n_place = 0;
    near = hand->n_place++;
    hand->place[near] = place_at(hand, at->at);
  }
  hand->held = near;
  hand->pressed_at = at->at;
  hand->busy = true;
}

static void measure_move(Hand *hand, const PenPoint at[], size_t n)
{
  if (!hand->busy || n == 0)
    return;
  Point to = at[n - 1].at;
  bool away = point_distance(to, hand->pressed_at) * hand->view.scale > hand->reach_px;
  if (hand->n_place == 1 && away) {
    hand->n_place = 2;
    hand->held = 1;
  }
  if (hand->held > 0 || hand->n_place > 1 || away)
    hand->place[hand->held] = place_at(hand, to);
}

static void measure_release(Hand *hand)
{
  hand->busy = false;
  hand->snap.word[0] = hand->snap.word[1] = NULL;
  say_measure(hand);
}

static void measure_cancel(Hand *hand)
{
  hand->busy = false;
  measure_clear(hand);
}

/* ---- keys ---- */

/* The first place by keys: the roof. */
static void place_first(Hand *hand)
{
  const Outline *outline = hand_outline(hand);
  Point top = outline->n ? outline->knot[0].at : point(0, 0);
  for (size_t i = 0; i < outline->n; i++)
    if (outline->knot[i].at.y > top.y)
      top = outline->knot[i].at;
  hand->place[0] = (MeasuredPlace){top, MEASURE_DRAWN_MM};
  hand->n_place = 1;
  hand->held = 0;
}

void measure_nudge(Hand *hand, double dx, double dy)
{
  if (hand->n_place == 0)
    place_first(hand);
  else {
    MeasuredPlace *held = &hand->place[hand->held];
    *held = (MeasuredPlace){point_add(held->at, point(dx, dy)), MEASURE_DRAWN_MM};
  }
  say_measure(hand);
}

void measure_next(Hand *hand)
{
  if (hand->n_place == 0) {
    place_first(hand);
  } else if (hand->n_place == G_N_ELEMENTS(hand->place)) {
    hand->place[0] = hand->place[hand->held];
    hand->n_place = 1;
    hand->held = 0;
  } else {
    hand->place[hand->n_place] = hand->place[hand->held];
    hand->held = hand->n_place++;
  }
  say_measure(hand);
}

bool measure_clear(Hand *hand)
{
  bool was = hand->n_place > 0;
  hand->n_place = hand->held = 0;
  hand->snap.word[0] = hand->snap.word[1] = NULL;
  return was;
}

const Tool tool_measure = {.id = "measure",
                           .name = N_("Measure: two places, or a circle through three"),
                           .key = GDK_KEY_l,
                           .icon = ICON_MEASURE,
                           .press = measure_press,
                           .move = measure_move,
                           .release = measure_release,
                           .cancel = measure_cancel};
