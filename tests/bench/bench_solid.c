/* bench_solid.c - time of the live answer: unknowns, milliseconds, microseconds per unknown.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Whole way from outlines to field, one core (OPENBLAS_NUM_THREADS=1), median of the runs. */
#include "../core/connector_shapes.h"
#include "mechanics/solid.h"
#include <stdio.h>
#include <stdlib.h>

#define RUNS 15

static int compare(const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

static int run(const char *name, const Connector4 *c, SolidGrade grade, int runs)
{
  SolidWork *work = NULL;
  double ms[RUNS];
  size_t unknowns = 0;
  if (solid_work_new(&work))
    return 1;
  for (int i = -1; i < runs; i++) { /* the first one touches the buffers */
    LoftInput input = connector_input(c);
    SolidSettings settings = {205000, 0.31, grade, NULL, NULL};
    Loft *loft = NULL;
    Field *field = NULL;
    gint64 start = g_get_monotonic_time();
    if (loft_new(&input, &loft, NULL) || solid_solve(work, loft, &settings, &field, NULL))
      return 1;
    if (i >= 0)
      ms[i] = (double)(g_get_monotonic_time() - start) / 1000;
    unknowns = field->unknowns;
    field_unref(field);
    loft_free(loft);
  }
  qsort(ms, (size_t)runs, sizeof ms[0], compare);
  double median = ms[runs / 2];
  printf("%-28s %8zu %9.1f %9.1f %9.2f\n", name, unknowns, ms[0], median,
         1000 * median / (double)unknowns);
  solid_work_free(work);
  return 0;
}

int main(void)
{
  Connector4 even, flat, lop, open;
  connector_draw(&even, roof_shape(0.6, 0, 0), 3.2, 1.0);
  connector_draw(&flat, roof_shape(0.35, 0.5, 20), 3.2, 1.6);
  connector_draw(&lop, (NotchShape){-2, -1, 0.6, 0, 10, 40, 2.5, 8, 8}, 3.2, 1.0);
  connector_draw(&open, (NotchShape){-2, -1, 0.6, 0, 10, 40, 2.5, 8, 8}, 3.2, 1.0);
  double out[6] = {1, 0, 0, 1, 0, 0.3};
  outline_transform(&open.buccal, out);
  printf("%-28s %8s %9s %9s %9s\n", "solid", "unknowns", "best ms", "median ms", "us each");
  int bad = run("quarter, live", &even, SOLID_LIVE, RUNS);
  bad += run("quarter, live, flat roof", &flat, SOLID_LIVE, RUNS);
  bad += run("half, live", &lop, SOLID_LIVE, RUNS);
  bad += run("no symmetry, full", &open, SOLID_FULL, 5);
  bad += run("quarter, fine", &even, SOLID_FINE, 1);
  connector_clear(&even);
  connector_clear(&flat);
  connector_clear(&lop);
  connector_clear(&open);
  return bad;
}
