/* recovery.c - a writer thread with one waiting place, and the locked note beside the file.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/recovery.h"
#include "casefile/case_xml.h"
#include "ui/history.h"
#include "ui/wake.h"
#include "ui/words.h"
#include <errno.h>
#include <fcntl.h>
#include <gio/gio.h>
#include <glib/gstdio.h>
#include <sys/file.h>
#include <unistd.h>

struct Recovery {
  char *dir, *path, *note; /* folder, NAME.xml, NAME.note; set once */
  RecoveryWritten written;
  void *data;
  Wake *wake;
  GThread *thread;
  GMutex mutex; /* guards all below */
  GCond moved;
  int lock;      /* descriptor of the locked note, -1 none */
  Case *waiting; /* owned; what to write next              */
  char *origin;  /* owned; of what waits: as in the note   */
  char *message; /* owned; how the last write failed       */
  bool writing, quit;
};

char *recovery_default_dir(void)
{
  return g_build_filename(g_get_user_state_dir(), "soffit", NULL);
}

static bool note_fail(GError **error, const char *path)
{
  int code = errno;
  g_set_error(error, G_FILE_ERROR, (int)g_file_error_from_errno(code), "%s: %s", path,
              g_strerror(code));
  return false;
}

/* The note exists and is ours: made at the first write, so that a session without work leaves no
 * trace. */
static bool note_take(Recovery *recovery, const char *origin, GError **error)
{
  if (g_mkdir_with_parents(recovery->dir, 0700) != 0)
    return note_fail(error, recovery->dir);
  if (recovery->lock < 0)
    recovery->lock = g_open(recovery->note, O_RDWR | O_CREAT | O_CLOEXEC, 0600);
  if (recovery->lock < 0 || flock(recovery->lock, LOCK_EX | LOCK_NB) != 0)
    return note_fail(error, recovery->note);
  const char *text = origin ? origin : "";
  size_t length = strlen(text);
  if (ftruncate(recovery->lock, 0) != 0 ||
      pwrite(recovery->lock, text, length, 0) != (ssize_t)length)
    return note_fail(error, recovery->note);
  return true;
}

static void *writer_run(void *data)
{
  Recovery *recovery = data;
  g_mutex_lock(&recovery->mutex);
  for (;;) {
    while (recovery->waiting == NULL && !recovery->quit)
      g_cond_wait(&recovery->moved, &recovery->mutex);
    if (recovery->waiting == NULL)
      break;
    Case *c = g_steal_pointer(&recovery->waiting);
    g_autofree char *origin = g_steal_pointer(&recovery->origin);
    recovery->writing = true;
    g_mutex_unlock(&recovery->mutex);
    g_autoptr(GError) error = NULL;
    bool done = note_take(recovery, origin, &error) && case_save(c, recovery->path, &error);
    case_heap_free(c);
    g_mutex_lock(&recovery->mutex);
    recovery->writing = false;
    g_free(recovery->message);
    recovery->message = done ? NULL : g_strdup(error ? error->message : "");
    g_cond_broadcast(&recovery->moved);
    wake_ring(recovery->wake);
  }
  g_mutex_unlock(&recovery->mutex);
  return NULL;
}

static gboolean writer_told(void *data)
{
  Recovery *recovery = data;
  g_mutex_lock(&recovery->mutex);
  g_autofree char *message = g_strdup(recovery->message);
  g_mutex_unlock(&recovery->mutex);
  if (recovery->written)
    recovery->written(message, recovery->data);
  return G_SOURCE_CONTINUE;
}

Recovery *recovery_new(const char *dir, RecoveryWritten written, void *data)
{
  Recovery *recovery = g_new0(Recovery, 1);
  g_autofree char *name = g_uuid_string_random();
  g_autofree char *xml = g_strconcat(name, ".xml", NULL);
  g_autofree char *note = g_strconcat(name, ".note", NULL);
  recovery->dir = g_strdup(dir);
  recovery->path = g_build_filename(dir, xml, NULL);
  recovery->note = g_build_filename(dir, note, NULL);
  recovery->lock = -1;
  recovery->written = written;
  recovery->data = data;
  g_mutex_init(&recovery->mutex);
  g_cond_init(&recovery->moved);
  recovery->wake = wake_new(writer_told, recovery);
  recovery->thread = g_thread_new("soffit-recovery", writer_run, recovery);
  return recovery;
}

void recovery_free(Recovery *recovery)
{
  if (recovery == NULL)
    return;
  g_mutex_lock(&recovery->mutex);
  recovery->quit = true;
  g_cond_broadcast(&recovery->moved);
  g_mutex_unlock(&recovery->mutex);
  g_thread_join(recovery->thread);
  wake_free(recovery->wake);
  if (recovery->lock >= 0)
    close(recovery->lock);
  g_mutex_clear(&recovery->mutex);
  g_cond_clear(&recovery->moved);
  g_free(recovery->dir);
  g_free(recovery->path);
  g_free(recovery->note);
  g_free(recovery->message);
  g_free(recovery);
}

void recovery_write(Recovery *recovery, const Case *c, const char *origin, const char *seen)
{
  Case *copy = case_heap_copy(c);
  if (copy == NULL)
    return;
  g_mutex_lock(&recovery->mutex);
  case_heap_free(recovery->waiting);
  g_free(recovery->origin);
  recovery->waiting = copy;
  recovery->origin = origin ? g_strconcat(origin, "\n", seen, NULL) : NULL;
  g_cond_broadcast(&recovery->moved);
  g_mutex_unlock(&recovery->mutex);
}

/* With the mutex held. */
static void writer_settle(Recovery *recovery)
{
  while (recovery->waiting != NULL || recovery->writing)
    g_cond_wait(&recovery->moved, &recovery->mutex);
}

void recovery_wait(Recovery *recovery)
{
  g_mutex_lock(&recovery->mutex);
  writer_settle(recovery);
  g_mutex_unlock(&recovery->mutex);
}

void recovery_remove(Recovery *recovery)
{
  g_mutex_lock(&recovery->mutex);
  case_heap_free(g_steal_pointer(&recovery->waiting));
  g_clear_pointer(&recovery->origin, g_free);
  writer_settle(recovery);
  if (recovery->lock >= 0) {
    recovery_discard(recovery->path);
    close(recovery->lock);
    recovery->lock = -1;
  }
  g_mutex_unlock(&recovery->mutex);
}

const char *recovery_path(const Recovery *recovery)
{
  return recovery->path;
}

static char *note_of(const char *path)
{
  return g_strdup_printf("%.*s.note", (int)strlen(path) - 4, path);
}

/* A line of the note; NULL when it has none such, or an empty one.  A name with a line break in it
 * is not found again. */
static char *note_line(const char *path, guint line)
{
  g_autofree char *note = note_of(path), *text = NULL;
  if (!g_file_get_contents(note, &text, NULL, NULL))
    return NULL;
  g_auto(GStrv) lines = g_strsplit(text, "\n", 3);
  bool there = line < g_strv_length(lines) && *lines[line];
  return there ? g_strdup(lines[line]) : NULL;
}

char *recovery_origin(const char *path)
{
  return note_line(path, 0);
}

char *recovery_seen(const char *path)
{
  return note_line(path, 1);
}

void recovery_discard(const char *path)
{
  g_return_if_fail(g_str_has_suffix(path, ".xml"));
  g_autofree char *note = note_of(path);
  g_unlink(path);
  g_unlink(note);
}

static void left_over_free(void *data)
{
  LeftOver *left = data;
  g_free(left->path);
  g_free(left->origin);
  g_free(left->number);
  g_free(left->time);
  g_free(left);
}

/* The owner of the note lives? */
static bool note_locked(const char *note)
{
  int lock = g_open(note, O_RDWR | O_CLOEXEC, 0);
  if (lock < 0)
    return false; /* no note: nobody's */
  bool locked = flock(lock, LOCK_EX | LOCK_NB) != 0;
  close(lock);
  return locked;
}

static LeftOver *left_over_read(const char *path)
{
  g_autofree char *note = note_of(path);
  if (note_locked(note))
    return NULL;
  GStatBuf on_disk;
  if (g_stat(path, &on_disk) != 0)
    return NULL;
  LeftOver *left = g_new0(LeftOver, 1);
  left->path = g_strdup(path);
  left->origin = recovery_origin(path);
  g_autoptr(GDateTime) written = g_date_time_new_from_unix_local(on_disk.st_mtime);
  left->time = written ? g_date_time_format(written, _("%Y-%m-%d %H:%M")) : g_strdup("");
  Case c;
  case_init(&c);
  left->number = g_strdup(case_load(&c, path, NULL) ? c.number : "");
  case_clear(&c);
  return left;
}

static int left_over_order(const void *a, const void *b)
{
  const LeftOver *const *left = a, *const *right = b;
  return strcmp((*right)->time, (*left)->time);
}

GPtrArray *recovery_left_over(const char *dir)
{
  GPtrArray *found = g_ptr_array_new_with_free_func(left_over_free);
  g_autoptr(GDir) folder = g_dir_open(dir, 0, NULL);
  const char *name;
  while (folder && (name = g_dir_read_name(folder)) != NULL) {
    if (!g_str_has_suffix(name, ".xml"))
      continue;
    g_autofree char *path = g_build_filename(dir, name, NULL);
    LeftOver *left = left_over_read(path);
    if (left)
      g_ptr_array_add(found, left);
  }
  g_ptr_array_sort(found, left_over_order);
  return found;
}
