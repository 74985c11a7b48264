/* exercise_job.h - looks in a thread whether an exercise can be done: told as it goes, stopped at
 * once. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One at a time.  Everything but the search happens on the main thread. */
#pragma once
#include "practice/solvable.h"

/*   share   of the work, 0 .. 1
 *   answer  NULL while it runs; borrowed
 *   fault   at the end: why nothing is known */
typedef void (*ExerciseTell)(double share, const Solvable *answer, Fault fault, void *data);

typedef struct ExerciseJob ExerciseJob;
ExerciseJob *exercise_job_new(ExerciseTell tell, void *data);
void exercise_job_free(ExerciseJob *job); /* stops; accepts NULL */
/* The exercise is copied.  False and the error when it cannot be. */
bool exercise_job_start(ExerciseJob *job, const Exercise *exercise, GError **error);
void exercise_job_stop(ExerciseJob *job); /* nothing is told afterwards */
bool exercise_job_runs(const ExerciseJob *job);
