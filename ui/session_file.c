/* session_file.c - open, save, close and the recovery file of a session.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/session_private.h"
#include "casefile/case_xml.h"
#include "casefile/photo.h"
#include "casefile/shipped.h"
#include "ui/words.h"

/* --- autosave --- */

static void autosave_write(SoffitSession *session)
{
  if (session->recovery && session->open && session->modified)
    recovery_write(session->recovery, &session->c, session->path, session->seen);
}

static gboolean autosave_due(void *data)
{
  SoffitSession *session = data;
  session->autosave_timer = 0;
  autosave_write(session);
  return G_SOURCE_REMOVE;
}

static void autosave_stop(SoffitSession *session)
{
  g_clear_handle_id(&session->autosave_timer, g_source_remove);
  if (session->recovery)
    recovery_remove(session->recovery);
}

static void modified_set(SoffitSession *session, bool modified)
{
  if (modified == session->modified)
    return;
  session->modified = modified;
  session_emit(session, SIGNAL_STATE_CHANGED);
}

/* Equal to the file; the trial load of somebody who only reads is no work to be kept. */
static bool like_saved(SoffitSession *session)
{
  Case c = session->c; /* borrowed */
  if (session_read_only(session))
    c.trial = session->saved->trial;
  return case_equal(session->saved, &c);
}

void session_mark(SoffitSession *session)
{
  /* Equal to the file again, by undo: nothing to keep.  Not looked at while the pen moves. */
  bool modified = session->edit_name != NULL || session->saved == NULL || !like_saved(session);
  modified_set(session, modified);
  if (!modified)
    autosave_stop(session);
  else if (session->recovery && session->autosave_timer == 0)
    session->autosave_timer = g_timeout_add(SESSION_AUTOSAVE_MS, autosave_due, session);
}

/* --- the case --- */

const Case *session_case(SoffitSession *session)
{
  return &session->c;
}

bool session_has_case(SoffitSession *session)
{
  return session->open;
}

const char *session_path(SoffitSession *session)
{
  return session->path;
}

const char *session_photo_store(SoffitSession *session)
{
  return session->photo_store;
}

const Case *session_saved(SoffitSession *session)
{
  return session->path ? session->saved : NULL;
}

bool session_modified(SoffitSession *session)
{
  return session->modified;
}

/* Takes the contents of *c over; path NULL: not on disk. hold: of that path, taken over. */
static void session_take(SoffitSession *session, Case *c, const char *path, CaseHold *hold)
{
  session_hold_set(session, hold);
  session->edit_name = NULL;
  g_clear_pointer(&session->before, case_heap_free);
  g_clear_pointer(&session->saved, case_heap_free);
  history_forget(session->history);
  autosave_stop(session);
  case_clear(&session->c);
  session->c = *c;
  session->open = true;
  session->focus = 0;
  session->focus_chosen = false;
  char *owned = g_strdup(path);
  g_free(session->path);
  session->path = owned;
  session_forget_answer(session);
}

/* Everybody is told of the case that was taken. */
static void session_tell(SoffitSession *session)
{
  session_emit(session, SIGNAL_CASE_OPENED);
  session_emit(session, SIGNAL_CASE_CHANGED);
  session_emit(session, SIGNAL_STATE_CHANGED);
  session_emit(session, SIGNAL_FOCUS_CHANGED);
  session_request(session);
}

/* Takes over a case as it is on disk; path: the file that save writes to, NULL = none yet. */
static void session_take_saved(SoffitSession *session, Case *c, const char *path, CaseHold *hold)
{
  session_take(session, c, path, hold);
  session->saved = case_heap_copy(&session->c);
  session->modified = false;
  session_tell(session);
}

bool session_open(SoffitSession *session, const char *path, GError **error)
{
  CaseHold *hold = session_hold_for(session, path); /* before it is read: nobody saves in between */
  Case c;
  char seen[65];
  case_init(&c);
  if (case_load_seen(&c, path, seen, error)) {
    session_take_saved(session, &c, path, hold);
    g_strlcpy(session->seen, seen, sizeof session->seen);
    return true;
  }
  if (hold != session->hold)
    case_hold_free(hold);
  case_clear(&c);
  return false;
}

bool session_open_demo(SoffitSession *session, const char *name, GError **error)
{
  g_autoptr(GBytes) demo = shipped_file(name);
  gsize length = 0;
  const char *text = demo ? g_bytes_get_data(demo, &length) : "";
  Case c;
  case_init(&c);
  if (case_load_memory(&c, text, length, name, error)) {
    char *title = g_strdup(words_translate(c.title)); /* ours: in the language of the desktop */
    g_free(c.title);
    c.title = title;
    session_take_saved(session, &c, NULL, NULL);
    return true;
  }
  case_clear(&c);
  return false;
}

static bool session_take_copy(SoffitSession *session, const Case *from, GError **error)
{
  Case c;
  case_init(&c);
  Fault fault = case_copy(&c, from);
  if (fault == FAULT_NONE)
    fault = case_complete(&c);
  if (fault != FAULT_NONE) {
    g_set_error_literal(error, CASE_ERROR, CASE_ERROR_VALUE, words_translate(fault_text(fault)));
    case_clear(&c);
    return false;
  }
  session_take(session, &c, NULL, NULL);
  return true;
}

bool session_start(SoffitSession *session, const Case *c, GError **error)
{
  char place[32];
  const char *reason = NULL;
  if (!case_check(c, place, &reason)) {
    g_autofree char *where = words_place(place);
    g_set_error(error, CASE_ERROR, CASE_ERROR_VALUE, "%s: %s", where, words_translate(reason));
    return false;
  }
  if (!session_take_copy(session, c, error))
    return false;
  session->modified = false;
  session_mark(session);
  session_tell(session);
  return true;
}

void session_close(SoffitSession *session)
{
  Case none;
  case_init(&none);
  session_take(session, &none, NULL, NULL);
  session->open = false;
  session->modified = false;
  session_tell(session);
}

bool session_save(SoffitSession *session, const char *path, GError **error)
{
  session_edit_end(session);
  const char *to = path ? path : session->path;
  g_return_val_if_fail(to != NULL, false);
  if (!photos_save(&session->c, to, session->path, session->photo_store, error) ||
      !session_write(session, to, error))
    return false;
  char *owned = g_strdup(to);
  g_free(session->path);
  session->path = owned;
  case_heap_free(session->saved);
  session->saved = case_heap_copy(&session->c);
  autosave_stop(session);
  session->modified = false;
  session_emit(session, SIGNAL_STATE_CHANGED);
  return true;
}

bool session_recover(SoffitSession *session, const char *recovery, GError **error)
{
  Case c;
  case_init(&c);
  if (!case_load(&c, recovery, error)) {
    case_clear(&c);
    return false;
  }
  g_autofree char *origin = recovery_origin(recovery), *seen = recovery_seen(recovery);
  session_take(session, &c, origin, origin ? session_hold_for(session, origin) : NULL);
  session_seen_again(session, seen);
  session->modified = false;
  session_mark(session); /* modified: written to a file of this session */
  autosave_write(session);
  if (session->recovery)
    recovery_wait(session->recovery);
  if (session->recovery && g_file_test(recovery_path(session->recovery), G_FILE_TEST_EXISTS))
    recovery_discard(recovery); /* not before the new one is on disk */
  session_tell(session);
  return true;
}
