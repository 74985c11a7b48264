/* evidence_words.c - see evidence_words.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/review/evidence_words.h"
#include "strength/finish.h"
#include "ui/words.h"
#include <string.h>

char *words_time(const char *iso)
{
  g_autoptr(GTimeZone) utc = g_time_zone_new_utc();
  g_autoptr(GDateTime) time = g_date_time_new_from_iso8601(iso, utc);
  g_autoptr(GDateTime) local = time ? g_date_time_to_local(time) : NULL;
  return local ? g_date_time_format(local, _("%-d %b %Y, %H:%M")) : g_strdup(iso);
}

static const HistoryEntry *entry_of(const Evidence *e)
{
  const GPtrArray *history = e->c.history;
  return e->standing.entry < history->len ? history->pdata[e->standing.entry] : NULL;
}

static const char *person_of(const HistoryEntry *entry)
{
  return *entry->name ? entry->name : *entry->initials ? entry->initials : entry->role;
}

char *evidence_words_standing(const Evidence *e)
{
  const HistoryEntry *entry = entry_of(e);
  if (!entry || e->standing.state == STANDING_DRAWN)
    return g_strdup(_("At the bench: not sent yet."));
  const char *who = person_of(entry);
  g_autofree char *spaced = words_time(entry->time);
  const char *when = g_strstrip(spaced);
  switch (e->standing.state) {
  case STANDING_PASSED:
    return g_strdup_printf(_("Passed by %s, %s."), who, when);
  case STANDING_RETURNED:
    return g_strdup_printf(_("Returned by %s, %s: %s"), who, when, entry->text);
  case STANDING_REOPENED: {
    g_autoptr(GString) all = g_string_new(NULL);
    g_string_printf(all,
                    entry->kind == ENTRY_RETURN
                        ? _("Returned by %s, %s, and changed since: it waits again.")
                        : _("Passed by %s, %s, and changed since: it waits again."),
                    who, when);
    const GPtrArray *why = e->standing.why;
    for (guint i = 0; why && i < why->len; i++)
      g_string_append_printf(all, "\n%s", (const char *)why->pdata[i]);
    return g_string_free(g_steal_pointer(&all), FALSE);
  }
  default:
    return entry->kind == ENTRY_WAIT
               ? g_strdup_printf(_("Left waiting by %s, %s: %s"), who, when, entry->text)
               : g_strdup_printf(_("Sent by %s, %s."), who, when);
  }
}

static const char *signature_words(SignedState state)
{
  static const char *const words[] = {
      [SIGNED_NOT] = N_("The decision is not signed."),
      [SIGNED_WELL] = N_("The decision is signed."),
      [SIGNED_UNKNOWN] = N_("The decision is signed with a key that this lab does not have."),
      [SIGNED_WRONG] = N_("The signature of the decision does not fit: do not rely on it.")};
  return words[state];
}

char *evidence_words_record(const Evidence *e, bool *wrong)
{
  const Standing *s = &e->standing;
  const HistoryEntry *entry = entry_of(e);
  bool decided = entry && (entry->kind == ENTRY_PASS || entry->kind == ENTRY_RETURN);
  *wrong = s->chain.state == CHAIN_BROKEN || (decided && s->signature == SIGNED_WRONG);
  g_autofree char *chain =
      s->chain.state == CHAIN_BROKEN
          ? g_strdup_printf(_("The history is broken at entry %u: it was changed from outside."),
                            s->chain.broken_at + 1)
      : s->chain.state == CHAIN_WHOLE ? g_strdup(_("The history hangs together."))
                                      : g_strdup("");
  return g_strdup_printf("%s%s%s", chain, *chain && decided ? " " : "",
                         decided ? _(signature_words(s->signature)) : "");
}

char *evidence_words_since(const Evidence *e, EvidenceSince since)
{
  if (since == SINCE_N)
    return g_strdup("");
  const EvidenceBase *base = &e->base[since];
  bool any = base->changes && base->changes->len > 0;
  if (since == SINCE_APPROVED)
    return g_strdup(any ? _("Changed since it was approved")
                        : _("Not changed since it was approved"));
  g_autoptr(GDateTime) utc = g_date_time_new_from_unix_utc(base->time_us / G_USEC_PER_SEC);
  g_autofree char *iso = g_date_time_format(utc, "%Y-%m-%dT%H:%M:%SZ"), *spaced = words_time(iso);
  return g_strdup_printf(any ? _("Changed since you looked at it, %s")
                             : _("Not changed since you looked at it, %s"),
                         g_strstrip(spaced));
}

char *evidence_words_changes(const Evidence *e, EvidenceSince since)
{
  g_autoptr(GString) all = g_string_new(NULL);
  const GArray *changes = since < SINCE_N ? e->base[since].changes : NULL;
  for (guint i = 0; changes && i < changes->len; i++) {
    const CaseChange *change = &g_array_index(changes, CaseChange, i);
    g_autofree char *what = words_phrase(&change->what), *before = words_phrase(&change->before),
                    *after = words_phrase(&change->after), *both = words_change(before, after);
    g_string_append_printf(all, "%s%s: %s", all->len ? "\n" : "", what, both);
  }
  return g_string_free(g_steal_pointer(&all), FALSE);
}

char *evidence_words_facts(const Evidence *e)
{
  const Case *c = &e->c;
  g_autofree char *load = words_number(c->order_load_n, 0), *brush = words_number(c->brush_mm, 1);
  g_autoptr(GString) all = g_string_new(_(c->material.name));
  g_string_append_c(all, '\n');
  g_string_append_printf(all, _("order %s N, shown at %s N"), load, load);
  if (c->brush_mm > 0) {
    g_string_append_c(all, '\n');
    g_string_append_printf(all, _("brush %s"), brush);
  }
  if (e->a && e->a->weakest < e->a->n_connector)
    g_string_append_printf(all, "\n%s",
                           _(finish_name(e->a->connector[e->a->weakest].governing_finish)));
  return g_string_free(g_steal_pointer(&all), FALSE);
}

char *evidence_words_list(const Evidence *e)
{
  const GArray *list = e->a ? e->a->worklist : NULL;
  guint done = 0;
  const WorkItem *next = NULL;
  for (guint i = 0; list && i < list->len; i++) {
    const WorkItem *item = &g_array_index(list, WorkItem, i);
    done += item->state == WORK_DONE;
    if (item->state != WORK_DONE && !next)
      next = item;
  }
  if (!list)
    return g_strdup("");
  g_autofree char *act = next ? words_phrase(&next->act) : NULL;
  return act ? g_strdup_printf(_("List: %u of %u done, next: %s"), done, list->len, act)
             : g_strdup_printf(_("List: %u of %u done"), done, list->len);
}
