/* paper_day.c - the decisions of one day: counts, then a table with the reason below each.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/paper_parts.h"

#define COLUMNS 6

static void columns(const Paper *p, double x[COLUMNS])
{
  double l = paper_left(), r = paper_right(p);
  const double at[COLUMNS] = {l, l + 46, l + 156, l + 226, l + 362, r};
  memcpy(x, at, sizeof at);
}

static void table_head(Paper *p)
{
  static const char *const name[COLUMNS] = {N_("time"),    N_("case, teeth"), N_("decision"),
                                            N_("by whom"), N_("verdict"),     N_("margin, band")};
  double x[COLUMNS];
  TextStyle style[COLUMNS];
  const char *cell[COLUMNS];
  columns(p, x);
  for (int k = 0; k < COLUMNS; k++) {
    style[k] = paper_aligned(paper_note, k == COLUMNS - 1 ? ALIGN_RIGHT : ALIGN_LEFT);
    cell[k] = text_word(p->context, name[k]);
  }
  paper_row(p, COLUMNS, x, style, cell);
  paper_rule(p);
  p->y += 3;
}

/* A cell of at most two lines. */
static double cell(Paper *p, TextStyle style, double x0, double x1, const char *words)
{
  double em = text_px(p->context, TEXT_NOTE);
  return *words ? text_column(p->cr, p->context, style, point(x0, p->y + em), x1 - x0 - 8, 2, false,
                              words)
                : 0;
}

static void decision_line(Paper *p, const DayDecision *d)
{
  char buf[TEXT_ROOM];
  double x[COLUMNS], line = text_line_height(p->context, TEXT_NOTE);
  columns(p, x);
  if (paper_need(p, 3 * line + 4))
    table_head(p);
  double top = p->y, high = line;
  g_autofree char *whole = paper_time(p->context, d->time);
  const char *clock = strrchr(whole, ' ');
  g_autofree char *who = paper_person(p->context, d->name, d->initials, d->role),
                  *by = g_strdup_printf("%s · %s", who,
                                        text_word(p->context, signed_name(d->signature)));
  Phrase teeth = {.text = N_("{0}–{1}, {2} units"),
                  .value = {d->tooth_first, d->tooth_last, (double)d->n_unit}};
  cell(p, paper_note, x[0], x[1], clock ? clock + 1 : whole);
  cell(p, paper_strong, x[1], x[2], d->number);
  p->y += line;
  cell(p, paper_note, x[1], x[2], say_phrase(p->context, buf, teeth));
  p->y = top;
  cell(p, paper_strong, x[2], x[3], text_word(p->context, entry_kind_name(d->kind)));
  high = fmax(2 * line, cell(p, paper_body, x[3], x[4], by));
  paper_verdict(p, d->verdict, point(x[4], p->y), 11);
  cell(p, paper_body, x[4] + 16, x[5], text_word(p->context, verdict_name(d->verdict)));
  text_draw(p->cr, p->context, paper_aligned(paper_strong, ALIGN_RIGHT),
            point(x[5], p->y + text_px(p->context, TEXT_NOTE)),
            say_banded(p->context, buf, d->margin, 2));
  if (d->since) {
    p->y += line;
    cell(p, paper_note, x[4], x[5] + 8,
         text_word(p->context, N_("changed since: of today's drawing")));
    p->y = top;
  }
  p->y = top + high;
  if (d->reason[0])
    paper_words(p, paper_body, x[1], paper_right(p) - x[1], d->reason);
  p->y += 2;
  paper_part_line(p);
  p->y += 3;
}

static void draw_counts(Paper *p)
{
  const LabDay *day = p->job->day;
  char buf[TEXT_ROOM];
  double n[3] = {0}, wide = paper_right(p) - paper_left();
  for (guint i = 0; i < day->decision->len; i++) {
    const DayDecision *d = day->decision->pdata[i];
    n[d->kind == ENTRY_PASS ? 0 : d->kind == ENTRY_RETURN ? 1 : 2]++;
  }
  paper_words(p, paper_strong, paper_left(), wide,
              say(p->context, buf,
                  day->decision->len == 1
                      ? N_("One decision: {1} passed, {2} returned, {3} left waiting")
                      : N_("{0} decisions: {1} passed, {2} returned, {3} left waiting"),
                  n[0] + n[1] + n[2], n[0], n[1], n[2]));
  paper_words(p, paper_note, paper_left(), wide,
              say(p->context, buf, day->cases == 1 ? N_("One case read.") : N_("{0} cases read."),
                  day->cases, 0, 0, 0));
}

static void draw_trouble(Paper *p)
{
  const GPtrArray *trouble = p->job->day->trouble;
  if (trouble->len == 0)
    return;
  paper_heading(p, N_("Not readable"), N_("their decisions are missing above"));
  for (guint i = 0; i < trouble->len; i++)
    paper_words(p, paper_body, paper_left(), paper_right(p) - paper_left(), trouble->pdata[i]);
}

void paper_day(Paper *p)
{
  const LabDay *day = p->job->day;
  paper_page_begin(p);
  g_autofree char *head =
      g_strdup_printf("%s · %s", text_word(p->context, N_("Decisions of a day")), day->date);
  paper_big(p, head);
  p->y += 22;
  draw_counts(p);
  p->y += 8;
  if (day->decision->len > 0)
    table_head(p);
  for (guint i = 0; i < day->decision->len; i++)
    decision_line(p, day->decision->pdata[i]);
  draw_trouble(p);
  paper_page_end(p);
}
