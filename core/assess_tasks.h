/* assess_tasks.h - bodies solved by a few threads; what follows from one may add others.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to core/assess*.c.  A connector's trials start as soon as that connector is judged, so
 * that no thread waits for the slowest one. */
#pragma once
#include "assess_cache.h"

#define SOLVERS_MAX 16

typedef struct {
  Body body;
  Solved solved; /* owned field */
  size_t connector;
  int part; /* the caller's name for it */
} Task;

typedef struct {
  Task *task; /* n of them, room for all that may follow */
  size_t n;
  FieldCache *cache;
  Solver *solver; /* `threads` of them */
  int threads;
  /* `judge` runs on any thread, one task at a time for each thread; it may use what belongs to the
   * task's connector.  `follow` runs alone, after it, and may add tasks. */
  void (*judge)(void *data, Task *task);
  void (*follow)(void *data, Task *task);
  void *data;
} TaskList;

/* FAULT_CANCELLED or FAULT_MEMORY if a task met it: the rest is then left out. */
MUST_CHECK Fault tasks_run(TaskList *list);
void tasks_clear(TaskList *list);
