/* seen_store.h - what a person last looked at on this machine: a copy of each case as it was then.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * In the state folder of the user, one folder for a lab and a person, one file a case.  Nothing
 * depends on it: it may be deleted at any time, and what is damaged or of another program counts as
 * never seen.  A copy holds no photos, no history and nothing that was pinned to be compared with.
 * Times are microseconds since 1970, UTC.  Any thread; two windows that write at once lose a look,
 * never a case. */
#pragma once
#include "casefile/case.h"

#define SEEN_FILES_MOST 2000                        /* of a lab; those seen longest ago go */
#define SEEN_BYTES_MOST ((goffset)32 * 1024 * 1024) /* of a lab */
#define SEEN_CASE_MOST ((gsize)512 * 1024)          /* a larger copy is not kept */
#define SEEN_SITTING_US                                                                            \
  (12 * 3600 * (gint64)1000000) /* a case that was seen for the first time                         \
   so long ago still tells what it differed from before */

/* Where the copies of a lab are kept; owned.
 *   state_dir  in  NULL = of the user
 *   person     in  name; each has what he has seen */
char *seen_folder(const char *state_dir, const char *lab, const char *person);

typedef enum {
  SEEN_NEVER,
  SEEN_SAME, /* it is as it was then */
  SEEN_OTHER /* it was another one then */
} SeenState;
/* How a case stands to the last look at it.  In the sitting in which a change was seen first, that
 * is still the look before, so that going back to it shows the same.
 *   file       in   name in the lab
 *   before     out  inited by the caller; SEEN_OTHER: as it was, complete
 *   looked_us  out  when; untouched on SEEN_NEVER */
SeenState seen_look_back(const char *folder, const char *file, const Case *now, gint64 now_us,
                         Case *before, gint64 *looked_us);
/* It is looked at now.  Failing costs nothing but the memory. */
void seen_keep(const char *folder, const char *file, const Case *now, gint64 now_us);
