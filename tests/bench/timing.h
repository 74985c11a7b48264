/* timing.h - medians, and the solid of four outlines as the measure of a machine.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <glib.h>
#include "mechanics/solid.h"
#include <stdlib.h>
#include <time.h>

static inline double milliseconds_since(gint64 start)
{
  return (double)(g_get_monotonic_time() - start) / 1000;
}

/* Processor time of this thread. */
static inline double thread_ms(void)
{
  struct timespec t;
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
  return 1e3 * (double)t.tv_sec + 1e-6 * (double)t.tv_nsec;
}

static inline int timing_order(const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

/* Sorts; ms[0] is then the best. */
static inline double timing_median(double ms[], size_t n)
{
  qsort(ms, n, sizeof *ms, timing_order);
  return ms[n / 2];
}

/* Outlines to field, n times; sorted.  Returns the median, 0 when it cannot be solved. */
static inline double solid_timing(const LoftInput *input, SolidGrade grade, double ms[], int n,
                                  size_t *unknowns)
{
  SolidWork *work = NULL;
  SolidSettings settings = {205000, 0.31, grade, NULL, NULL};
  if (solid_work_new(&work))
    return 0;
  for (int i = -1; i < n; i++) { /* the first one touches the buffers */
    Loft *loft = NULL;
    Field *field = NULL;
    gint64 start = g_get_monotonic_time();
    bool bad = loft_new(input, &loft, NULL) || solid_solve(work, loft, &settings, &field, NULL);
    if (i >= 0)
      ms[i] = milliseconds_since(start);
    if (field)
      *unknowns = field->unknowns;
    field_unref(field);
    loft_free(loft);
    if (bad) {
      solid_work_free(work);
      return 0;
    }
  }
  solid_work_free(work);
  return timing_median(ms, (size_t)n);
}
