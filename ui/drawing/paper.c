/* paper.c - page heads and feet, tables, columns, one page after the other.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/paper_parts.h"
#include "ui/drawing/signs.h"

const TextStyle paper_note = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_LEFT};
const TextStyle paper_body = {TEXT_NOTE, false, false, COLOUR_TEXT, ALIGN_LEFT};
const TextStyle paper_strong = {TEXT_NOTE, true, false, COLOUR_TEXT, ALIGN_LEFT};
const TextStyle paper_head = {TEXT_TITLE, true, false, COLOUR_TEXT, ALIGN_LEFT};

#define ROW 14.5
#define ALONE 2 /* lines that may not be parted from the rest */

double paper_left(void)
{
  return PAPER_MARGIN;
}

double paper_right(const Paper *paper)
{
  return paper->width - PAPER_MARGIN;
}

double paper_room(const Paper *p)
{
  return p->height - PAPER_FOOT - p->y;
}

TextStyle paper_aligned(TextStyle style, Align align)
{
  style.align = align;
  return style;
}

static void edge_rule(Paper *p)
{
  ink_use(p->cr, p->edge, COLOUR_LINE);
  ink_width(p->cr, p->edge, 1);
  draw_line(p->cr, point(paper_left(), p->y), point(paper_right(p), p->y));
}

void paper_page_begin(Paper *p)
{
  if (p->sheets) {
    cairo_rectangle_t page = {0, 0, p->width, p->height};
    cairo_surface_t *sheet = cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, &page);
    g_ptr_array_add(p->sheets, sheet);
    p->cr = cairo_create(sheet);
  }
  p->page++;
  p->y = PAPER_MARGIN;
  g_autofree char *title = paper_title(p->job, p->edge);
  const char *time = p->job->time ? p->job->time : "";
  double room = paper_right(p) - paper_left() - text_width(p->cr, p->edge, paper_note, time) - 24;
  text_column(p->cr, p->edge, paper_note, point(paper_left(), p->y), room, 1, false, title);
  text_draw(p->cr, p->edge, paper_aligned(paper_note, ALIGN_RIGHT), point(paper_right(p), p->y),
            time);
  p->y += 8;
  edge_rule(p);
  p->y += 18;
}

void paper_page_end(Paper *p)
{
  char buf[TEXT_ROOM];
  double y = p->height - PAPER_FOOT + 16, width = paper_right(p) - paper_left() - 70;
  p->y = y - 11;
  edge_rule(p);
  text_column(
      p->cr, p->edge, paper_note, point(paper_left(), y + 3), width, 2, false,
      text_word(p->edge,
                N_("Not a medical device. It compares designs and promises nothing: the maker's "
                   "instructions, local rules and the licensed dentist come first.")));
  say(p->edge, buf, p->pages > 0 ? N_("page {0} of {1}") : N_("page {0}"), p->page, p->pages, 0, 0);
  text_draw(p->cr, p->edge, paper_aligned(paper_note, ALIGN_RIGHT), point(paper_right(p), y + 3),
            buf);
  cairo_show_page(p->cr);
  if (p->sheets)
    cairo_destroy(p->cr);
}

bool paper_need(Paper *p, double need)
{
  if (p->y + need <= p->height - PAPER_FOOT)
    return false;
  paper_page_end(p);
  paper_page_begin(p);
  return true;
}

void paper_rule(Paper *p)
{
  ink_use(p->cr, p->context, COLOUR_LINE);
  ink_width(p->cr, p->context, 1);
  draw_line(p->cr, point(paper_left(), p->y), point(paper_right(p), p->y));
}

void paper_part_line(Paper *p)
{
  ink_use(p->cr, p->context, COLOUR_GRID);
  ink_width(p->cr, p->context, 0.8);
  draw_line(p->cr, point(paper_left(), p->y), point(paper_right(p), p->y));
}

void paper_big(Paper *p, const char *words)
{
  static const TextStyle big = {TEXT_VERDICT, true, false, COLOUR_TEXT, ALIGN_LEFT};
  text_draw(p->cr, p->context, big, point(paper_left(), p->y + 8), words);
}

void paper_heading(Paper *p, const char *msgid, const char *aside_msgid)
{
  p->y += 8;
  paper_need(p, 50);
  p->y += 12;
  text_draw(p->cr, p->context, paper_head, point(paper_left(), p->y), text_word(p->context, msgid));
  if (aside_msgid)
    text_draw(p->cr, p->context, paper_aligned(paper_note, ALIGN_RIGHT),
              point(paper_right(p), p->y), text_word(p->context, aside_msgid));
  p->y += 6;
  paper_rule(p);
  p->y += 3;
}

void paper_words(Paper *p, TextStyle style, double x, double width, const char *words)
{
  double line = text_line_height(p->context, style.size), em = text_px(p->context, style.size);
  int all = text_column_lines(p->cr, p->context, style, point(x, 0), width, 0, 0, words);
  for (int first = 0; first < all;) {
    int left = all - first, take = MIN((int)((paper_room(p) - 2) / line), left);
    if (take < left) {
      take = MIN(take, left - ALONE);
      if (take < (first ? 1 : ALONE)) {
        paper_page_end(p);
        paper_page_begin(p);
        continue;
      }
    }
    text_column_lines(p->cr, p->context, style, point(x, p->y + em), width, first, take, words);
    p->y += take * line;
    first += take;
  }
  p->y += 2;
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

void paper_box(const Paper *p, double x, double y, double size, bool done)
{
  ink_use(p->cr, p->context, done ? COLOUR_TEXT : COLOUR_RULE);
  ink_width(p->cr, p->context, 1.4);
  path_box(p->cr, (Box){x, y, size, size}, 2);
  cairo_stroke(p->cr);
  if (!done)
    return;
  ink_width(p->cr, p->context, 2.2);
  cairo_move_to(p->cr, x + 0.22 * size, y + 0.52 * size);
  cairo_line_to(p->cr, x + 0.43 * size, y + 0.73 * size);
  cairo_line_to(p->cr, x + 0.8 * size, y + 0.27 * size);
  cairo_stroke(p->cr);
}

void paper_blank(const Paper *p, double x0, double x1, double y, const char *filled)
{
  if (filled && filled[0]) {
    text_column(p->cr, p->context, paper_body, point(x0, y - 2), x1 - x0, 1, false, filled);
    return;
  }
  ink_use(p->cr, p->context, COLOUR_RULE);
  ink_width(p->cr, p->context, 1);
  draw_line(p->cr, point(x0, y), point(x1, y));
}

char *paper_time(const DrawContext *context, const char *iso)
{
  g_autoptr(GDateTime) utc = g_date_time_new_from_iso8601(iso, NULL);
  g_autoptr(GDateTime) here = utc ? g_date_time_to_local(utc) : NULL;
  char *words = here ? g_date_time_format(here, text_word(context, N_("%Y-%m-%d %H:%M"))) : NULL;
  return words ? words : g_strdup(iso);
}

char *paper_person(const DrawContext *context, const char *name, const char *initials,
                   const char *role)
{
  const char *who = *name ? name : initials;
  return g_strdup_printf("%s%s%s", who, *who && *role ? ", " : "", text_word(context, role));
}

char *paper_title(const PaperJob *job, const DrawContext *context)
{
  if (job->kind == PAPER_DAY)
    return g_strdup_printf("%s · %s", text_word(context, N_("Decisions of a day")), job->day->date);
  const Case *c = &job->a->c;
  return g_strdup_printf("%s%s%s", c->number, c->title[0] ? " – " : "", c->title);
}

static int pages_draw(Paper *p)
{
  DrawContext large = *p->context;
  large.scale *= PAPER_BENCH_SCALE / PAPER_SCALE;
  if (p->job->kind == PAPER_BENCH) {
    p->context = &large;
    paper_bench(p);
  } else if (p->job->kind == PAPER_DAY) {
    paper_day(p);
  } else {
    paper_bridge(p);
    for (size_t k = 0; k < p->a->n_connector; k++) {
      paper_connector(p, k);
      paper_why(p, k);
    }
    paper_list(p);
    paper_record(p);
  }
  return p->page;
}

static Paper paper_for(cairo_t *cr, const DrawContext *context, const PaperJob *job)
{
  return (Paper){.cr = cr,
                 .job = job,
                 .context = context,
                 .edge = context,
                 .a = job->a,
                 .width = job->width,
                 .height = job->height};
}

int paper_draw(cairo_t *cr, const DrawContext *context, const PaperJob *job, int pages,
               bool counting)
{
  Paper paper = paper_for(cr, context, job);
  paper.pages = pages;
  paper.counting = counting;
  return pages_draw(&paper);
}

static void sheet_free(gpointer sheet)
{
  cairo_surface_destroy(sheet);
}

GPtrArray *paper_sheets(const DrawContext *context, const PaperJob *job)
{
  Paper paper = paper_for(NULL, context, job);
  bool sound = true;
  for (int pass = 0; pass < 2; pass++) { /* the first tells how many there are */
    g_clear_pointer(&paper.sheets, g_ptr_array_unref);
    paper.sheets = g_ptr_array_new_with_free_func(sheet_free);
    paper.counting = pass == 0;
    paper.pages = paper.page;
    paper.page = 0;
    pages_draw(&paper);
    paper.context = context;
  }
  for (guint i = 0; i < paper.sheets->len; i++)
    sound = sound && cairo_surface_status(paper.sheets->pdata[i]) == CAIRO_STATUS_SUCCESS;
  if (!sound)
    g_clear_pointer(&paper.sheets, g_ptr_array_unref);
  return paper.sheets;
}
