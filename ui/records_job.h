/* records_job.h - reads the records of breaks of a folder on a thread, row by row.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Main thread only, but for its own worker.  Files without a record are counted, no row. */
#pragma once
#include "assess_records.h"
#include <glib.h>

typedef struct RecordsJob RecordsJob;

typedef struct {
  GArray *row; /* BreakRow: records and troubles, in the order of the file names */
  BreakSum sum;
  guint of;      /* files to read                                                  */
  bool more;     /* the folder holds more than RECORDS_MOST                         */
  bool over;     /* nothing more comes                                             */
  bool stopped;  /* before all was read                                            */
  char *trouble; /* the folder cannot be read, or there is no memory; NULL = none  */
} RecordsState;

typedef void (*RecordsChanged)(void *data); /* the state has grown */

RecordsJob *records_job_new(const char *folder, RecordsChanged changed, void *data);
const RecordsState *records_job_state(RecordsJob *job); /* borrowed; rows stay where they are in
                                                           the order, never move back */
void records_job_stop(RecordsJob *job);                 /* soon; the state says when it is over */
void records_job_free(RecordsJob *job);                 /* stops and waits; accepts NULL        */
