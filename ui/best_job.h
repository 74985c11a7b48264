/* best_job.h - the search for the best outline in a thread: told as it goes, stopped at once.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One search at a time.  Everything but the search happens on the thread that made the job (its
 * main context). */
#pragma once
#include "assess_best.h"

/* The best so far, or the end.
 *   best   borrowed; at the end with fault FAULT_NONE the confirmed one
 *   fault  at the end: why there is none
 *   ended  nothing more follows */
typedef void (*BestTell)(const BestOutline *best, Fault fault, bool ended, void *data);

typedef struct BestJob BestJob;
BestJob *best_job_new(BestTell tell, void *data);
void best_job_free(BestJob *job); /* stops; accepts NULL */
/* Copies the case.  A search that runs is stopped first. */
void best_job_start(BestJob *job, const Case *c, size_t connector, bool take_height);
void best_job_stop(BestJob *job); /* nothing is told afterwards */
bool best_job_runs(const BestJob *job);
