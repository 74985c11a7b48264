/* paper_list.c - the finishing list with boxes, room for initials, and the cautions that belong to
 * it. SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_break.h"
#include "ui/drawing/paper_parts.h"
#include <math.h>
#include <string.h>

#define CAUTIONS 8
#define HEADING 29.0 /* high */

static void draw_item(Paper *p, const WorkItem *item)
{
  char act[TEXT_ROOM], why[TEXT_ROOM];
  double l = paper_left(), r = paper_right(p), text_x = l + 22, caution_x = r - 196,
         text_wide = caution_x - text_x - 10;
  TextStyle head =
      item->severity == SEVERITY_STOP || item->state == WORK_NOW ? paper_strong : paper_body;
  say_phrase(p->context, act, item->act);
  say_phrase(p->context, why, item->why);
  double high = text_column(p->cr, p->context, head, point(0, 0), text_wide, 0, true, act);
  if (why[0])
    high += text_column(p->cr, p->context, paper_note, point(0, 0), text_wide, 0, true, why);
  high = fmax(high + 9, 22);
  paper_need(p, high);
  double top = p->y;
  bool done = item->state == WORK_DONE;
  paper_box(p, l + 1, top + 4.5, 11, done);
  p->y = top + 3;
  paper_words(p, head, text_x, text_wide, act);
  p->y -= 2;
  if (why[0])
    paper_words(p, paper_note, text_x, text_wide, why);
  if (item->caution)
    text_draw(p->cr, p->context, paper_note, point(caution_x, top + 13), item->caution);
  g_autofree char *date = item->tick ? paper_time(p->context, item->tick->time) : NULL;
  paper_blank(p, r - 142, r - 96, top + 15, item->tick ? item->tick->initials : NULL);
  paper_blank(p, r - 88, r, top + 15, date);
  p->y = top + high;
  paper_part_line(p);
}

static void caution_note(bool named[CAUTIONS + 1], const char *codes)
{
  for (const char *k = codes ? strchr(codes, 'K') : NULL; k; k = strchr(k + 1, 'K'))
    if (k[1] >= '1' && k[1] <= '0' + CAUTIONS)
      named[k[1] - '0'] = true;
}

void paper_cautions(Paper *p)
{
  bool named[CAUTIONS + 1] = {false}, any = false;
  const GArray *list = p->a->worklist, *fired = p->a->fired;
  for (guint i = 0; list && i < list->len; i++)
    caution_note(named, g_array_index(list, WorkItem, i).caution);
  for (guint i = 0; fired && i < fired->len; i++)
    caution_note(named, g_array_index(fired, FiredRule, i).rule->caution);
  double x = paper_left() + 2.6 * text_px(p->context, TEXT_NOTE), high = HEADING;
  for (int k = 1; k <= CAUTIONS; k++)
    if (named[k] && caution_text(k)) {
      any = true;
      high += 4 + text_column(p->cr, p->context, paper_body, point(x, p->y), paper_right(p) - x, 0,
                              true, text_word(p->context, caution_text(k)));
    }
  if (!any)
    return;
  paper_need(p, high); /* together: none is overlooked on another page */
  paper_heading(p, N_("Cautions"), N_("danger to people stands above danger to the bridge"));
  for (int k = 1; k <= CAUTIONS; k++) {
    if (!named[k] || !caution_text(k))
      continue;
    char name[8];
    g_snprintf(name, sizeof name, "K%d", k);
    paper_need(p, 2 * text_line_height(p->context, TEXT_NOTE));
    text_draw(p->cr, p->context, paper_strong,
              point(paper_left(), p->y + text_px(p->context, TEXT_NOTE)), name);
    paper_words(p, paper_body, x, paper_right(p) - x, text_word(p->context, caution_text(k)));
    p->y += 2;
  }
}

/* Where it broke, where that was expected, and what was found. */
static void draw_break(Paper *p)
{
  const BreakOrigin *origin = &p->a->c.origin;
  BreakCheck check = break_check(p->a);
  if (!check.recorded)
    return;
  char text[TEXT_ROOM];
  double wide = paper_right(p) - paper_left();
  paper_need(p, 90);
  paper_heading(p, N_("After a break"), N_("recorded, against the hot spot at the order's load"));
  Phrase broke = {.text = N_("Broke at {place}, {word}."), .word = zone_name(check.broke_zone)},
         expected = {.text = N_("Soffit expected {place}, {word}."),
                     .word = zone_name(check.expected_zone)};
  connector_name(&p->a->c, check.broke, '/', broke.place);
  connector_name(&p->a->c, check.expected, '/', expected.place);
  paper_words(p, paper_strong, paper_left(), wide, say_phrase(p->context, text, broke));
  paper_words(p, paper_body, paper_left(), wide, say_phrase(p->context, text, expected));
  if (origin->kind)
    paper_words(p, paper_body, paper_left(), wide,
                text_word(p->context, origin_kind_name(origin->kind)));
  if (origin->load_n > 0)
    paper_words(p, paper_body, paper_left(), wide,
                say(p->context, text, N_("Load at the break: {0} N"), origin->load_n, 0, 0, 0));
  if (origin->years >= 0)
    paper_words(p, paper_body, paper_left(), wide,
                say(p->context, text, N_("In service: {0.1} years"), origin->years, 0, 0, 0));
  if (origin->seen[0])
    paper_words(p, paper_note, paper_left(), wide, origin->seen);
  if (origin->photo[0])
    paper_words(p, paper_note, paper_left(), wide, origin->photo);
}

static void draw_signatures(Paper *p)
{
  static const char *const who[3] = {N_("drawn by"), N_("finished by"), N_("released by")};
  paper_need(p, 44); /* a little closer rather than alone on a page */
  p->y += fmin(44, paper_room(p) - 18);
  double l = paper_left(), width = (paper_right(p) - l) / 3;
  for (int k = 0; k < 3; k++) {
    paper_blank(p, l + k * width, l + (k + 1) * width - 18, p->y, NULL);
    text_draw(p->cr, p->context, paper_note, point(l + k * width, p->y + 11),
              text_word(p->context, who[k]));
  }
  p->y += 16;
}

void paper_list(Paper *p)
{
  const GArray *list = p->a->worklist;
  paper_page_begin(p);
  paper_big(p, text_word(p->context, N_("Finishing list")));
  p->y += 22;
  double l = paper_left(), r = paper_right(p), x[4] = {l + 22, r - 196, r - 142, r - 88};
  const TextStyle style[4] = {paper_note, paper_note, paper_note, paper_note};
  const char *cell[4] = {text_word(p->context, N_("in this order")),
                         text_word(p->context, N_("caution")),
                         text_word(p->context, N_("initials")), text_word(p->context, N_("date"))};
  paper_row(p, 4, x, style, cell);
  paper_rule(p);
  for (guint i = 0; list && i < list->len; i++)
    draw_item(p, &g_array_index(list, WorkItem, i));
  paper_cautions(p);
  draw_break(p);
  draw_signatures(p);
  paper_page_end(p);
}
