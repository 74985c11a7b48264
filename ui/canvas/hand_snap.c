/* hand_snap.c - what the hand may snap to on the drawing, and what is said of it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/tool.h"
#include "ui/words.h"
#include <math.h>

#define SNAP_REACH_PX 6

void hand_say(Hand *hand, const char *words)
{
  if (hand->say)
    hand->say(hand->say_to, words);
}

SnapTargets hand_targets(const Hand *hand, bool onto)
{
  size_t connector = session_focus(hand->session);
  const Connector *joint = &session_case(hand->session)->connector[connector];
  const Assessment *a = session_assessment(hand->session);
  SnapTargets targets = {.line = {onto ? hand_outline(hand) : &hand->before,
                                  onto ? &joint->side[SIDE_OCCLUSAL] : NULL},
                         .except = onto ? SIZE_MAX : hand->chosen,
                         .onto = onto,
                         .axis_x = NAN};
  if (a && connector < a->n_connector) {
    const Form *form = &a->connector[connector].form;
    if (form->kind != FORM_NONE) /* the middle between the feet */
      targets.axis_x = (form->foot[0].x + form->foot[1].x) / 2;
    if (!connector_cutter(a, connector, &targets.cutter, &targets.cutter_radius))
      targets.cutter_radius = 0;
  }
  return targets;
}

static SnapSettings wanted(const Hand *hand)
{
  SnapSettings settings = hand->snaps;
  settings.on = settings.on && !hand->free_hand;
  return settings;
}

/* Says what the place came to rest on, where that is new. */
static void snap_set(Hand *hand, const Snap *snap)
{
  const Snap was = hand->snap;
  hand->snap = *snap;
  if ((snap->word[0] && snap->word[0] != was.word[0]) ||
      (snap->word[1] && snap->word[1] != was.word[1])) {
    g_autofree char *words = snap_words(snap);
    hand_say(hand, words);
  }
}

Point hand_snap(Hand *hand, const SnapTargets *targets, Point at)
{
  SnapSettings settings = wanted(hand);
  Snap snap = snap_place(&settings, targets, at, SNAP_REACH_PX / hand->view.scale);
  snap_set(hand, &snap);
  return snap.at;
}

Point hand_snap_end(Hand *hand, Point mate, Point at, double join_mm)
{
  SnapSettings settings = wanted(hand);
  double reach = SNAP_REACH_PX / hand->view.scale;
  Snap snap = snap_end(&settings, &hand->targets, mate, at, join_mm, reach);
  bool seen = snap.on_line && point_distance(snap.at, at) <= 2 * reach;
  if (hand->busy &&
      seen) /* on its way along the line the pen passes much that it is not meant for */
    seen = !snap.word[1] && g_strcmp0(snap.word[0], "on the line") != 0;
  static const Snap nothing;
  snap_set(hand, seen ? &snap : &nothing);
  return snap.at;
}

char *snap_words(const Snap *snap)
{
  const char *first = snap->word[0] ? snap->word[0] : snap->word[1];
  const char *second = snap->word[0] && snap->word[1] != first ? snap->word[1] : NULL;
  if (!first)
    return NULL;
  return second ? g_strdup_printf("%s · %s", _(first), _(second)) : g_strdup(_(first));
}
