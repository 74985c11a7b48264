/* paper_remarks.c - remarks pinned to the sketch: numbered there, in words below.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/paper_parts.h"
#include <math.h>

#define DISC 6.2 /* pt */
#define DOT 1.6
#define RAYS 12

static const TextStyle pin_number = {TEXT_NOTE, true, false, COLOUR_PAPER, ALIGN_CENTRE};

static const Remark *remark_of(const Paper *p, guint i, size_t connector)
{
  const Remark *remark = p->a->c.remark->pdata[i];
  return remark->connector == connector ? remark : NULL;
}

static void draw_disc(const Paper *p, Point at, guint number, bool settled)
{
  char text[12];
  g_snprintf(text, sizeof text, "%u", number);
  path_circle(p->cr, at, DISC);
  ink_use(p->cr, p->context, settled ? COLOUR_PAPER : COLOUR_INK);
  cairo_fill_preserve(p->cr);
  ink_use(p->cr, p->context, COLOUR_INK);
  ink_width(p->cr, p->context, 1.2);
  cairo_stroke(p->cr);
  TextStyle style = pin_number;
  if (settled)
    style.colour = COLOUR_INK;
  text_draw(p->cr, p->context, style, point(at.x, at.y + 0.36 * text_px(p->context, TEXT_NOTE)),
            text);
}

/* Where the disc stands: beside its place, on no other word; below it first, where the embrasure is
 * open. */
static Point disc_place(Places *places, Point at)
{
  static const double far[] = {13, 20, 30, 44};
  Box candidate[G_N_ELEMENTS(far) * RAYS];
  size_t n = 0;
  for (size_t f = 0; f < G_N_ELEMENTS(far); f++)
    for (int ray = 0; ray < RAYS; ray++) {
      double turn = 2 * G_PI * (ray % 2 ? (ray + 1) / 2 : -ray / 2) / RAYS + G_PI / 2;
      candidate[n++] = (Box){at.x + far[f] * cos(turn) - DISC, at.y + far[f] * sin(turn) - DISC,
                             2 * DISC, 2 * DISC};
    }
  int found = places_find(places, candidate, n);
  Box box = candidate[MAX(found, 0)];
  return point(box.x + DISC, box.y + DISC);
}

void paper_remark_pins(const Paper *p, size_t connector, View view, Places *places)
{
  for (guint i = 0; i < p->a->c.remark->len; i++) {
    const Remark *remark = remark_of(p, i, connector);
    if (!remark || isnan(remark->at.x) || isnan(remark->at.y))
      continue;
    Point at = view_px(view, remark->at);
    at.x = CLAMP(at.x, places->bounds.x, places->bounds.x + places->bounds.width);
    at.y = CLAMP(at.y, places->bounds.y, places->bounds.y + places->bounds.height);
    Point disc = disc_place(places, at);
    ink_use(p->cr, p->context, COLOUR_INK);
    ink_width(p->cr, p->context, 1.2);
    draw_line(p->cr, at, disc);
    path_circle(p->cr, at, DOT);
    cairo_fill(p->cr);
    draw_disc(p, disc, i + 1, remark->settled == ANSWER_YES);
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
      paper_heading(p, N_("Remarks"), N_("numbered as on the drawing; empty disc: settled"));
    any = true;
    bool settled = remark->settled == ANSWER_YES;
    g_autofree char *who = paper_person(p->context, "", remark->initials, remark->role),
                    *when = paper_time(p->context, remark->time),
                    *by = g_strdup_printf("%s%s%s%s%s", who, *who && *when ? ", " : "", when,
                                          settled && (*who || *when) ? " – " : "",
                                          settled ? text_word(p->context, N_("settled")) : "");
    paper_need(p, 3 * text_line_height(p->context, TEXT_NOTE));
    double x = paper_left() + 20, width = paper_right(p) - x;
    draw_disc(p, point(paper_left() + DISC + 1, p->y + DISC + 1), i + 1, settled);
    paper_words(p, paper_body, x, width, remark->text);
    if (*by) {
      p->y -= 2;
      paper_words(p, paper_note, x, width, by);
    }
    p->y += 3;
  }
}
