/* tool_disc.c - set the mark of a disc where it slipped.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "outline/shape.h"
#include "ui/canvas/tool.h"

#define DISC_DEPTH_MM 0.2 /* a slip of the disc as often seen: common practice, no source */
#define DISC_EDGE_MM 0.1  /* half the edge of a thin disc                                 */

static void disc_press(Hand *hand, const PenPoint *at)
{
  double distance, t = outline_nearest(hand_outline(hand), at->at, &distance);
  size_t connector = session_focus(hand->session);
  Outline outline;
  outline_init(&outline);
  if (distance > 2 * hand->reach_px / hand->view.scale)
    return;
  Fault fault = shape_disc_mark(hand_outline(hand), t, DISC_DEPTH_MM, DISC_EDGE_MM, &outline);
  Case *c = fault ? NULL : session_edit_begin(hand->session, N_("Set disc mark"));
  if (c) {
    fault = session_set_outline(hand->session, connector, SIDE_GINGIVAL, &outline);
    SurfaceEvent event = {.kind = EVENT_DISC,
                          .at_x = at->at.x,
                          .depth = DISC_DEPTH_MM,
                          .edge_radius = DISC_EDGE_MM,
                          .water = ANSWER_UNKNOWN};
    if (!fault) {
      g_array_append_val(c->connector[connector].event, event);
      c->connector[connector].finish[ZONE_ROOF] = FINISH_DISC_CUT;
    }
    hand_settle(hand, fault);
  }
  outline_clear(&outline);
  hand->trouble = fault ? fault_text(fault) : NULL;
  hand->trouble_at = at->at;
}

const Tool tool_disc = {.id = "disc",
                        .name = N_("Disc mark: tap where the disc slipped"),
                        .key = GDK_KEY_m,
                        .icon = ICON_DISC,
                        .press = disc_press};
