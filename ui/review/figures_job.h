/* figures_job.h - the samples of a folder read on threads, for the window.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Main thread only, but for its own worker. */
#pragma once
#include "lab/lab_sample.h"

typedef struct FiguresJob FiguresJob;
typedef struct {
  guint done, of;
  bool over;
  LabSamples *samples; /* borrowed; NULL while it reads, or with trouble */
  const char *trouble; /* borrowed: the folder cannot be read; NULL      */
} FiguresState;
typedef void (*FiguresChanged)(const FiguresState *state, void *data);

FiguresJob *figures_job_new(const char *folder, FiguresChanged changed, void *data);
void figures_job_free(FiguresJob *job); /* stops and waits; accepts NULL */
