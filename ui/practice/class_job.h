/* class_job.h - reads the progress of a class on a thread, a trainee at a time.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Main thread only, but for its own worker.  Nothing waits for the worker: a folder that does not
 * answer keeps a thread, not the window. */
#pragma once
#include "practice/class_folder.h"

typedef struct ClassJob ClassJob;

typedef struct {
  GPtrArray *row;     /* ClassRow, in the order of the file names       */
  GPtrArray *message; /* char *: files left out, or made good           */
  guint of;           /* files to read; 0: the folder has not answered  */
  guint done;
  bool over;     /* nothing more comes                                  */
  bool late;     /* nothing has come for CLASS_LATE_S                   */
  char *trouble; /* the folder cannot be read; NULL = none              */
} ClassState;

#define CLASS_LATE_S 4

typedef void (*ClassChanged)(void *data); /* the state has grown, or it became late */

/* set: kept by the job. */
ClassJob *class_job_new(const char *folder, const GPtrArray *set, ClassChanged changed, void *data);
const ClassState *class_job_state(ClassJob *job); /* borrowed; rows stay, more come behind them */
void class_job_free(ClassJob *job);               /* at once; accepts NULL */
