/* lock_file.h - who has a case: the small file beside it, and whether its writer still lives.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to core/lab.  Beside "CASE.xml" lies ".CASE.xml.lock".  It ends in a count that its
 * holder raises at each renewal, so that the file moves even where its time stands still. */
#pragma once
#include "lab/case_lock.h"
#include <sys/stat.h>

/* What the file says, and when it was last written. */
typedef struct {
  LockHolder holder; /* owned texts */
  char *boot;        /* boot and process space of the holder's machine */
  gint64 pid;
  guint64 started; /* of the process, ticks since the boot; 0 = not known */
  char *nonce;     /* of one taking, never the same again; "" = the file cannot be read */
  guint64 renewed;
  gint64 moved_us; /* time of the file by the clock of the share, unix */
} LockFile;
void lock_file_clear(LockFile *file);

char *lock_file_path(const char *case_path); /* owned; links are followed */
/* As this process would write it: host, boot, process, a fresh nonce.  taken_from may be NULL. */
char *lock_file_text(const Person *by, const LockHolder *taken_from, char nonce[33]);
/* From an open file.  What cannot be understood is held by somebody without a name. */
void lock_file_read(int fd, LockFile *file);
/* Raises the count in place; false with errno. */
bool lock_file_renew(int fd, const LockFile *file);

/* How the file was seen last: it lives as long as it moves. */
typedef struct {
  gint64 moved_us, since_us; /* since_us: monotonic, of the first look at this state */
  guint64 renewed;
  char nonce[33];
} LockWatch;
/* Whether the holder is gone.
 *   watch     inout  carried from look to look, {0} before the first
 *   share_us  in     now, by the clock of the share (time of a file just written there)
 *   now_us    in     now, by any clock of this machine that never jumps */
bool lock_file_stale(const LockFile *file, LockWatch *watch, gint64 share_us, gint64 now_us);
gint64 stat_us(const struct stat *about); /* time of last change, unix */
