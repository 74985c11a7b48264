/* canvas_soft.c - the drawing at the size before firing.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/canvas_private.h"
#include "ui/words.h"

bool canvas_soft(SoffitCanvas *self, bool soft)
{
  double enlargement = session_case(self->session)->enlargement;
  if (!(enlargement > 1)) {
    self->hand.trouble =
        N_("The enlargement of the blank is not recorded. Enter it with the case.");
    self->hand.trouble_at = point(NAN, NAN);
    canvas_invalidate(self);
    return false;
  }
  int width = gtk_widget_get_width(GTK_WIDGET(self)),
      height = gtk_widget_get_height(GTK_WIDGET(self));
  double gum = view_px(self->hand.view, point(0, 0)).y; /* the feet stay in sight */
  canvas_zoom(self, soft ? enlargement : 1 / enlargement,
              point(width / 2.0, CLAMP(gum, 0, height)));
  return true;
}
