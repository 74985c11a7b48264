/* session_lock.c - who has the open case, what others do to its file meanwhile, a reader's remark.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/case_xml.h"
#include "ui/person_profile.h"
#include "ui/session_private.h"
#include "ui/words.h"
#include <stdint.h>

#define LOOK_AGAIN_MS 300 /* while an edit is open */
#define REMARK_TRIES 5    /* somebody else saved in between */

/* ---- who has it ---- */

LockState session_lock_state(SoffitSession *session)
{
  return session->hold ? case_hold_state(session->hold) : LOCK_MINE;
}

bool session_read_only(SoffitSession *session)
{
  return session->open && session_lock_state(session) != LOCK_MINE;
}

const LockHolder *session_lock_holder(SoffitSession *session)
{
  return session->hold ? case_hold_holder(session->hold) : NULL;
}

bool session_lock_lost(SoffitSession *session)
{
  return session->hold && case_hold_lost(session->hold);
}

bool session_file_differs(SoffitSession *session)
{
  return session->differs;
}

/* ---- what others saved ---- */

static void state_unite(Case *c, void *data)
{
  const Case *const *files = data; /* as opened, as it is now */
  if (case_merge_additions(c, files[0], files[1]) != FAULT_NONE)
    g_debug("no memory for what others added"); /* still in the file: merged when saved */
}

/* The file is theirs now, which brings additions alone. */
static void additions_take(SoffitSession *session, const Case *theirs)
{
  const Case *files[2] = {session->saved, theirs};
  state_unite(&session->c, files);
  if (session->before)
    state_unite(session->before, files);
  history_each(session->history, state_unite, files);
  Case *saved = case_heap_copy(theirs);
  case_heap_free(session->saved);
  session->saved = saved;
}

/* Nothing of mine is unsaved: the case as it is in the file takes the place. */
static void renewed_take(SoffitSession *session, Case *theirs)
{
  CaseLoad trial = session->c.trial;
  if (theirs->n_unit == session->c.n_unit)
    theirs->trial = trial; /* where I look */
  case_heap_free(session->saved);
  session->saved = case_heap_copy(theirs);
  case_clear(&session->c);
  session->c = *theirs;
  case_init(theirs);
  history_forget(session->history);
  session_preview(session, NULL);
  session->peaks.n = 0;
  session_focus_clamp(session);
}

static void renewed_tell(SoffitSession *session)
{
  session_mark(session);
  session_emit(session, SIGNAL_CASE_CHANGED);
  session_emit(session, SIGNAL_STATE_CHANGED);
  session_request(session);
  session_emit(session, SIGNAL_CASE_RENEWED);
}

/* Into the session what can be taken without a question; else session->differs. */
static void theirs_take(SoffitSession *session, Case *theirs, const char *digest)
{
  bool adds = session->saved && case_adds_only(session->saved, theirs);
  session->differs = !adds && session->modified;
  if (session->differs)
    return;
  if (adds)
    additions_take(session, theirs);
  else
    renewed_take(session, theirs);
  g_strlcpy(session->seen, digest, sizeof session->seen);
  renewed_tell(session);
}

/* The file that moved: is it another one?  Half copied or away: it is looked at when it moves on,
 * and before anything is saved. */
static void file_look(SoffitSession *session)
{
  Case theirs;
  char digest[65];
  case_init(&theirs);
  if (case_load_seen(&theirs, session->path, digest, NULL)) {
    if (strcmp(digest, session->seen) == 0)
      session->differs = false;
    else
      theirs_take(session, &theirs, digest);
  }
  case_clear(&theirs);
}

bool session_take_additions(SoffitSession *session)
{
  char before[65];
  memcpy(before, session->seen, sizeof before);
  Case theirs;
  char digest[65];
  case_init(&theirs);
  bool adds = session->saved && case_load_seen(&theirs, session->path, digest, NULL) &&
              case_adds_only(session->saved, &theirs);
  if (adds) {
    additions_take(session, &theirs);
    memcpy(session->seen, digest, sizeof session->seen);
    session_emit(session, SIGNAL_CASE_CHANGED);
    session_emit(session, SIGNAL_CASE_RENEWED);
  }
  case_clear(&theirs);
  return adds;
}

static gboolean look_again(void *data)
{
  SoffitSession *session = data;
  if (session->edit_name)
    return G_SOURCE_CONTINUE;
  session->look_timer = 0;
  file_look(session);
  session_emit(session, SIGNAL_LOCK_CHANGED);
  return G_SOURCE_REMOVE;
}

static void hold_seen(void *data)
{
  SoffitSession *session = data;
  if (case_hold_file_moved(session->hold)) {
    if (!session->edit_name)
      file_look(session);
    else if (session->look_timer == 0)
      session->look_timer = g_timeout_add(LOOK_AGAIN_MS, look_again, session);
  }
  session_emit(session, SIGNAL_LOCK_CHANGED);
}

/* ---- the lock ---- */

CaseHold *session_hold_for(SoffitSession *session, const char *path)
{
  if (session->hold && case_hold_is_of(session->hold, path)) {
    case_hold_take(session->hold, false); /* it may have become free */
    return session->hold;
  }
  Person here = person_profile();
  CaseHold *hold = case_hold_new(path, &here, hold_seen, session);
  person_clear(&here);
  return hold;
}

void session_hold_set(SoffitSession *session, CaseHold *hold)
{
  if (hold != session->hold)
    case_hold_free(session->hold);
  session->hold = hold;
  g_clear_handle_id(&session->look_timer, g_source_remove);
  g_clear_pointer(&session->kept, g_free);
  *session->seen = '\0';
  session->differs = false;
}

void session_seen_again(SoffitSession *session, const char *seen)
{
  Case disk;
  char digest[65];
  case_init(&disk);
  if (seen)
    g_strlcpy(session->seen, seen, sizeof session->seen);
  if (seen && session->path && case_load_seen(&disk, session->path, digest, NULL) &&
      strcmp(digest, seen) == 0)
    session->saved = case_heap_copy(&disk);
  case_clear(&disk);
}

bool session_take_lock(SoffitSession *session, bool over)
{
  if (!session->hold)
    return true;
  bool mine = case_hold_take(session->hold, over) == LOCK_MINE;
  if (mine)
    file_look(session);
  session_mark(session);
  session_emit(session, SIGNAL_STATE_CHANGED);
  session_emit(session, SIGNAL_LOCK_CHANGED);
  return mine;
}

/* ---- remarks ---- */

static void text_put(char **to, char *text)
{
  g_free(*to);
  *to = text;
}

static void remark_put(Case *c, size_t connector, Point at, const char *text)
{
  Person here = person_profile();
  Remark *remark = remark_new();
  g_autoptr(GDateTime) now = g_date_time_new_now_utc();
  remark->connector = connector;
  remark->at = at;
  text_put(&remark->time, g_date_time_format(now, "%FT%TZ"));
  text_put(&remark->role, g_strdup(here.role));
  text_put(&remark->initials, g_strdup(here.initials));
  text_put(&remark->text, g_strdup(text));
  g_ptr_array_add(c->remark, remark);
  person_clear(&here);
}

/* Into the file as it is now, whoever works on it: only added to. */
static bool remark_write(SoffitSession *session, size_t connector, Point at, const char *text,
                         GError **error)
{
  for (int i = 0; i < REMARK_TRIES; i++) {
    g_autoptr(GError) trouble = NULL;
    Case c;
    char digest[65];
    case_init(&c);
    bool gated = case_hold_gate(session->hold);
    bool good = gated && case_load_seen(&c, session->path, digest, &trouble);
    if (good) {
      remark_put(&c, connector + 1 < c.n_unit ? connector : SIZE_MAX, at, text);
      good = case_save_over(&c, session->path, digest, NULL, &trouble);
    }
    if (gated)
      case_hold_ungate(session->hold);
    case_clear(&c);
    if (good)
      return true;
    if (trouble && !g_error_matches(trouble, CASE_ERROR, CASE_ERROR_CHANGED)) {
      g_propagate_error(error, g_steal_pointer(&trouble));
      return false;
    }
  }
  g_set_error(error, CASE_ERROR, CASE_ERROR_SAVE,
              _("%s is being saved by somebody else. Try again in a moment."), session->path);
  return false;
}

bool session_remark(SoffitSession *session, size_t connector, Point at, const char *text,
                    GError **error)
{
  if (session_read_only(session)) {
    if (!remark_write(session, connector, at, text, error))
      return false;
    file_look(session);
    return true;
  }
  Case *c = session_edit_begin(session, N_("Add a remark"));
  if (!c)
    return false;
  remark_put(c, connector, at, text);
  return session_edit_end(session);
}
