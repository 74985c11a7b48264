/* assess_records.h - records of breaks in case files: one row a file, and the hits over all.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N.  Window and command line use these calls.  A file without a record is read, not solved. */
#pragma once
#include "assess_break.h"

#define RECORDS_MOST 5000 /* files of one folder; more are left out and told */

typedef struct {
  char *path;       /* owned: as it was named                                               */
  char *number;     /* owned: of the case; "" where the file gave none                       */
  GError *error;    /* owned: the file cannot be read; NULL = it can                         */
  Fault fault;      /* the bridge of a record has no answer                                 */
  BreakCheck check; /* recorded false: no record, or trouble                 */
  char expected[12], broke[12]; /* "34/35"; "" without a record                          */
  OriginKind kind;
  double load_n, years; /* NaN = not recorded */
} BreakRow;

typedef struct {
  size_t files, unread; /* unread: no case, or no answer */
  BreakTally tally;
} BreakSum;

/* The row is filled whatever comes; only these come back: FAULT_MEMORY, FAULT_CANCELLED.
 *   row   out   cleared by break_row_clear
 *   sum   inout what it adds to; begins as {0} */
MUST_CHECK Fault break_row_read(Assessor *assessor, const char *path, bool (*cancelled)(void *data),
                                void *data, BreakRow *row, BreakSum *sum);
void break_row_clear(BreakRow *row);
