/* lab_watch.h - looks into a lab folder again and again, on a thread of its own.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The listing is the truth; the file monitor only makes it come sooner.  So a monitor that reports
 * nothing, as on many network shares, does no harm.  A share that hangs holds up nobody: freeing
 * does not wait for the thread. */
#pragma once
#include "lab/lab_cache.h"
#include "lab/lab_list.h"

/* What was seen; the callback may steal lab. */
typedef struct {
  LabList *list;     /* NULL: the folder cannot be read */
  char *trouble;     /* why */
  Lab *lab;          /* settings and keys, when they are new or changed; else NULL */
  GHashTable *kept;  /* with lab: rows of the cache, LabRow by file name, to be stolen; or NULL */
  char *lab_trouble; /* what of them cannot be read; NULL */
} LabSight;

typedef struct LabWatch LabWatch;
typedef void (*LabWatchSeen)(LabSight *sight, void *data); /* on the main thread */

/* Looks at once, then at least every poll_ms, but not more often than takes a twentieth of the
 * time.

 *   cache  in  file of lab_cache.h, read with the settings; may be NULL */
LabWatch *lab_watch_new(const char *folder, const char *cache, bool monitor, guint poll_ms,
                        LabWatchSeen seen, void *data);
void lab_watch_look(LabWatch *watch); /* now */
void lab_watch_free(LabWatch *watch); /* nothing is called after; accepts NULL */
