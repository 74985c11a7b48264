/* session_merge.c - saved over what was opened only; else mine is kept beside, and merged by parts.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/case_xml.h"
#include "casefile/save.h"
#include "ui/person_profile.h"
#include "ui/session_private.h"
#include "ui/words.h"

#define SAVE_TRIES 5    /* others added remarks in between */
#define BESIDE_MOST 100 /* names of one minute */

/* ---- kept beside ---- */

/* "QB-02 (AB 2026-12-01 09.05).xml", beside the case; the n-th of them. */
static char *beside_name(const char *path, const char *initials, int n)
{
  g_autofree char *folder = g_path_get_dirname(path), *base = g_path_get_basename(path);
  char *ending = g_str_has_suffix(base, ".xml") ? base + strlen(base) - 4 : base + strlen(base);
  g_autoptr(GDateTime) now = g_date_time_new_now_local();
  g_autofree char *time = g_date_time_format(now, "%F %H.%M"),
                  *number = n > 1 ? g_strdup_printf(" %d", n) : g_strdup(""),
                  *safe = g_strdelimit(g_strdup(initials), "/\\:*?\"<>|", '-'),
                  *name = g_strdup_printf("%.*s (%s %s)%s%s", (int)(ending - base), base, safe,
                                          time, number, ending);
  return g_build_filename(folder, name, NULL);
}

/* The bytes in a new file beside the case; owned path. */
static char *keep_beside(const char *path, const char *initials, const char *text, size_t length,
                         GError **error)
{
  for (int n = 1; n <= BESIDE_MOST; n++) {
    g_autoptr(GError) trouble = NULL;
    g_autofree char *beside = beside_name(path, initials, n);
    if (file_save_over(beside, text, length, "", &trouble))
      return g_steal_pointer(&beside);
    if (!g_error_matches(trouble, CASE_ERROR, CASE_ERROR_CHANGED) || n == BESIDE_MOST) {
      g_propagate_error(error, g_steal_pointer(&trouble));
      break;
    }
  }
  return NULL;
}

static GString *case_text(const Case *c, char digest[DIGEST_ROOM])
{
  GString *text = case_to_xml(c);
  bytes_digest(text->str, text->len, digest);
  return text;
}

/* Mine beside the case, once: saving again without a change makes no second file.  The entry that
 * tells of the save goes along, and out of the case again. */
static bool mine_keep(SoffitSession *session, GError **error)
{
  char digest[DIGEST_ROOM], plain[DIGEST_ROOM];
  g_string_free(case_text(&session->c, plain), TRUE);
  if (session->kept && strcmp(plain, session->kept_of) == 0 &&
      g_file_test(session->kept, G_FILE_TEST_EXISTS))
    return true;
  guint entries = session_record(session);
  GString *text = case_text(&session->c, digest);
  session_record_take_back(session, entries);
  Person here = person_profile();
  char *kept = keep_beside(session->path, here.initials, text->str, text->len, error);
  person_clear(&here);
  g_string_free(text, TRUE);
  g_free(session->kept);
  session->kept = kept;
  memcpy(session->kept_of, plain, sizeof plain);
  memcpy(session->kept_sha, digest, sizeof digest);
  return kept != NULL;
}

const char *session_kept_beside(SoffitSession *session)
{
  return session->kept;
}

static bool conflict_fail(SoffitSession *session, GError **error)
{
  if (!mine_keep(session, error))
    return false;
  g_autofree char *base = g_path_get_basename(session->path),
                  *kept = g_path_get_basename(session->kept);
  const LockHolder *holder = session_lock_holder(session);
  const char *who = session_read_only(session) && holder ? holder->name : "";
  if (!session_read_only(session))
    session->differs = true;
  if (*who)
    g_set_error(error, CASE_ERROR, CASE_ERROR_CHANGED,
                _("%s has %s now, so it was left as it is. Your work was kept beside it: %s."), who,
                base, kept);
  else
    g_set_error(error, CASE_ERROR, CASE_ERROR_CHANGED,
                _("%s was changed by somebody else since you opened it, so it was left as it is. "
                  "Your work was kept beside it: %s."),
                base, kept);
  session_emit(session, SIGNAL_LOCK_CHANGED);
  return false;
}

/* ---- saved ---- */

static bool busy_fail(const char *path, GError **error)
{
  g_set_error(error, CASE_ERROR, CASE_ERROR_SAVE,
              _("%s is being saved by somebody else. Try again in a moment."), path);
  return false;
}

/* Under another name: that file's lock first. */
static bool write_elsewhere(SoffitSession *session, const char *to, GError **error)
{
  CaseHold *hold = session_hold_for(session, to);
  char digest[65];
  if (case_hold_state(hold) == LOCK_OTHERS) {
    const LockHolder *holder = case_hold_holder(hold);
    g_set_error(error, CASE_ERROR, CASE_ERROR_SAVE,
                _("%s: %s has this case open. Save under another name."), to,
                holder && *holder->name ? holder->name : _("somebody"));
    case_hold_free(hold);
    return false;
  }
  guint entries = session_record(session);
  if (!case_save_over(&session->c, to, NULL, digest, error)) {
    session_record_take_back(session, entries);
    case_hold_free(hold);
    return false;
  }
  session_hold_set(session, hold);
  memcpy(session->seen, digest, sizeof session->seen);
  session_emit(session, SIGNAL_LOCK_CHANGED);
  return true;
}

bool session_write(SoffitSession *session, const char *to, GError **error)
{
  if (!session->path || !session->hold || !case_hold_is_of(session->hold, to))
    return write_elsewhere(session, to, error);
  for (int i = 0; i < SAVE_TRIES; i++) {
    g_autoptr(GError) trouble = NULL;
    if (!case_hold_gate(session->hold))
      return busy_fail(to, error);
    bool mine = case_hold_state(session->hold) == LOCK_MINE;
    guint entries = session_record(session);
    bool saved = mine && case_save_over(&session->c, to, session->seen, session->seen, &trouble);
    case_hold_ungate(session->hold);
    if (saved) {
      session->differs = false;
      g_clear_pointer(&session->kept, g_free); /* stays beside, and is no news any more */
      return true;
    }
    session_record_take_back(session, entries);
    if (mine && !g_error_matches(trouble, CASE_ERROR, CASE_ERROR_CHANGED)) {
      g_propagate_error(error, g_steal_pointer(&trouble));
      return false;
    }
    if (mine && !g_file_test(to, G_FILE_TEST_EXISTS)) {
      *session->seen = '\0'; /* taken away: nothing to be written over */
      continue;
    }
    if (!mine || !session_take_additions(session))
      return conflict_fail(session, error);
  }
  return busy_fail(to, error);
}

/* ---- merged ---- */

void session_merge_free(SessionMerge *merge)
{
  if (!merge)
    return;
  case_clear(&merge->theirs);
  g_clear_pointer(&merge->rows, g_array_unref);
  g_free(merge);
}

static bool fault_fail(const char *path, Fault fault, GError **error)
{
  g_set_error(error, CASE_ERROR, CASE_ERROR_VALUE, "%s: %s", path,
              words_translate(fault_text(fault)));
  return false;
}

SessionMerge *session_merge_new(SoffitSession *session, GError **error)
{
  session_edit_end(session);
  g_return_val_if_fail(session->path != NULL, NULL);
  SessionMerge *merge = g_new0(SessionMerge, 1);
  case_init(&merge->theirs);
  if (case_load_seen(&merge->theirs, session->path, merge->sha256, error)) {
    Fault fault = case_merge_rows(session->saved, &session->c, &merge->theirs, &merge->rows);
    if (!fault)
      return merge;
    fault_fail(session->path, fault, error);
  }
  session_merge_free(merge);
  return NULL;
}

/* Whether something of theirs gives way to mine. */
static bool theirs_left(const GArray *rows)
{
  for (guint i = 0; i < rows->len; i++) {
    const MergeRow *row = &g_array_index(rows, MergeRow, i);
    if (row->theirs && row->choice == MERGE_MINE)
      return true;
  }
  return false;
}

/* Theirs too, byte for byte, when it is still the file that was chosen from. */
static bool theirs_keep(SoffitSession *session, const SessionMerge *merge, GError **error)
{
  char digest[DIGEST_ROOM];
  g_autofree char *text = NULL;
  gsize length = 0;
  if (!g_file_get_contents(session->path, &text, &length, error))
    return false;
  bytes_digest(text, length, digest);
  if (strcmp(digest, merge->sha256) != 0) {
    g_set_error(error, CASE_ERROR, CASE_ERROR_CHANGED,
                _("%s was saved once more meanwhile. Choose again."), session->path);
    return false;
  }
  if (!theirs_left(merge->rows))
    return true;
  const LockHolder *holder = session_lock_holder(session);
  const char *initials = holder && *holder->initials ? holder->initials : _("other");
  g_autofree char *kept = keep_beside(session->path, initials, text, length, error);
  return kept != NULL;
}

static bool merged_make(SoffitSession *session, const SessionMerge *merge, Case *merged,
                        GError **error)
{
  char place[32];
  const char *reason;
  if (!case_merge(session->saved, &session->c, &merge->theirs, merge->rows, merged, place,
                  &reason)) {
    g_autofree char *where = words_place(place);
    g_set_error(error, CASE_ERROR, CASE_ERROR_VALUE,
                _("These choices do not go together. %s%s%s Choose units and connectors of the "
                  "same side."),
                where, *where ? ": " : "", words_translate(reason));
    return false;
  }
  Person here = person_profile();
  Fault fault = case_merge_note(merged, &here, session->kept_sha, merge->sha256);
  person_clear(&here);
  return !fault || fault_fail(session->path, fault, error);
}

static void record_take(Case *c, void *data)
{
  const Case *const *files = data;
  if (case_merge_additions(c, files[0], files[1]) != FAULT_NONE)
    g_debug("no memory for the record of a step");
}

bool session_merge_end(SoffitSession *session, const SessionMerge *merge, GError **error)
{
  Case merged;
  case_init(&merged);
  bool good = mine_keep(session, error) && merged_make(session, merge, &merged, error) &&
              theirs_keep(session, merge, error);
  if (good && session_lock_state(session) != LOCK_MINE &&
      case_hold_take(session->hold, true) != LOCK_MINE)
    good = busy_fail(session->path, error);
  Case *c = good ? session_edit_begin(session, N_("Merge with what was saved")) : NULL;
  if (good && (!c || case_copy(c, &merged) != FAULT_NONE)) {
    session_edit_cancel(session);
    good = fault_fail(session->path, FAULT_MEMORY, error);
  }
  if (good) {
    const Case *files[2] = {session->saved ? session->saved : &merge->theirs, &merged};
    session_edit_end(session);
    history_each(session->history, record_take, files); /* undo leaves the record alone */
    case_heap_free(session->saved);
    session->saved = case_heap_copy(&merge->theirs);
    memcpy(session->seen, merge->sha256, sizeof session->seen);
    session->differs = false;
    session_mark(session);
    good = session_save(session, NULL, error);
    session_emit(session, SIGNAL_LOCK_CHANGED);
  }
  case_clear(&merged);
  return good;
}
