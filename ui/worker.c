/* worker.c - threads that work for the window.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/worker.h"
#include <sys/resource.h>

#define BACK 5 /* steps of nice: a quarter of the time while the window wants all of it */
#define FAR_BACK 10

static void stand(int steps)
{
#ifdef __linux__ /* there 0 is the thread, elsewhere the program */
  (void)setpriority(PRIO_PROCESS, 0, steps);
#else
  (void)steps;
#endif
}

void worker_stand_back(void)
{
  stand(BACK);
}

void worker_stand_far_back(void)
{
  stand(FAR_BACK);
}
