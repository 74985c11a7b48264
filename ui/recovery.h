/* recovery.h - the file that keeps unsaved work: written by a thread, kept while its owner lives,
 * offered after. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * In the state folder: NAME.xml, the case, and NAME.note, which names the file that the case came
 * from and is locked as long as the owner lives; a note that can be locked is left over from a
 * crash. */
#pragma once
#include "casefile/case.h"

typedef struct Recovery Recovery;
/* Called on the main context after each write; message NULL = written. */
typedef void (*RecoveryWritten)(const char *message, void *data);

char *recovery_default_dir(void); /* the user's state folder, owned                              */
Recovery *recovery_new(const char *dir, RecoveryWritten written, void *data);
void recovery_free(Recovery *recovery); /* waits for a running write; files stay; accepts NULL */

/* seen: digest of the file `origin` as it was opened, "" = none.
 * Takes a copy and has it on disk soon; while a write runs, newer cases replace each other. */
void recovery_write(Recovery *recovery, const Case *c, const char *origin, const char *seen);
void recovery_wait(Recovery *recovery);   /* until everything handed over is on disk   */
void recovery_remove(Recovery *recovery); /* nothing to recover any more: both files go */
const char *recovery_path(const Recovery *recovery); /* of the XML, whether it exists or not */

typedef struct {
  char *path;   /* owned: the recovery XML        */
  char *origin; /* owned: the file it came from, or NULL */
  char *number; /* owned: the case number, or "" */
  char *time;   /* owned: last written, "2025-11-25 09:33", local */
} LeftOver;
/* What crashed owners left, newest first; array of LeftOver, owned. */
GPtrArray *recovery_left_over(const char *dir);
char *
recovery_origin(const char *path); /* the file that a left over case came from, owned, or NULL */
char *recovery_seen(const char *path);   /* digest of that file as it was opened, owned, or NULL */
void recovery_discard(const char *path); /* the XML and its note */
