/* paper_bench.c - the finishing list for the bench: large letters, boxes to tick, one case.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/paper_parts.h"

#define BOX 20.0
#define INDENT 34.0
#define INITIALS 80.0 /* wide */
#define GAP 10.0

static const TextStyle act_style = {TEXT_BODY, true, false, COLOUR_TEXT, ALIGN_LEFT};

static void draw_head(Paper *p)
{
  const Case *c = &p->a->c;
  char buf[TEXT_ROOM];
  double width = paper_right(p) - paper_left();
  p->y += 8;
  paper_big(p, c->number);
  TextStyle right = paper_strong;
  right.align = ALIGN_RIGHT;
  text_draw(p->cr, p->context, right, point(paper_right(p), p->y + 8),
            text_word(p->context, N_("Finishing list")));
  p->y += 16;
  if (c->title[0])
    paper_words(p, paper_body, paper_left(), width, c->title);
  Phrase units = {.text = N_("Teeth {0} to {1}, {2} units.")};
  if (c->n_unit > 0) {
    units.value[0] = c->unit[0].tooth;
    units.value[1] = c->unit[c->n_unit - 1].tooth;
    units.value[2] = (double)c->n_unit;
  }
  g_autofree char *order = g_strdup_printf("%s %s", say_phrase(p->context, buf, units),
                                           text_word(p->context, c->material.name));
  paper_words(p, paper_note, paper_left(), width, order);
  Phrase first = {.text = N_("{place} goes first.")};
  if (p->a->weakest < p->a->n_connector) {
    g_strlcpy(first.place, p->a->connector[p->a->weakest].name, sizeof first.place);
    paper_words(p, paper_note, paper_left(), width, say_phrase(p->context, buf, first));
  }
  p->y += 4;
  paper_rule(p);
}

/* Caution and initials stand at the right; under the initials, small, when it was done. */
static void draw_item(Paper *p, const WorkItem *item)
{
  char act[TEXT_ROOM], why[TEXT_ROOM];
  double x = paper_left() + INDENT, right = paper_right(p), initials = right - INITIALS,
         caution = text_width(p->cr, p->context, paper_note, item->caution),
         width = initials - GAP - x - (caution > 0 ? caution + GAP : 0);
  say_phrase(p->context, act, item->act);
  say_phrase(p->context, why, item->why);
  double high = text_column(p->cr, p->context, act_style, point(0, 0), width, 0, true, act);
  if (why[0])
    high += text_column(p->cr, p->context, paper_note, point(0, 0), width, 0, true, why);
  high = fmax(high, BOX) + 12;
  paper_need(p, high);
  double top = p->y;
  paper_box(p, paper_left() + 1, top + 6, BOX, item->state == WORK_DONE);
  p->y += 4;
  paper_words(p, act_style, x, width, act);
  p->y -= 2;
  if (why[0])
    paper_words(p, paper_note, x, width, why);
  text_draw(p->cr, p->context, paper_aligned(paper_note, ALIGN_RIGHT),
            point(initials - GAP, top + 22), item->caution);
  paper_blank(p, initials, right, top + 24, item->tick ? item->tick->initials : NULL);
  if (item->tick) {
    g_autofree char *when = paper_time(p->edge, item->tick->time);
    text_column(p->cr, p->edge, paper_note, point(initials, top + 34), INITIALS, 1, false, when);
  }
  p->y = top + high;
  paper_part_line(p);
}

void paper_bench(Paper *p)
{
  const GArray *list = p->a->worklist;
  paper_page_begin(p);
  draw_head(p);
  for (guint i = 0; list && i < list->len; i++)
    draw_item(p, &g_array_index(list, WorkItem, i));
  if (!list || list->len == 0)
    paper_words(p, paper_body, paper_left(), paper_right(p) - paper_left(),
                text_word(p->context, N_("Nothing is to be done.")));
  p->y += 6;
  paper_cautions(p);
  paper_page_end(p);
}
