/* canvas_remarks.c - see canvas_remarks.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/canvas_remarks.h"
#include "ui/canvas/draw_context.h"
#include "ui/drawing/remark_pins.h"

#define TOOLS_PX 70.0 /* below: the tool row */

void canvas_remarks_draw(SoffitCanvas *self, GtkSnapshot *snapshot, int width, int height)
{
  const GPtrArray *remarks = session_case(self->session)->remark;
  size_t focus = session_focus(self->session);
  cairo_t *cr = NULL;
  char font[64];
  DrawContext context = {0};
  Places places;
  for (guint i = 0; i < remarks->len && session_has_case(self->session); i++) {
    const Remark *remark = remarks->pdata[i];
    if (remark->connector != focus || !point_finite(remark->at) || remark->settled == ANSWER_YES)
      continue;
    if (!cr) {
      context = draw_context_for(GTK_WIDGET(self), font);
      places_init(&places, (Box){6, 6, width - 12, height - TOOLS_PX * context.scale});
      cr = gtk_snapshot_append_cairo(snapshot,
                                     &GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height));
    }
    Point tip = view_px(self->hand.view, remark->at);
    draw_pin(cr, &context, tip, i + 1, false);
    draw_pin_words(cr, &context, &places, tip, *remark->initials ? remark->initials : NULL,
                   remark->text);
  }
  if (cr)
    cairo_destroy(cr);
}
