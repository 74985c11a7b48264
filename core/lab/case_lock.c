/* case_lock.c - taken by a link, changed under flock(): never two holders.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A lock is written whole beside its place and linked there, which only one can do.  Whoever
 * changes or removes one holds flock() on it and has looked that it is still the file of that name.
 * Where the share knows no flock(), two that take one left over lock in the same moment may both
 * think they have it until the next renewal, which tells the loser; saving looks at the case
 * itself. */
#include "lab/lock_file.h"
#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <stdio.h>
#include <string.h>
#include <sys/file.h>
#include <unistd.h>

#define WAIT_STEP_US 2000
#define WAIT_STEPS 500 /* a second */
#define TRIES 20       /* somebody else was quicker, each time */

struct CaseLock {
  char *path;     /* owned; of the lock file */
  Person by;      /* owned texts */
  char nonce[33]; /* of the lock as I took it; "" = not mine */
  LockState state;
  LockFile file; /* as last seen; file.nonce NULL = none */
  LockWatch watch;
  int gate; /* open and flocked; -1 = not */
};

CaseLock *case_lock_new(const char *case_path, const Person *by)
{
  CaseLock *lock = g_new0(CaseLock, 1);
  lock->path = lock_file_path(case_path);
  lock->by = (Person){g_strdup(by->name), g_strdup(by->role), g_strdup(by->initials)};
  lock->state = LOCK_FREE;
  lock->gate = -1;
  return lock;
}

void case_lock_free(CaseLock *lock)
{
  if (!lock)
    return;
  case_lock_release(lock);
  lock_file_clear(&lock->file);
  g_free(lock->by.name);
  g_free(lock->by.role);
  g_free(lock->by.initials);
  g_free(lock->path);
  g_free(lock);
}

/* ---- the file of that name, and nobody else at it ---- */

static int file_open(const char *path)
{
  int fd = open(path, O_RDWR | O_CLOEXEC | O_NOFOLLOW);
  if (fd < 0 && (errno == EACCES || errno == EPERM || errno == EROFS))
    fd = open(path, O_RDONLY | O_CLOEXEC | O_NOFOLLOW);
  return fd;
}

static bool file_is(int fd, const char *path)
{
  struct stat open_one, named;
  return fstat(fd, &open_one) == 0 && stat(path, &named) == 0 && open_one.st_ino == named.st_ino &&
         open_one.st_dev == named.st_dev;
}

/* False: another process held it for a whole second. */
static bool file_flock(int fd)
{
  for (int i = 0; i < WAIT_STEPS; i++) {
    if (flock(fd, LOCK_EX | LOCK_NB) == 0)
      return true;
    if (errno != EWOULDBLOCK && errno != EINTR)
      return true; /* this share knows no flock(): see above */
    g_usleep(WAIT_STEP_US);
  }
  errno = EBUSY;
  return false;
}

/* The lock file, open, flocked and read into lock->file; -1 with errno (ENOENT: there is none). */
static int file_enter(CaseLock *lock)
{
  for (int i = 0; i < TRIES; i++) {
    int fd = file_open(lock->path);
    if (fd < 0)
      return -1;
    if (!file_flock(fd)) {
      close(fd);
      errno = EBUSY;
      return -1;
    }
    if (file_is(fd, lock->path)) {
      lock_file_read(fd, &lock->file);
      return fd;
    }
    close(fd); /* replaced or removed while we waited */
  }
  errno = EBUSY;
  return -1;
}

/* Reads it without keeping others out; false with errno. */
static bool file_look(CaseLock *lock)
{
  int fd = file_open(lock->path);
  if (fd < 0)
    return false;
  lock_file_read(fd, &lock->file);
  close(fd);
  return true;
}

/* ---- taking ---- */

static bool is_mine(const CaseLock *lock)
{
  return *lock->nonce && g_strcmp0(lock->nonce, lock->file.nonce) == 0;
}

/* The text in a file of its own beside the lock; owned path, NULL with errno.  *share_us: the
 * share's time. */
static char *draft_write(const CaseLock *lock, const char *text, gint64 *share_us)
{
  char *path = g_strdup_printf("%s.XXXXXX", lock->path);
  int fd = g_mkstemp_full(path, O_RDWR | O_CLOEXEC, 0666);
  struct stat about;
  size_t length = strlen(text);
  bool good = fd >= 0 && write(fd, text, length) == (ssize_t)length && fstat(fd, &about) == 0;
  int reason = errno;
  if (good)
    *share_us = stat_us(&about);
  if (fd >= 0)
    close(fd);
  if (!good && fd >= 0)
    g_unlink(path);
  if (!good)
    g_clear_pointer(&path, g_free);
  errno = reason;
  return path;
}

/* Where the share knows no links: the name is made by one alone, then filled. */
static bool text_create(const CaseLock *lock, const char *text)
{
  int fd = open(lock->path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
  if (fd < 0)
    return false;
  size_t length = strlen(text);
  bool good = write(fd, text, length) == (ssize_t)length;
  close(fd);
  return good;
}

static bool draft_link(const CaseLock *lock, const char *draft, const char *text)
{
  if (link(draft, lock->path) == 0)
    return true;
  if (errno == EEXIST || errno == ENOENT || errno == EROFS || errno == ENOSPC)
    return false;
  return text_create(lock, text);
}

static LockState taken(CaseLock *lock, const char *nonce)
{
  g_strlcpy(lock->nonce, nonce, sizeof lock->nonce);
  lock->watch = (LockWatch){0};
  file_look(lock); /* my own words about me */
  return lock->state = LOCK_MINE;
}

/* In the place of the lock that `fd` holds. */
static LockState replace(CaseLock *lock)
{
  char nonce[33];
  gint64 share_us;
  g_autofree char *text = lock_file_text(&lock->by, &lock->file.holder, nonce),
                  *draft = draft_write(lock, text, &share_us);
  if (draft && rename(draft, lock->path) == 0)
    return taken(lock, nonce);
  if (draft)
    g_unlink(draft);
  return lock->state = LOCK_OTHERS;
}

/* One look: free, left over or another's.  False: it changed meanwhile, look again. */
static bool take_once(CaseLock *lock, bool over, gint64 share_us)
{
  int fd = file_enter(lock);
  if (fd < 0 && errno == ENOENT)
    return false;
  if (fd < 0) { /* held at the gate for a second: its holder lives */
    lock->state = LOCK_OTHERS;
    return true;
  }
  bool left = lock_file_stale(&lock->file, &lock->watch, share_us, g_get_monotonic_time());
  if (is_mine(lock))
    lock->state = LOCK_MINE;
  else if (over || left)
    replace(lock);
  else
    lock->state = LOCK_OTHERS;
  close(fd);
  return true;
}

static LockState take(CaseLock *lock, bool over)
{
  char nonce[33];
  gint64 share_us;
  g_autofree char *text = lock_file_text(&lock->by, NULL, nonce),
                  *draft = draft_write(lock, text, &share_us);
  if (!draft) {
    file_look(lock);
    return lock->state = LOCK_UNWRITABLE;
  }
  bool done = false;
  for (int i = 0; i < TRIES && !done; i++) {
    if (draft_link(lock, draft, text)) {
      taken(lock, nonce);
      done = true;
    } else {
      done = take_once(lock, over, share_us);
    }
  }
  g_unlink(draft);
  if (!done) /* taken and let go by others each time we looked */
    lock->state = LOCK_OTHERS;
  return lock->state;
}

LockState case_lock_take(CaseLock *lock)
{
  return take(lock, false);
}

LockState case_lock_take_over(CaseLock *lock)
{
  return take(lock, true);
}

/* ---- kept, watched, let go ---- */

static LockState watch_other(CaseLock *lock)
{
  if (lock->state == LOCK_UNWRITABLE)
    return lock->state;
  if (!file_look(lock))
    return lock->state = errno == ENOENT ? LOCK_FREE : lock->state;
  /* watched only: its age was looked at when it was to be taken */
  bool left =
      lock_file_stale(&lock->file, &lock->watch, lock->file.moved_us, g_get_monotonic_time());
  return lock->state = left ? LOCK_FREE : LOCK_OTHERS;
}

LockState case_lock_renew(CaseLock *lock)
{
  if (lock->state != LOCK_MINE)
    return watch_other(lock);
  int fd = file_enter(lock);
  if (fd < 0 && errno == ENOENT && g_file_test(lock->path, G_FILE_TEST_EXISTS))
    return lock->state; /* it came back meanwhile: the next look tells */
  g_autofree char *folder = g_path_get_dirname(lock->path);
  if (fd < 0 && errno == ENOENT && g_file_test(folder, G_FILE_TEST_IS_DIR))
    return case_lock_take(lock); /* somebody removed it by hand */
  if (fd < 0)
    return lock->state; /* the share is away */
  if (is_mine(lock))
    lock_file_renew(fd, &lock->file);
  else
    lock->state = LOCK_OTHERS;
  close(fd);
  if (lock->state != LOCK_MINE)
    *lock->nonce = '\0';
  return lock->state;
}

LockState case_lock_state(const CaseLock *lock)
{
  return lock->state;
}

void case_lock_release(CaseLock *lock)
{
  case_lock_ungate(lock);
  int fd = *lock->nonce ? file_enter(lock) : -1;
  if (fd >= 0) {
    if (is_mine(lock))
      g_unlink(lock->path);
    close(fd);
  }
  *lock->nonce = '\0';
  lock->state = LOCK_FREE;
}

const LockHolder *case_lock_holder(const CaseLock *lock)
{
  return lock->file.nonce ? &lock->file.holder : NULL;
}

const char *case_lock_file(const CaseLock *lock)
{
  return lock->path;
}

bool case_lock_gate(CaseLock *lock)
{
  case_lock_ungate(lock);
  lock->gate = file_enter(lock);
  if (lock->gate >= 0 && lock->state == LOCK_MINE && !is_mine(lock)) {
    lock->state = LOCK_OTHERS; /* seen earlier than by the renewal */
    *lock->nonce = '\0';
  }
  return lock->gate >= 0;
}

void case_lock_ungate(CaseLock *lock)
{
  if (lock->gate >= 0)
    close(lock->gate);
  lock->gate = -1;
}
