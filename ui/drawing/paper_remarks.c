/* paper_remarks.c - remarks pinned to the sketch: numbered there, in words below.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/paper_parts.h"
#include "ui/drawing/remark_pins.h"
#include <math.h>

#define PIN_WIDE 24.0 /* pt */

static const Remark *remark_of(const Paper *p, guint i, size_t connector)
{
  const Remark *remark = p->a->c.remark->pdata[i];
  return remark->connector == connector ? remark : NULL;
}

void paper_remark_pins(const Paper *p, size_t connector, View view, Box bounds)
{
  for (guint i = 0; i < p->a->c.remark->len; i++) {
    const Remark *remark = remark_of(p, i, connector);
    if (!remark || isnan(remark->at.x) || isnan(remark->at.y))
      continue;
    Point tip = view_px(view, remark->at);
    tip.x = CLAMP(tip.x, bounds.x + PIN_WIDE / 2, bounds.x + bounds.width - PIN_WIDE / 2);
    tip.y = CLAMP(tip.y, bounds.y, bounds.y + bounds.height - PIN_WIDE);
    draw_pin(p->cr, p->context, tip, i + 1, remark->settled != ANSWER_YES);
  }
}

void paper_remarks(Paper *p, size_t connector)
{
  bool any = false;
  for (guint i = 0; i < p->a->c.remark->len; i++) {
    const Remark *remark = remark_of(p, i, connector);
    if (!remark)
      continue;
    if (!any)
      paper_heading(p, N_("Remarks"), N_("numbered as on the drawing; empty: settled"));
    any = true;
    bool settled = remark->settled == ANSWER_YES;
    g_autofree char *who = paper_person(p->context, "", remark->initials, remark->role),
                    *when = paper_time(p->context, remark->time),
                    *by = g_strdup_printf("%s%s%s%s%s", who, *who && *when ? ", " : "", when,
                                          settled && (*who || *when) ? " – " : "",
                                          settled ? text_word(p->context, N_("settled")) : "");
    paper_need(p, 3 * text_line_height(p->context, TEXT_NOTE));
    double x = paper_left() + PIN_WIDE, width = paper_right(p) - x;
    draw_pin(p->cr, p->context, point(paper_left() + PIN_WIDE / 2 - 2, p->y - 3), i + 1, !settled);
    paper_words(p, paper_body, x, width, remark->text);
    if (*by) {
      p->y -= 2;
      paper_words(p, paper_note, x, width, by);
    }
    p->y += 3;
  }
}
