/* tool_walk.c - walk along the gum-side line: place, bend and stress at each step, said and shown.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The case stays as it is. */
#include "ui/canvas/walk_words.h"
#include "ui/arrow_key.h"

#define STEP_MM 0.1
#define FINE_MM WALK_REACH_MM /* with Shift */

size_t walk_marks(const Hand *hand, Landmark mark[LANDMARK_N])
{
  const Assessment *a = session_assessment(hand->session);
  size_t connector = session_focus(hand->session);
  if (!a || connector >= a->n_connector)
    return 0;
  const ConnectorAssessment *answer = &a->connector[connector];
  Point hot = answer->field && walk_answered(hand)
                  ? point(answer->trial_peak.at.x, answer->trial_peak.at.y)
                  : point(NAN, NAN);
  return walk_landmarks(hand_outline(hand), &answer->form, hot, mark);
}

void walk_say(Hand *hand)
{
  if (!hand->walks)
    return;
  hand->walk_t = CLAMP(hand->walk_t, 0, (double)outline_pieces(hand_outline(hand)));
  g_autofree char *words = walk_sentence(hand);
  hand_say(hand, words);
}

void walk_to(Hand *hand, double t)
{
  hand->walks = true;
  hand->walk_t = t;
  walk_say(hand);
}

/* Begins at the hot spot, else at the roof, else in the middle. */
void walk_begin(Hand *hand)
{
  const Outline *outline = hand_outline(hand);
  Landmark mark[LANDMARK_N];
  size_t n = walk_marks(hand, mark);
  double to = (double)outline_pieces(outline) / 2;
  hand->walks = false;
  if (outline->n < 2)
    return;
  for (size_t i = 0; i < n; i++)
    if (mark[i].kind == LANDMARK_ROOF)
      to = mark[i].t;
  for (size_t i = 0; i < n; i++)
    if (mark[i].kind == LANDMARK_HOT_SPOT)
      to = mark[i].t;
  walk_to(hand, to);
}

static void walk_enter(Hand *hand)
{
  if (hand->walks)
    walk_say(hand);
  else
    walk_begin(hand);
}

static void walk_by(Hand *hand, double mm)
{
  double to;
  if (walk_step(hand_outline(hand), hand->walk_t, mm, &to) == FAULT_NONE)
    walk_to(hand, to);
}

/* The next landmark in this direction that is another place. */
static void walk_jump(Hand *hand, int by)
{
  const Outline *outline = hand_outline(hand);
  Landmark mark[LANDMARK_N];
  size_t n = walk_marks(hand, mark);
  Point here = outline_at(outline, hand->walk_t);
  for (size_t k = 0; k < n; k++) {
    double t = mark[by > 0 ? k : n - 1 - k].t;
    if (by * (t - hand->walk_t) > 0 &&
        point_distance(outline_at(outline, t), here) > WALK_SAME_MM) {
      walk_to(hand, t);
      return;
    }
  }
  walk_say(hand);
}

/* To the foot at this end; where no foot is known, to the end of the line. */
static void walk_foot(Hand *hand, bool right)
{
  Landmark mark[LANDMARK_N];
  size_t n = walk_marks(hand, mark);
  double to = right ? (double)outline_pieces(hand_outline(hand)) : 0;
  for (size_t i = 0; i < n; i++)
    if (mark[i].kind == (right ? LANDMARK_FOOT_RIGHT : LANDMARK_FOOT_LEFT))
      to = mark[i].t;
  walk_to(hand, to);
}

static bool walk_key(Hand *hand, guint key, bool fine)
{
  Point by = point(0, 0);
  bool home = key == GDK_KEY_Home || key == GDK_KEY_KP_Home,
       end = key == GDK_KEY_End || key == GDK_KEY_KP_End;
  if (!arrow_key(key, fine ? FINE_MM : STEP_MM, &by) && !home && !end)
    return false;
  if (!hand->walks || hand_outline(hand)->n < 2)
    walk_begin(hand);
  else if (home || end)
    walk_foot(hand, end);
  else if (by.y > 0 || by.y < 0)
    walk_jump(hand, by.y > 0 ? 1 : -1);
  else
    walk_by(hand, by.x);
  return true;
}

/* ---- mouse, pen, finger: the nearest place of the line ---- */

static void walk_move(Hand *hand, const PenPoint at[], size_t n)
{
  const Outline *outline = hand_outline(hand);
  if (hand->busy && n > 0 && outline->n >= 2) {
    hand->walks = true;
    hand->walk_t = outline_nearest(outline, at[n - 1].at, NULL);
  }
}

static void walk_press(Hand *hand, const PenPoint *at)
{
  hand->trouble = NULL;
  hand->busy = true;
  walk_move(hand, at, 1);
}

static void walk_release(Hand *hand)
{
  hand->busy = false;
  walk_say(hand);
}

const Tool tool_walk = {.id = "walk",
                        .name = N_("Walk along the line: place, radius, pull"),
                        .key = GDK_KEY_g,
                        .icon = ICON_WALK,
                        .press = walk_press,
                        .move = walk_move,
                        .release = walk_release,
                        .cancel = walk_release,
                        .keyed = walk_key,
                        .enter = walk_enter};
