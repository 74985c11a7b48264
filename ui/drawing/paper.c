/* paper.c - page heads and feet, tables, columns.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/paper_parts.h"
#include "ui/drawing/signs.h"

const TextStyle paper_note = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_LEFT};
const TextStyle paper_body = {TEXT_NOTE, false, false, COLOUR_TEXT, ALIGN_LEFT};
const TextStyle paper_strong = {TEXT_NOTE, true, false, COLOUR_TEXT, ALIGN_LEFT};
const TextStyle paper_head = {TEXT_TITLE, true, false, COLOUR_TEXT, ALIGN_LEFT};

#define ROW 14.5

double paper_left(void)
{
  return PAPER_MARGIN;
}

double paper_right(const Paper *paper)
{
  return paper->width - PAPER_MARGIN;
}

static TextStyle aligned(TextStyle style, Align align)
{
  style.align = align;
  return style;
}

void paper_page_begin(Paper *p)
{
  char buf[TEXT_ROOM];
  p->page++;
  p->y = PAPER_MARGIN;
  g_snprintf(buf, sizeof buf, "%s%s%s", p->a->c.number, p->a->c.title[0] ? " · " : "",
             p->a->c.title);
  double room = 0.68 * (paper_right(p) - paper_left());
  text_column(p->cr, p->context, paper_note, point(paper_left(), p->y), room, 1, false, buf);
  text_draw(p->cr, p->context, aligned(paper_note, ALIGN_RIGHT), point(paper_right(p), p->y),
            p->time ? p->time : "");
  p->y += 8;
  paper_rule(p);
  p->y += 18;
}

void paper_page_end(Paper *p)
{
  char buf[TEXT_ROOM];
  double y = p->height - PAPER_FOOT + 16, width = paper_right(p) - paper_left() - 70;
  p->y = y - 11;
  paper_rule(p);
  text_column(
      p->cr, p->context, paper_note, point(paper_left(), y + 3), width, 2, false,
      text_word(p->context,
                N_("Not a medical device. It compares designs and promises nothing: the maker's "
                   "instructions, local rules and the licensed dentist come first.")));
  say(p->context, buf, p->pages > 0 ? N_("page {0} of {1}") : N_("page {0}"), p->page, p->pages, 0,
      0);
  text_draw(p->cr, p->context, aligned(paper_note, ALIGN_RIGHT), point(paper_right(p), y + 3), buf);
  cairo_show_page(p->cr);
}

void paper_need(Paper *p, double need)
{
  if (p->y + need <= p->height - PAPER_FOOT)
    return;
  paper_page_end(p);
  paper_page_begin(p);
}

void paper_rule(Paper *p)
{
  ink_use(p->cr, p->context, COLOUR_LINE);
  ink_width(p->cr, p->context, 1);
  draw_line(p->cr, point(paper_left(), p->y), point(paper_right(p), p->y));
}

void paper_heading(Paper *p, const char *msgid, const char *aside_msgid)
{
  p->y += 8;
  paper_need(p, 50);
  p->y += 12;
  text_draw(p->cr, p->context, paper_head, point(paper_left(), p->y), text_word(p->context, msgid));
  if (aside_msgid)
    text_draw(p->cr, p->context, aligned(paper_note, ALIGN_RIGHT), point(paper_right(p), p->y),
              text_word(p->context, aside_msgid));
  p->y += 6;
  paper_rule(p);
  p->y += 3;
}

void paper_words(Paper *p, TextStyle style, double x, double width, const char *words)
{
  double high = text_column(p->cr, p->context, style, point(x, 0), width, 0, true, words);
  paper_need(p, high + 2);
  text_column(p->cr, p->context, style, point(x, p->y + text_px(p->context, style.size)), width, 0,
              false, words);
  p->y += high + 2;
}

void paper_row(Paper *p, size_t n, const double x[], const TextStyle style[],
               const char *const cell[])
{
  paper_need(p, ROW);
  for (size_t k = 0; k < n; k++)
    if (cell[k] && cell[k][0])
      text_draw(p->cr, p->context, style[k], point(x[k], p->y + 10.5), cell[k]);
  p->y += ROW;
}

void paper_verdict(Paper *p, Verdict verdict, Point at, double size)
{
  cairo_save(p->cr);
  cairo_translate(p->cr, at.x, at.y);
  draw_verdict(p->cr, verdict, size, palette_verdict(p->context->palette, verdict));
  cairo_restore(p->cr);
}

int paper_draw(cairo_t *cr, const DrawContext *context, const Assessment *a, const char *time,
               int pages, bool counting)
{
  Paper paper = {.cr = cr,
                 .context = context,
                 .a = a,
                 .time = time,
                 .width = PAPER_A4_WIDTH,
                 .height = PAPER_A4_HEIGHT,
                 .pages = pages,
                 .counting = counting};
  paper_bridge(&paper);
  for (size_t k = 0; k < a->n_connector; k++) {
    paper_connector(&paper, k);
    paper_why(&paper, k);
  }
  paper_list(&paper);
  return paper.page;
}
