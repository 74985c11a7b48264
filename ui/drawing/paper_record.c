/* paper_record.c - the last page: what was judged as a digest and a square code, the decision, the
 * history. SPDX-License-Identifier: GPL-3.0-or-later */
#include "record/decision.h"
#include "ui/drawing/paper_parts.h"
#include "ui/drawing/qr_code.h"

#define CODE_SIZE 104.0
#define CODE_FIRST "SOFFIT1" /* form of the text in the square: SOFFIT1:NUMBER:DIGEST */
#define NUMBER_MOST 200      /* bytes of the case number in it */
#define ENTRIES 16
#define TIME_WIDE 86.0
#define WHO_WIDE 104.0

static void draw_digest(Paper *p)
{
  const Case *c = &p->a->c;
  char hex[65];
  double l = paper_left(), top = p->y;
  if (case_digest(c, hex) != FAULT_NONE)
    return;
  double wide = paper_right(p) - l - CODE_SIZE - 14;
  g_autofree char *number = g_utf8_strlen(c->number, -1) > NUMBER_MOST
                                ? g_utf8_substring(c->number, 0, NUMBER_MOST)
                                : g_strdup(c->number);
  g_autofree char *text = g_strdup_printf("%s:%s:%s", CODE_FIRST, number, hex);
  draw_qr_code(p->cr, paper_right(p) - CODE_SIZE, top, CODE_SIZE, text);
  p->y += 10;
  paper_words(p, paper_strong, l, wide, hex);
  p->y += 2;
  paper_words(
      p, paper_note, l, wide,
      text_word(p->context, N_("SHA-256 of what was judged: lines and sizes, material card, load, "
                               "finish, finishing list with its ticks. Any change of these gives "
                               "another digest.")));
  paper_words(p, paper_note, l, wide,
              text_word(p->context, N_("The square says the same: case number and digest.")));
  p->y = fmax(p->y, top + CODE_SIZE);
}

/* --- the decision --- */

static void draw_reopened(Paper *p, const Standing *standing)
{
  double l = paper_left(), wide = paper_right(p) - l;
  for (guint i = 0; standing->why && i < standing->why->len; i++)
    paper_words(p, paper_body, l + 12, wide - 12, standing->why->pdata[i]);
}

static void draw_decision(Paper *p, const Standing *standing)
{
  const Case *c = &p->a->c;
  double l = paper_left(), wide = paper_right(p) - l;
  paper_heading(p, N_("Decision"), N_("it belongs to exactly the digest that it saw"));
  paper_words(p, paper_strong, l, wide, text_word(p->context, standing_name(standing->state)));
  if (standing->entry < c->history->len) {
    const HistoryEntry *entry = c->history->pdata[standing->entry];
    g_autofree char *who = paper_person(p->context, entry->name, entry->initials, entry->role),
                    *when = paper_time(p->context, entry->time),
                    *line = g_strdup_printf(
                        "%s: %s%s%s · %s", text_word(p->context, entry_kind_name(entry->kind)), who,
                        *who && *when ? ", " : "", when,
                        text_word(p->context, signed_name(standing->signature)));
    paper_words(p, paper_body, l, wide, line);
    if (entry->text[0])
      paper_words(p, paper_body, l, wide, entry->text);
  }
  draw_reopened(p, standing);
}

/* --- the history --- */

static void draw_chain(Paper *p, const ChainReading *chain)
{
  char buf[TEXT_ROOM];
  double l = paper_left(), wide = paper_right(p) - l;
  static const char *const state[] = {
      [CHAIN_NONE] = N_("The history is not chained: entries could be changed unseen."),
      [CHAIN_WHOLE] = N_("The chain of the history is whole: no entry was changed, taken out or "
                         "put in between since."),
      [CHAIN_BROKEN] = N_("The chain of the history is broken at entry {0}: that entry, or one "
                          "before it, was changed, taken out or put in."),
  };
  paper_words(p, chain->state == CHAIN_BROKEN ? paper_strong : paper_note, l, wide,
              say(p->context, buf, state[chain->state], chain->broken_at + 1.0, 0, 0, 0));
  if (chain->state != CHAIN_NONE && chain->first > 0)
    paper_words(p, paper_note, l, wide,
                say(p->context, buf, N_("{0} entries are from before the record was chained."),
                    chain->first, 0, 0, 0));
}

static char *entry_line(const Paper *p, const HistoryEntry *entry)
{
  g_autofree char *words = entry_words(entry);
  if (entry->kind == ENTRY_NOTE || entry->kind == ENTRY_CHANGE)
    return g_steal_pointer(&words);
  return g_strdup_printf("%s%s%s", text_word(p->context, entry_kind_name(entry->kind)),
                         *words ? ": " : "", words);
}

static void draw_entry(Paper *p, const HistoryEntry *entry)
{
  double l = paper_left(), line = text_line_height(p->context, TEXT_NOTE),
         x = l + TIME_WIDE + WHO_WIDE;
  g_autofree char *words = entry_line(p, entry), *when = paper_time(p->context, entry->time),
                  *who = paper_person(p->context, entry->name, entry->initials, entry->role);
  paper_need(p, 2 * line);
  double em = p->y + text_px(p->context, TEXT_NOTE);
  text_column(p->cr, p->context, paper_note, point(l, em), TIME_WIDE - 8, 1, false, when);
  double who_high = text_column(p->cr, p->context, paper_body, point(l + TIME_WIDE, em),
                                WHO_WIDE - 8, 2, false, who);
  int page = p->page;
  double top = p->y;
  paper_words(p, paper_body, x, paper_right(p) - x, words);
  if (p->page == page)
    p->y = fmax(p->y, top + who_high + 2);
  paper_part_line(p);
  p->y += 2;
}

static void draw_history(Paper *p, const ChainReading *chain)
{
  const GPtrArray *history = p->a->c.history;
  char buf[TEXT_ROOM];
  double l = paper_left(), wide = paper_right(p) - l;
  paper_heading(p, N_("History"), N_("the last entries, newest below"));
  if (history->len == 0) {
    paper_words(p, paper_body, l, wide, text_word(p->context, N_("Nothing is written down yet.")));
    return;
  }
  draw_chain(p, chain);
  p->y += 3;
  guint from = history->len > ENTRIES ? history->len - ENTRIES : 0;
  if (from > 0)
    paper_words(
        p, paper_note, l, wide,
        say(p->context, buf, N_("{0} earlier entries stand in the case file."), from, 0, 0, 0));
  for (guint i = from; i < history->len; i++)
    draw_entry(p, history->pdata[i]);
}

void paper_record(Paper *p)
{
  Standing standing;
  paper_page_begin(p);
  paper_big(p, text_word(p->context, N_("Record")));
  p->y += 24;
  draw_digest(p);
  Fault fault = case_standing(&p->a->c, p->job->keys, &standing);
  if (fault == FAULT_NONE) {
    draw_decision(p, &standing);
    draw_history(p, &standing.chain);
    standing_clear(&standing);
  } else {
    paper_words(p, paper_strong, paper_left(), paper_right(p) - paper_left(),
                text_word(p->context, fault_text(fault)));
  }
  paper_page_end(p);
}
