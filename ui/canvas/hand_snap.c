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

Point hand_snap(Hand *hand, const SnapTargets *targets, Point at)
{
  SnapSettings settings = hand->snaps;
  settings.on = settings.on && !hand->free_hand;
  const char *was[2] = {hand->snap.word[0], hand->snap.word[1]};
  hand->snap = snap_place(&settings, targets, at, SNAP_REACH_PX / hand->view.scale);
  const Snap *snap = &hand->snap;
  if ((snap->word[0] && snap->word[0] != was[0]) || (snap->word[1] && snap->word[1] != was[1])) {
    g_autofree char *words = snap_words(snap);
    hand_say(hand, words);
  }
  return snap->at;
}

char *snap_words(const Snap *snap)
{
  const char *first = snap->word[0] ? snap->word[0] : snap->word[1];
  const char *second = snap->word[0] && snap->word[1] != first ? snap->word[1] : NULL;
  if (!first)
    return NULL;
  return second ? g_strdup_printf("%s · %s", _(first), _(second)) : g_strdup(_(first));
}
