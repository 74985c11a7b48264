/* class_paper_job.h - writes a class as PDF on a thread, one page a trainee.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Main thread only, but for its own worker.  Nothing waits for the worker: a folder that does not
 * answer keeps a thread, not the window. */
#pragma once
#include "ui/drawing/paper.h"
#include <stdbool.h>

typedef struct ClassPaperJob ClassPaperJob;

typedef struct {
  guint done, of; /* pages drawn; all of them: the file is being written */
  bool over;      /* nothing more comes                                  */
  char *trouble;  /* "FILE: what is wrong. What to do."; NULL = none      */
} ClassPaperState;

typedef void (*ClassPaperChanged)(void *data);

/* Words and decimal sign of the desktop, the day of now.
 *   rows  in  of ClassRow, at least one; the job keeps those that are there now
 *   set   in  kept by the job */
ClassPaperJob *class_paper_job_new(const GPtrArray *rows, const GPtrArray *set, PaperSize size,
                                   const char *path, ClassPaperChanged changed, void *data);
const ClassPaperState *class_paper_job_state(ClassPaperJob *job); /* borrowed */
const char *class_paper_job_path(const ClassPaperJob *job);       /* borrowed */
/* At once, nothing is told afterwards.  True: no file comes.  False: it is being written already,
 * and may come still. */
bool class_paper_job_stop(ClassPaperJob *job);
/* Nobody listens any more; a file that was asked for is still written.  Accepts NULL. */
void class_paper_job_free(ClassPaperJob *job);
