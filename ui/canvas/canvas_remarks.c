/* canvas_remarks.c - see canvas_remarks.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/canvas_remarks.h"
#include "ui/canvas/canvas_pin.h"
#include "ui/canvas/draw_context.h"
#include "ui/drawing/remark_pins.h"
#include "ui/words.h"

#define TOOLS_PX 70.0 /* below: the tool row */

/* Pinned to a place of this connector, and not settled. */
static bool shown_here(const Remark *remark, size_t connector)
{
  return remark->connector == connector && point_finite(remark->at) &&
         remark->settled != ANSWER_YES;
}

void canvas_remarks_draw(SoffitCanvas *self, GtkSnapshot *snapshot, int width, int height)
{
  if (!session_has_case(self->session))
    return;
  const GPtrArray *remarks = session_case(self->session)->remark;
  size_t focus = session_focus(self->session);
  Point pin;
  bool pinning = canvas_pin_at(self, &pin), any = pinning;
  for (guint i = 0; i < remarks->len; i++)
    any = any || shown_here(remarks->pdata[i], focus);
  if (!any)
    return;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  Places places = self->taken, empty; /* nor on words and loupe, where that can be */
  Box over[KEEP_FREE];
  places_init(&empty, (Box){6, 6, width - 12, height - TOOLS_PX * context.scale});
  canvas_covered(self, over);
  for (int i = 0; i < KEEP_FREE; i++) {
    places_take(&places, over[i]);
    places_take(&empty, over[i]);
  }
  cairo_t *cr =
      gtk_snapshot_append_cairo(snapshot, &GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height));
  if (pinning) { /* what is in the hand has the first place */
    Point tip = view_px(self->hand.view, pin);
    draw_pin(cr, &context, tip, remarks->len + 1, true);
    g_autofree char *x = words_number(pin.x, 2), *y = words_number(pin.y, 2),
                    *place = g_strdup_printf(_("x %s, y %s mm"), x, y);
    const char *next = _("arrows, then Enter");
    if (!draw_pin_words(cr, &context, &places, tip, place, next))
      draw_pin_words(cr, &context, &empty, tip, place, next);
  }
  for (guint i = 0; i < remarks->len; i++) {
    const Remark *remark = remarks->pdata[i];
    if (!shown_here(remark, focus))
      continue;
    Point tip = view_px(self->hand.view, remark->at);
    draw_pin(cr, &context, tip, i + 1, false);
    draw_pin_words(cr, &context, &places, tip, *remark->initials ? remark->initials : NULL,
                   remark->text);
  }
  cairo_destroy(cr);
}

static gboolean tip_asked(GtkWidget *widget, int x, int y, gboolean keyboard, GtkTooltip *tooltip,
                          void *data)
{
  (void)keyboard, (void)data;
  SoffitCanvas *self = SOFFIT_CANVAS(widget);
  if (!session_has_case(self->session))
    return FALSE;
  char font[64];
  DrawContext context = draw_context_for(widget, font);
  const GPtrArray *remarks = session_case(self->session)->remark;
  for (guint i = remarks->len; i-- > 0;) { /* the topmost first */
    const Remark *remark = remarks->pdata[i];
    if (shown_here(remark, session_focus(self->session)) &&
        pin_hit(&context, view_px(self->hand.view, remark->at), point(x, y))) {
      g_autofree char *words = pin_words(i + 1, remark->initials, remark->text);
      gtk_tooltip_set_text(tooltip, words);
      return TRUE;
    }
  }
  return FALSE;
}

void canvas_remarks_attach(SoffitCanvas *self)
{
  gtk_widget_set_has_tooltip(GTK_WIDGET(self), TRUE);
  g_signal_connect(self, "query-tooltip", G_CALLBACK(tip_asked), NULL);
}
