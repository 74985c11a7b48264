/* bench_solid.c - time of the live answer: unknowns, milliseconds, microseconds per unknown.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Whole way from outlines to field, one core (OPENBLAS_NUM_THREADS=1), median of the runs.  At the
 * end the most memory that the program held: its largest mesh is the fine one without symmetry. */
#include "../core/connector_shapes.h"
#include "timing.h"
#include <stdio.h>
#include <sys/resource.h>

#define RUNS 15

static int run(const char *name, const Connector4 *c, SolidGrade grade, int runs)
{
  double ms[RUNS];
  size_t unknowns = 0;
  LoftInput input = connector_input(c);
  double median = solid_timing(&input, grade, ms, runs, &unknowns);
  if (!(median > 0))
    return 1;
  printf("%-28s %8zu %9.1f %9.1f %9.2f\n", name, unknowns, ms[0], median,
         1000 * median / (double)unknowns);
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
  bad += run("quarter, fine (<= 1500)", &even, SOLID_FINE, 3);
  bad += run("half, fine (<= 1500)", &lop, SOLID_FINE, 3);
  bad += run("no symmetry, fine (<= 1500)", &open, SOLID_FINE, 3);
  struct rusage used;
  if (getrusage(RUSAGE_SELF, &used))
    bad++;
  else
    printf("%-28s %8.0f MB\n", "memory (<= 300)", (double)used.ru_maxrss / 1024);
  connector4_clear(&even);
  connector4_clear(&flat);
  connector4_clear(&lop);
  connector4_clear(&open);
  return bad;
}
