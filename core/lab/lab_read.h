/* lab_read.h - a case file into its row: read, then assessed; nothing of the case is kept.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "lab/lab_row.h"
#include "lab/lab_settings.h"

/* What all readings of a folder share.  Immutable while it is used by threads. */
typedef struct {
  char *folder;          /* owned */
  LabSettings *settings; /* owned */
  PublicKeys *keys;      /* owned, never NULL */
  char *keys_digest;     /* owned; SHA-256 of the files they came from */
} Lab;
/* Settings and keys of a folder.  *trouble: owned text, what of them cannot be read (the usual
 * values stand for it), or NULL. */
Lab *lab_new(const char *folder, char **trouble);
void lab_free(Lab *lab); /* accepts NULL */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Lab, lab_free)

/* New row, ROW_READ or ROW_UNREADABLE, whatever comes. */
LabRow *lab_row_read(const Lab *lab, const char *file);
/* The same and assessed, ROW_READY: with ASSESS_LIVE, which the list is sorted by; the evidence of
 * a case is assessed at rest.  Limits are those of the decision that stands, else the lab's.
 *   assessor   in   of this thread
 *   cancelled  in   may be NULL
 *   row        out  new; untouched on FAULT_CANCELLED, the only one that comes back */
MUST_CHECK Fault lab_row_assess(const Lab *lab, const char *file, Assessor *assessor,
                                bool (*cancelled)(void *data), void *data, LabRow **row);
/* What an assessment says, into a row that has been read. */
void lab_row_take(LabRow *row, const Assessment *a);
