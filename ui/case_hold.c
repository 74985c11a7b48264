/* case_hold.c - see case_hold.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/case_hold.h"
#include <errno.h>
#include <gio/gio.h>
#include <string.h>
#include <sys/stat.h>

#define GATHER_MS 100 /* several changes at once are one look */

/* What tells one state of a file from the next without reading it. */
typedef struct {
  guint64 inode;
  gint64 moved_ns, size;
} Stamp;

struct CaseHold {
  char *path; /* of the case; set once */
  gint refs;  /* the owner's, and one for each look under way */
  GMutex mutex;
  CaseLock *lock; /* guarded */
  /* below: main thread only */
  CaseHoldSeen seen; /* NULL: the owner has gone */
  void *data;
  LockState state;
  LockHolder holder;
  bool known, lost, looking, again;
  Stamp stamp, told;
  GFileMonitor *monitor[2]; /* lock, case */
  guint timer, soon;
};

static void hold_unref(CaseHold *hold)
{
  if (!g_atomic_int_dec_and_test(&hold->refs))
    return;
  case_lock_free(hold->lock);
  lock_holder_clear(&hold->holder);
  g_mutex_clear(&hold->mutex);
  g_free(hold->path);
  g_free(hold);
}

static Stamp stamp_of(const char *path)
{
  struct stat about;
  if (stat(path, &about) != 0)
    return (Stamp){0};
  return (Stamp){about.st_ino, about.st_mtim.tv_sec * 1000000000L + about.st_mtim.tv_nsec,
                 about.st_size};
}

/* With the mutex held: what the window shows. */
static void state_take(CaseHold *hold)
{
  LockState before = hold->state;
  hold->state = case_lock_state(hold->lock);
  const LockHolder *holder = case_lock_holder(hold->lock);
  hold->known = holder != NULL;
  if (holder)
    lock_holder_copy(&hold->holder, holder);
  if (hold->state == LOCK_MINE)
    hold->lost = false;
  else if (before == LOCK_MINE && hold->state == LOCK_OTHERS)
    hold->lost = true;
}

/* ---- looks, on another thread ---- */

static void look_start(CaseHold *hold);

static void look_run(GTask *task, void *source, void *data, GCancellable *cancel)
{
  (void)source, (void)cancel;
  CaseHold *hold = data;
  Stamp *stamp = g_new(Stamp, 1);
  g_mutex_lock(&hold->mutex);
  case_lock_renew(hold->lock);
  g_mutex_unlock(&hold->mutex);
  *stamp = stamp_of(hold->path);
  g_task_return_pointer(task, stamp, g_free);
}

static void look_done(GObject *source, GAsyncResult *result, void *data)
{
  (void)source;
  CaseHold *hold = data;
  g_autofree Stamp *stamp = g_task_propagate_pointer(G_TASK(result), NULL);
  hold->looking = false;
  if (hold->seen && stamp) {
    LockState before = hold->state;
    g_autofree char *since = g_strdup(hold->holder.since);
    g_mutex_lock(&hold->mutex);
    state_take(hold);
    g_mutex_unlock(&hold->mutex);
    bool moved = memcmp(stamp, &hold->stamp, sizeof *stamp) != 0;
    hold->stamp = *stamp;
    if (hold->again)
      look_start(hold);
    if (moved || before != hold->state || g_strcmp0(since, hold->holder.since) != 0)
      hold->seen(hold->data);
  }
  hold_unref(hold);
}

static void look_start(CaseHold *hold)
{
  hold->again = hold->looking;
  if (hold->looking)
    return;
  hold->looking = true;
  g_atomic_int_inc(&hold->refs);
  GTask *task = g_task_new(NULL, NULL, look_done, hold);
  g_task_set_task_data(task, hold, NULL);
  g_task_run_in_thread(task, look_run);
  g_object_unref(task);
}

static gboolean look_due(void *data)
{
  look_start(data);
  return G_SOURCE_CONTINUE;
}

static gboolean look_soon(void *data)
{
  CaseHold *hold = data;
  hold->soon = 0;
  look_start(hold);
  return G_SOURCE_REMOVE;
}

static void file_moved(GFileMonitor *monitor, GFile *file, GFile *other, GFileMonitorEvent event,
                       CaseHold *hold)
{
  (void)monitor, (void)file, (void)other, (void)event;
  if (hold->soon == 0)
    hold->soon = g_timeout_add(GATHER_MS, look_soon, hold);
}

/* ---- the owner's ---- */

CaseHold *case_hold_new(const char *path, const Person *by, CaseHoldSeen seen, void *data)
{
  CaseHold *hold = g_new0(CaseHold, 1);
  hold->path = g_strdup(path);
  hold->refs = 1;
  hold->seen = seen;
  hold->data = data;
  g_mutex_init(&hold->mutex);
  hold->lock = case_lock_new(path, by);
  hold->told = hold->stamp = stamp_of(path); /* before it is read */
  case_hold_take(hold, false);
  const char *const watched[] = {case_lock_file(hold->lock), path};
  for (size_t i = 0; i < G_N_ELEMENTS(watched); i++) {
    g_autoptr(GFile) file = g_file_new_for_path(watched[i]);
    hold->monitor[i] = g_file_monitor_file(file, G_FILE_MONITOR_WATCH_MOVES, NULL, NULL);
    if (hold->monitor[i])
      g_signal_connect(hold->monitor[i], "changed", G_CALLBACK(file_moved), hold);
  }
  hold->timer = g_timeout_add_seconds(LOCK_RENEW_S, look_due, hold);
  return hold;
}

void case_hold_free(CaseHold *hold)
{
  if (!hold)
    return;
  g_clear_handle_id(&hold->timer, g_source_remove);
  g_clear_handle_id(&hold->soon, g_source_remove);
  for (size_t i = 0; i < G_N_ELEMENTS(hold->monitor); i++)
    if (hold->monitor[i]) {
      g_signal_handlers_disconnect_by_data(hold->monitor[i], hold);
      g_file_monitor_cancel(hold->monitor[i]);
      g_object_unref(hold->monitor[i]);
    }
  hold->seen = NULL;
  if (g_mutex_trylock(&hold->mutex)) { /* else the look under way lets go as the last */
    case_lock_release(hold->lock);
    g_mutex_unlock(&hold->mutex);
  }
  hold_unref(hold);
}

bool case_hold_is_of(const CaseHold *hold, const char *path)
{
  const Person nobody = {0};
  CaseLock *lock = case_lock_new(path, &nobody);
  bool same = strcmp(case_lock_file(lock), case_lock_file(hold->lock)) == 0;
  case_lock_free(lock);
  return same;
}

LockState case_hold_state(const CaseHold *hold)
{
  return hold->state;
}

const LockHolder *case_hold_holder(const CaseHold *hold)
{
  return hold->known ? &hold->holder : NULL;
}

bool case_hold_lost(const CaseHold *hold)
{
  return hold->lost;
}

LockState case_hold_take(CaseHold *hold, bool over)
{
  g_mutex_lock(&hold->mutex);
  (over ? case_lock_take_over : case_lock_take)(hold->lock);
  state_take(hold);
  g_mutex_unlock(&hold->mutex);
  return hold->state;
}

bool case_hold_gate(CaseHold *hold)
{
  g_mutex_lock(&hold->mutex);
  bool gated = case_lock_gate(hold->lock);
  bool none = !gated && errno != EBUSY;
  state_take(hold);
  if (!gated && !none)
    g_mutex_unlock(&hold->mutex);
  return gated || none;
}

void case_hold_ungate(CaseHold *hold)
{
  case_lock_ungate(hold->lock);
  g_mutex_unlock(&hold->mutex);
}

bool case_hold_file_moved(CaseHold *hold)
{
  bool moved = memcmp(&hold->told, &hold->stamp, sizeof hold->told) != 0;
  hold->told = hold->stamp;
  return moved;
}
