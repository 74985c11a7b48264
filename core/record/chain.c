/* chain.c - see chain.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Texts are digested as a file keeps them, so that a chain holds in memory and after reading. */
#include "record/chain.h"
#include "base/phrase.h"
#include "record/signing_parts.h"
#include <string.h>

#define TIME_FORMAT "%Y-%m-%dT%H:%M:%SZ"

/* --- bytes --- */

static void field_append(GString *out, const char *name, const char *text)
{
  g_autofree char *kept = text_kept(text);
  g_string_append_printf(out, "%s %zu:%s\n", name, strlen(kept), kept);
}

static void entry_append(GString *out, const HistoryEntry *entry)
{
  g_autofree char *text = g_strstrip(text_kept(entry->text)); /* as an element keeps it */
  field_append(out, "kind", entry_kind_id(entry->kind));
  field_append(out, "time", entry->time);
  field_append(out, "name", entry->name);
  field_append(out, "role", entry->role);
  field_append(out, "initials", entry->initials);
  field_append(out, "text", text);
  field_append(out, "before", entry->before);
  field_append(out, "after", entry->after);
  field_append(out, "content", entry->content);
  field_append(out, "limits", entry->limits);
  field_append(out, "key", entry->key);
}

static const HistoryEntry *entry_of(const Case *c, guint i)
{
  return c->history->pdata[i];
}

static bool chained(const Case *c, guint i)
{
  return *entry_of(c, i)->chain != '\0';
}

/* The first chained entry; the number of entries when none is. */
static guint first_chained(const Case *c)
{
  guint first = 0;
  while (first < c->history->len && !chained(c, first))
    first++;
  return first;
}

static GString *bytes_of(const Case *c, guint first, guint i)
{
  GString *out = g_string_new("soffit history 1\n");
  if (i > first)
    field_append(out, "previous", entry_of(c, i - 1)->chain);
  else
    g_string_append_printf(out, "earlier %u\n", i);
  for (guint j = i > first ? i : 0; j <= i; j++)
    entry_append(out, entry_of(c, j));
  return out;
}

GString *chain_bytes(const Case *c, guint i)
{
  return bytes_of(c, first_chained(c), i);
}

static char *chain_digest(const Case *c, guint first, guint i)
{
  g_autoptr(GString) bytes = bytes_of(c, first, i);
  return g_compute_checksum_for_data(G_CHECKSUM_SHA256, (const guchar *)bytes->str, bytes->len);
}

/* --- appended --- */

/* Not before any entry with a time that can be read; the words that tell so in *jump. */
static char *time_after(const Case *c, char **jump)
{
  g_autoptr(GTimeZone) utc = g_time_zone_new_utc();
  g_autoptr(GDateTime) now = g_date_time_new_now_utc();
  g_autoptr(GDateTime) latest = g_date_time_ref(now);
  for (guint i = 0; i < c->history->len; i++) {
    g_autoptr(GDateTime) then = g_date_time_new_from_iso8601(entry_of(c, i)->time, utc);
    if (then && g_date_time_to_unix(then) > g_date_time_to_unix(latest)) {
      g_date_time_unref(latest);
      latest = g_date_time_to_utc(then);
    }
  }
  g_autofree char *clock = g_date_time_format(now, TIME_FORMAT);
  *jump =
      latest == now
          ? NULL
          : g_strdup_printf(
                g_dgettext("soffit", N_("The clock stood at %s, before the last entry.")), clock);
  return g_date_time_format(latest, TIME_FORMAT);
}

static void text_set(char **field, const char *text)
{
  g_free(*field);
  *field = text_kept(text);
}

Fault chain_append(Case *c, EntryKind kind, const Person *by, const char *text, const char *before,
                   const char *after, const char *limits, const SigningKey *key)
{
  HistoryEntry *entry = history_entry_new();
  g_autofree char *jump = NULL;
  g_autofree char *when = time_after(c, &jump);
  g_autofree char *joined =
      g_strjoin(text && *text && jump ? "\n" : "", text ? text : "", jump ? jump : "", NULL);
  entry->kind = kind;
  text_set(&entry->time, when);
  text_set(&entry->name, by->name);
  text_set(&entry->role, by->role);
  text_set(&entry->initials, by->initials);
  text_set(&entry->text, joined);
  g_strstrip(entry->text);
  text_set(&entry->before, before);
  text_set(&entry->after, after);
  text_set(&entry->limits, limits);
  if (kind != ENTRY_NOTE) {
    char hex[65];
    Fault fault = case_digest(c, hex);
    if (fault) {
      history_entry_free(entry);
      return fault;
    }
    text_set(&entry->content, hex);
  }
  if (key)
    text_set(&entry->key, signing_key_id(key));
  g_ptr_array_add(c->history, entry);
  char *chain = chain_digest(c, first_chained(c), c->history->len - 1); /* reads the empty one */
  g_free(entry->chain);
  entry->chain = chain;
  if (key) {
    g_free(entry->signature);
    entry->signature = signing_key_sign(key, entry->chain, strlen(entry->chain));
  }
  return FAULT_NONE;
}

/* --- read --- */

static bool fits(const Case *c, guint first, guint i)
{
  g_autofree char *digest = chain_digest(c, first, i);
  return strcmp(digest, entry_of(c, i)->chain) == 0;
}

bool chain_fits(const Case *c, guint i)
{
  return fits(c, first_chained(c), i);
}

ChainReading chain_check(const Case *c)
{
  guint first = first_chained(c), i = first;
  while (i < c->history->len && fits(c, first, i))
    i++;
  if (i < c->history->len)
    return (ChainReading){CHAIN_BROKEN, i, first};
  return (ChainReading){first < i ? CHAIN_WHOLE : CHAIN_NONE, G_MAXUINT, first};
}

/* Lines of text, before and after belong together one by one. */
char *entry_words(const HistoryEntry *entry)
{
  if (!*entry->before && !*entry->after)
    return g_strdup(entry->text);
  g_auto(GStrv) what = g_strsplit(entry->text, "\n", -1);
  g_auto(GStrv) before = g_strsplit(entry->before, "\n", -1);
  g_auto(GStrv) after = g_strsplit(entry->after, "\n", -1);
  guint n_before = g_strv_length(before), n_after = g_strv_length(after);
  GString *words = g_string_new(NULL);
  for (guint i = 0; what[i]; i++) {
    g_string_append_printf(words, "%s%s", i ? "\n" : "", what[i]);
    const char *from = i < n_before ? before[i] : "", *to = i < n_after ? after[i] : "";
    if (*from || *to)
      g_string_append_printf(words, ": %s → %s", *from ? from : "–", *to ? to : "–");
  }
  return g_string_free(words, FALSE);
}
