/* cli_record.c - soffit-cli record: the history of a case, whether it hangs together, what stands.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/case_xml.h"
#include "cli.h"
#include "csv_line.h"
#include "json_print.h"
#include "record/decision.h"
#include "record/digest.h"
#include "ui/words.h"
#include <stdio.h>
#include <string.h>

#define NO_ENTRY G_MAXINT /* of the option --bytes: not given */

/* Of one case; entries are counted from 1 for people. */
typedef struct {
  Case c;
  PublicKeys *keys;
  Standing standing;
} Record;

static const HistoryEntry *entry_of(const Record *r, guint i)
{
  return r->c.history->pdata[i];
}

static const char *chain_id(const Record *r, guint i)
{
  return i < r->standing.chain.first ? "none" : chain_fits(&r->c, i) ? "fits" : "broken";
}

/* A signature is of a chain: where that does not fit its entry, neither does the signature. */
static SignedState signed_state(const Record *r, guint i)
{
  SignedState state = entry_signed(entry_of(r, i), r->keys);
  bool loose = i >= r->standing.chain.first && !chain_fits(&r->c, i);
  return state == SIGNED_WELL && loose ? SIGNED_WRONG : state;
}

static guint signed_wrong(const Record *r)
{
  guint n = 0;
  for (guint i = 0; i < r->c.history->len; i++)
    n += signed_state(r, i) == SIGNED_WRONG;
  return n;
}

/* --- for machines --- */

static void lines_json(GString *line, const char *key, const char *text)
{
  g_auto(GStrv) part = g_strsplit(text, "\n", -1);
  json_open(line, key, '[');
  for (char **p = part; *p; p++)
    json_item(line, *p);
  json_close(line, ']');
}

static void entry_json(const Record *r, guint i)
{
  const HistoryEntry *entry = entry_of(r, i);
  GString *line = json_begin();
  json_number(line, "entry", i + 1);
  json_text(line, "kind", entry_kind_id(entry->kind));
  json_text(line, "time", entry->time);
  json_text(line, "name", entry->name);
  json_text(line, "role", entry->role);
  json_text(line, "initials", entry->initials);
  lines_json(line, "text", entry->text);
  lines_json(line, "before", entry->before);
  lines_json(line, "after", entry->after);
  json_text(line, "content", entry->content);
  json_text(line, "limits", entry->limits);
  json_text(line, "chain", entry->chain);
  json_text(line, "chain_state", chain_id(r, i));
  json_text(line, "key", entry->key);
  json_text(line, "signed", signed_id(signed_state(r, i)));
  json_end_print(line);
}

/* The history as a table; what stands is told by the lines of JSON. */
static void entries_csv(const Record *r)
{
  static const char *const head[] = {"entry",    "kind",  "time",        "name",  "role",
                                     "initials", "text",  "before",      "after", "content",
                                     "limits",   "chain", "chain_state", "key",   "signed"};
  g_autoptr(GString) rows = g_string_new(NULL);
  for (size_t k = 0; k < G_N_ELEMENTS(head); k++)
    csv_text(rows, head[k]);
  csv_end(rows);
  for (guint i = 0; i < r->c.history->len; i++) {
    const HistoryEntry *entry = entry_of(r, i);
    g_autofree char *number = g_strdup_printf("%u", i + 1);
    const char *const cell[G_N_ELEMENTS(head)] = {number,
                                                  entry_kind_id(entry->kind),
                                                  entry->time,
                                                  entry->name,
                                                  entry->role,
                                                  entry->initials,
                                                  entry->text,
                                                  entry->before,
                                                  entry->after,
                                                  entry->content,
                                                  entry->limits,
                                                  entry->chain,
                                                  chain_id(r, i),
                                                  entry->key,
                                                  signed_id(signed_state(r, i))};
    for (size_t k = 0; k < G_N_ELEMENTS(head); k++)
      csv_text(rows, cell[k]);
    csv_end(rows);
  }
  fwrite(rows->str, 1, rows->len, stdout);
}

static void standing_json(const Record *r, const char *digest)
{
  static const char *const state[] = {"none", "whole", "broken"};
  const Standing *s = &r->standing;
  GString *line = json_begin();
  json_text(line, "case", r->c.number);
  json_text(line, "content", digest);
  json_text(line, "chain", state[s->chain.state]);
  json_number(line, "broken_at",
              s->chain.state == CHAIN_BROKEN ? (double)s->chain.broken_at + 1 : (double)NAN);
  json_text(line, "standing", standing_id(s->state));
  json_number(line, "decision", s->entry != G_MAXUINT ? (double)s->entry + 1 : (double)NAN);
  json_text(line, "signed", s->entry != G_MAXUINT ? signed_id(s->signature) : "");
  json_text(line, "changed_outside", s->outside ? "yes" : "no");
  json_open(line, "why", '[');
  for (guint i = 0; i < s->why->len; i++)
    json_item(line, s->why->pdata[i]);
  json_close(line, ']');
  json_end_print(line);
}

/* --- for people --- */

static void indented(const char *text)
{
  g_auto(GStrv) line = g_strsplit(text, "\n", -1);
  for (char **p = line; *text && *p; p++)
    printf("     %s\n", *p);
}

static void person_print(const HistoryEntry *entry)
{
  const char *who = *entry->name ? entry->name : entry->initials;
  printf("%s%s%s", who, *who && *entry->role ? ", " : "", entry->role);
}

static void entry_print(const Record *r, guint i)
{
  const HistoryEntry *entry = entry_of(r, i);
  g_autofree char *words = entry_words(entry);
  printf("%3u  %s  ", i + 1, entry->time);
  person_print(entry);
  printf(": %s", _(entry_kind_name(entry->kind)));
  if (i < r->standing.chain.first)
    printf("; %s", _("from before the record was chained"));
  else if (!chain_fits(&r->c, i))
    printf("; %s", _("DOES NOT FIT ITS CHAIN"));
  printf("; %s\n", _(signed_name(signed_state(r, i))));
  indented(words);
}

static void chain_print(const ChainReading *chain, guint n)
{
  if (chain->state == CHAIN_NONE)
    printf("%s\n", _("Chain: nothing is chained yet; anybody can have changed these entries."));
  else if (chain->state == CHAIN_WHOLE)
    printf(_("Chain: whole, entries %u to %u.\n"), chain->first + 1, n);
  else
    printf(
        _("Chain: BROKEN at entry %u: it, or one before it, was changed, taken out or put in.\n"),
        chain->broken_at + 1);
}

static void standing_print(const Record *r, const char *digest)
{
  const Standing *s = &r->standing;
  chain_print(&s->chain, r->c.history->len);
  printf(_("What stands: %s"), _(standing_name(s->state)));
  if (s->entry != G_MAXUINT) {
    printf(_(", by entry %u ("), s->entry + 1);
    person_print(entry_of(r, s->entry));
    printf("; %s)", _(signed_name(s->signature)));
  }
  putchar('\n');
  for (guint i = 0; i < s->why->len; i++)
    indented(s->why->pdata[i]);
  if (s->outside && s->state != STANDING_REOPENED)
    printf("     %s\n", _("Changed outside the record."));
  printf(_("Content: %s\n"), digest);
}

/* --- */

static bool keys_load(Record *r, const char *folder)
{
  g_autoptr(GPtrArray) trouble = NULL;
  r->keys = public_keys_load(folder, &trouble);
  for (guint i = 0; i < trouble->len; i++)
    cli_bad("%s", (char *)trouble->pdata[i]);
  return trouble->len == 0;
}

typedef enum { SAY_WORDS, SAY_JSON, SAY_CSV } SayForm;

static int record_say(Record *r, const char *folder, SayForm form)
{
  char digest[65];
  keys_load(r, folder);
  Fault fault = case_standing(&r->c, r->keys, &r->standing);
  if (!fault)
    fault = case_digest(&r->c, digest);
  if (fault)
    return cli_bad("%s", _(fault_text(fault)));
  for (guint i = 0; form != SAY_CSV && i < r->c.history->len; i++)
    if (form == SAY_JSON)
      entry_json(r, i);
    else
      entry_print(r, i);
  if (form == SAY_JSON)
    standing_json(r, digest);
  else if (form == SAY_CSV)
    entries_csv(r);
  else
    standing_print(r, digest);
  const Standing *s = &r->standing;
  bool good = s->chain.state != CHAIN_BROKEN && s->state != STANDING_REOPENED && !s->outside &&
              signed_wrong(r) == 0;
  return good ? EXIT_HOLDS : EXIT_NOT;
}

static int bytes_write(const Record *r, int n)
{
  if (n < 1 || (guint)n > r->c.history->len)
    return cli_bad(_("There is no entry %d: the history has %u."), n, r->c.history->len);
  g_autoptr(GString) bytes = chain_bytes(&r->c, (guint)n - 1);
  fwrite(bytes->str, 1, bytes->len, stdout);
  return EXIT_HOLDS;
}

/* As sha256sum writes it, so that other programs can compare. */
static int content_write(const char *path)
{
  g_autoptr(GError) error = NULL;
  char digest[65];
  Case c;
  case_init(&c);
  Fault fault = FAULT_NONE;
  bool read = case_load(&c, path, &error);
  if (read)
    fault = case_digest(&c, digest);
  case_clear(&c);
  if (!read || fault)
    return cli_bad("%s", read ? _(fault_text(fault)) : error->message);
  printf("%s  %s\n", digest, path);
  return EXIT_HOLDS;
}

int cli_record(int argc, char **argv)
{
  gboolean json = FALSE, csv = FALSE, content = FALSE;
  int bytes = NO_ENTRY;
  g_autofree char *keys = NULL;
  const GOptionEntry option[] = {
      {"keys", 0, 0, G_OPTION_ARG_FILENAME, &keys,
       N_("Folder of the lab, whose subfolder \"keys\" holds the public keys; else that of the "
          "case"),
       N_("FOLDER")},
      {"bytes", 0, 0, G_OPTION_ARG_INT, &bytes,
       N_("Write the bytes of entry N that its chain is the SHA-256 of"), "N"},
      {"content", 0, 0, G_OPTION_ARG_NONE, &content,
       N_("Of each case the SHA-256 that a decision keeps, and its file; nothing else"), NULL},
      {"json", 0, 0, G_OPTION_ARG_NONE, &json, N_("One JSON object a line"), NULL},
      {"csv", 0, 0, G_OPTION_ARG_NONE, &csv, N_("A table with commas (RFC 4180)"), NULL},
      {NULL}};
  if (!cli_options(_("CASE.xml..."),
                   _("The history of a case: who, when, what; whether its chain is whole and its "
                     "signatures fit; what stands."),
                   option, &argc, &argv))
    return EXIT_BAD;
  if (content && argc > 1) {
    int status = EXIT_HOLDS;
    for (int i = 1; i < argc; i++)
      if (content_write(argv[i]) != EXIT_HOLDS)
        status = EXIT_BAD;
    return status;
  }
  if (argc != 2)
    return cli_bad("%s", _("one case is needed. Try --help."));
  if (csv && json)
    return cli_bad("%s", _("--csv and --json exclude each other. Give one of them."));
  g_autoptr(GError) error = NULL;
  g_autofree char *folder = keys ? g_strdup(keys) : g_path_get_dirname(argv[1]);
  Record r = {0};
  case_init(&r.c);
  int status = !case_load(&r.c, argv[1], &error) ? cli_bad("%s", error->message)
               : bytes != NO_ENTRY               ? bytes_write(&r, bytes)
                                                 : record_say(&r, folder,
                                                json  ? SAY_JSON
                                                              : csv ? SAY_CSV
                                                                    : SAY_WORDS);
  case_clear(&r.c);
  public_keys_free(r.keys);
  standing_clear(&r.standing);
  return status;
}
