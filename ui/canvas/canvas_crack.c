/* canvas_crack.c - the sketch of a crack above the picture: the picture is not made anew for it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/canvas_private.h"
#include "ui/canvas/draw_context.h"

void canvas_set_crack(SoffitCanvas *self, const CrackWay *way, double share)
{
  self->crack = way ? *way : (CrackWay){.n = 0};
  self->crack_share = share;
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

void canvas_crack_draw(SoffitCanvas *self, GtkSnapshot *snapshot, int width, int height)
{
  if (self->crack.n < 2)
    return;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  cairo_t *cr =
      gtk_snapshot_append_cairo(snapshot, &GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height));
  picture_crack(cr, &context, self->hand.view, &self->crack, self->crack_share, &self->taken,
                &session_case(self->session)->connector[session_focus(self->session)]);
  cairo_destroy(cr);
}
