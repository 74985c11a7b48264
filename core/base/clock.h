/* clock.h - a clock that only runs forward, for the time an answer took.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <time.h>

static inline double seconds_now(void)
{
  struct timespec t;
  clock_gettime(CLOCK_MONOTONIC, &t);
  return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}
