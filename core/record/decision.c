/* decision.c - see decision.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "record/decision.h"
#include <locale.h>
#include <string.h>

static const HistoryEntry *entry_of(const Case *c, guint i)
{
  return c->history->pdata[i];
}

/* --- what stands --- */

const char *standing_id(StandingState state)
{
  static const char *const id[] = {"drawn", "waits", "passed", "returned", "reopened"};
  return state < G_N_ELEMENTS(id) ? id[state] : "";
}

const char *standing_name(StandingState state)
{
  static const char *const name[] = {[STANDING_DRAWN] = N_("being drawn"),
                                     [STANDING_WAITS] = N_("waits"),
                                     [STANDING_PASSED] = N_("passed"),
                                     [STANDING_RETURNED] = N_("returned"),
                                     [STANDING_REOPENED] = N_("open again")};
  return state < G_N_ELEMENTS(name) ? name[state] : "";
}

/* The last entry that sent or decided; G_MAXUINT without. */
static guint last_decision(const Case *c)
{
  for (guint i = c->history->len; i-- > 0;) {
    EntryKind kind = entry_of(c, i)->kind;
    if (kind >= ENTRY_SENT && kind <= ENTRY_WAIT)
      return i;
  }
  return G_MAXUINT;
}

/* Whether the newest entry that keeps a digest saw another case than this. */
static bool changed_outside(const Case *c, const char *now)
{
  for (guint i = c->history->len; i-- > 0;)
    if (*entry_of(c, i)->content)
      return strcmp(entry_of(c, i)->content, now) != 0;
  return false;
}

static void why_say(GPtrArray *why, const char *msgid)
{
  g_ptr_array_add(why, g_strdup(g_dgettext("soffit", msgid)));
}

static void reopened(const Case *c, bool fits, Standing *s)
{
  s->state = STANDING_REOPENED;
  if (!fits)
    why_say(s->why, N_("The entry of the decision was changed: it does not fit its chain."));
  else if (!*entry_of(c, s->entry)->content)
    why_say(s->why, N_("The decision does not say what it saw."));
  for (guint i = s->entry + 1; i < c->history->len; i++) {
    EntryKind kind = entry_of(c, i)->kind;
    if (kind == ENTRY_CHANGE || kind == ENTRY_MERGE)
      g_ptr_array_add(s->why, entry_words(entry_of(c, i)));
  }
  if (s->outside || s->why->len == 0)
    why_say(s->why, N_("Changed outside the record."));
}

Fault case_standing(const Case *c, const PublicKeys *keys, Standing *standing)
{
  char now[65];
  Fault fault = case_digest(c, now);
  if (fault)
    return fault;
  Standing s = {.state = STANDING_DRAWN,
                .entry = last_decision(c),
                .chain = chain_check(c),
                .outside = changed_outside(c, now),
                .why = g_ptr_array_new_with_free_func(g_free)};
  if (s.entry != G_MAXUINT) {
    const HistoryEntry *entry = entry_of(c, s.entry);
    bool fits = s.entry < s.chain.first || chain_fits(c, s.entry);
    s.signature = entry_signed(entry, keys);
    if (s.signature == SIGNED_WELL && !fits)
      s.signature = SIGNED_WRONG;
    if (entry->kind == ENTRY_RETURN)
      s.state = STANDING_RETURNED;
    else if (entry->kind != ENTRY_PASS)
      s.state = STANDING_WAITS;
    else if (fits && strcmp(entry->content, now) == 0)
      s.state = STANDING_PASSED;
    else
      reopened(c, fits, &s);
  }
  *standing = s;
  return FAULT_NONE;
}

void standing_clear(Standing *standing)
{
  g_clear_pointer(&standing->why, g_ptr_array_unref);
}

/* --- decided --- */

static bool blank(const char *text)
{
  while (text && *text && g_unichar_isspace(g_utf8_get_char_validated(text, -1)))
    text = g_utf8_next_char(text);
  return !text || !*text;
}

Fault case_decide(Case *c, EntryKind kind, const Person *by, const char *reason, guint stops,
                  const VerdictLimits *limits, const SigningKey *key)
{
  bool needed = kind == ENTRY_RETURN || kind == ENTRY_WAIT || (kind == ENTRY_PASS && stops > 0);
  if (kind < ENTRY_SENT || kind > ENTRY_WAIT || (needed && blank(reason)))
    return FAULT_RANGE;
  Fault fault = kind == ENTRY_PASS ? case_approve(c) : FAULT_NONE;
  if (fault)
    return fault;
  char close[32], holds[32];
  g_ascii_formatd(close, sizeof close, "%.2f", limits->close_margin);
  g_ascii_formatd(holds, sizeof holds, "%.2f", limits->holds_margin);
  g_autofree char *taken_by = g_strconcat(close, " ", holds, NULL);
  return chain_append(c, kind, by, reason, NULL, NULL, taken_by, key);
}

/* --- changes --- */

static const char *record_translate(const char *msgid)
{
  return g_dgettext("soffit", msgid);
}

/* A line of its own, in the words of whoever works here: a record is not translated later. */
static void line_append(GString *text, const Phrase *phrase, bool first)
{
  const char *decimal = localeconv()->decimal_point;
  size_t room = phrase_format(phrase, record_translate, decimal, NULL, 0) + 1;
  g_autofree char *line = g_malloc(room);
  phrase_format(phrase, record_translate, decimal, line, room);
  g_string_append_printf(text, "%s%s", first ? "" : "\n", line);
}

Fault record_changes(Case *c, const Case *before, const Person *by, const SigningKey *key)
{
  g_autoptr(GArray) changes = case_changes(before, c);
  Fault fault = FAULT_NONE;
  for (guint from = 0, to; from < changes->len && !fault; from = to) {
    g_autoptr(GString) what = g_string_new(NULL);
    g_autoptr(GString) was = g_string_new(NULL);
    g_autoptr(GString) is = g_string_new(NULL);
    CasePart part = g_array_index(changes, CaseChange, from).part;
    for (to = from; to < changes->len && g_array_index(changes, CaseChange, to).part == part;
         to++) {
      const CaseChange *change = &g_array_index(changes, CaseChange, to);
      line_append(what, &change->what, to == from);
      line_append(was, &change->before, to == from);
      line_append(is, &change->after, to == from);
    }
    fault = chain_append(c, ENTRY_CHANGE, by, what->str, was->str, is->str, NULL, key);
  }
  return fault;
}
