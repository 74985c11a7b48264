/* lab_pool.h - threads that read and assess the files of a lab, the most urgent first.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One Assessor a thread.  Asked and freed by one thread; rows are handed over on the workers. */
#pragma once
#include "lab/lab_read.h"

typedef enum { LAB_READ, LAB_ASSESS } LabStage;
/* The higher the sooner; equal ones in the order they were asked for. */
typedef enum {
  URGENCY_DECIDED, /* assessed in the background, in the order of who waits for it */
  URGENCY_DRAWN,
  URGENCY_WAITS,
  URGENCY_READ,    /* names become rows before the rest is assessed */
  URGENCY_CHANGED, /* somebody works on it */
  URGENCY_SEEN     /* a person looks at it */
} LabUrgency;

typedef struct LabPool LabPool;
/* On a worker.  row: taken over; number: of the asking that it answers. */
typedef void (*LabPoolDone)(LabRow *row, guint64 number, void *data);

/*   lab      in  borrowed, must outlive the pool
 *   threads  in  0 = one a core
 *   begin    in  called first on each worker; may be NULL */
LabPool *lab_pool_new(const Lab *lab, int threads, void (*begin)(void), LabPoolDone done,
                      void *data);
/* Replaces what waits for the same file; what runs already is finished, with its older number.
 * Returns the number of the asking, above all before. */
guint64 lab_pool_ask(LabPool *pool, const char *file, LabStage stage, LabUrgency urgency);
/* What waits for a file is done sooner; does nothing when nothing waits. */
void lab_pool_hurry(LabPool *pool, const char *file, LabUrgency urgency);
void lab_pool_forget(LabPool *pool, const char *file);
guint lab_pool_waiting(LabPool *pool); /* with those that run */
/* Blocks until nothing waits or runs: for programs without a window. */
void lab_pool_wait(LabPool *pool);
void lab_pool_free(LabPool *pool); /* cancels, joins; accepts NULL */
