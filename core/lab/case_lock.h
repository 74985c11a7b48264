/* case_lock.h - one hand on a case: the others see whose, read, remark, or take over with notice.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A lock is a courtesy between people, kept in a file beside the case (lock_file.h); that nothing
 * is overwritten rests on case_save_over(), which looks at the file itself.  Programs that do not
 * know these locks are caught by that too.
 * Times are those of the share, never this machine's clock against another's.  Belongs to one
 * thread.  Every call touches the disk and may wait for another process up to a second. */
#pragma once
#include "record/chain.h"

#define LOCK_RENEW_S 30  /* the holder renews this often */
#define LOCK_QUIET_S 180 /* a lock from elsewhere that did not move for so long is left over */

/* Owned texts, "" when not told. */
typedef struct {
  char *name, *initials, *role, *host;
  char *since;      /* ISO 8601 in UTC, by the holder's clock */
  char *taken_from; /* name of whom it was taken from, "" = it was free */
} LockHolder;
void lock_holder_copy(LockHolder *to, const LockHolder *from); /* `to` is cleared first */
void lock_holder_clear(LockHolder *holder);                    /* {0} is clear */

typedef enum {
  LOCK_FREE, /* nobody has it: closed since, or never taken */
  LOCK_MINE,
  LOCK_OTHERS,    /* somebody else has it; case_lock_holder() */
  LOCK_UNWRITABLE /* nothing can be written beside the case: reading only */
} LockState;

typedef struct CaseLock CaseLock;
/* Takes nothing yet.  The file need not exist. */
CaseLock *case_lock_new(const char *case_path, const Person *by);
void case_lock_free(CaseLock *lock); /* lets go; accepts NULL */

/* Takes it when it is free or left over from a crash. */
LockState case_lock_take(CaseLock *lock);
/* Takes it from whoever has it; the lock tells whom it was taken from. */
LockState case_lock_take_over(CaseLock *lock);
/* The holder's: renews.  Another's: looks who has it now; a left over one is LOCK_FREE.  Call it
 * every LOCK_RENEW_S and when the lock file changes.  Without news from the share (it is away)
 * everything stays as it was. */
LockState case_lock_renew(CaseLock *lock);
LockState case_lock_state(const CaseLock *lock); /* as last seen */
/* Removes the lock when it is mine, never another's. */
void case_lock_release(CaseLock *lock);

/* Whoever has it, me too; when it was found free, who had it last.  Borrowed until the next call;
 * NULL when nobody was seen. */
const LockHolder *case_lock_holder(const CaseLock *lock);
const char *case_lock_file(const CaseLock *lock); /* path of the lock file, to be watched */

/* Shuts out every other process that would take the lock or save, until case_lock_ungate(): for the
 * moment of a save.  Works whoever has the lock.  False when there is no lock file, or a second was
 * not enough. */
bool case_lock_gate(CaseLock *lock);
void case_lock_ungate(CaseLock *lock);
