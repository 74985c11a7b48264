/* bench_plane.c - time of the plane answer: nodes, error, milliseconds, and how it grows.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * From outline to field on one core, best and median of the runs; the last column is the ratio to a
 * quarter solid of the same run, which takes the noise of the machine out.  Error: against the
 * finest mesh of the same shape. */
#include "../core/connector_shapes.h"
#include "../core/notched_bar.h"
#include "mechanics/plane.h"
#include "timing.h"
#include <stdio.h>

#define RUNS 25
#define FINEST 32

typedef struct {
  double best, median, peak;
  size_t nodes;
} Row;

static int row_make(const Connector4 *c, const Outline *bar, double fineness, int runs, Row *row)
{
  PlaneWork *work = NULL;
  double ms[RUNS];
  if (plane_work_new(&work))
    return 1;
  for (int i = -1; i < runs; i++) { /* the first one touches the buffers */
    LoftInput input = c ? connector_input(c) : (LoftInput){0};
    PlaneSettings settings = {205000, 0.31, fineness};
    PlaneReading reading;
    Field *field = NULL;
    Point where;
    Peak peak;
    gint64 start = g_get_monotonic_time();
    if (c ? plane_connector(work, &input, &settings, &field, &reading, &where)
          : plane_silhouette(work, bar, 1, &settings, &field, &reading, &where))
      return 1;
    if (i >= 0)
      ms[i] = milliseconds_since(start);
    if (field_peak(field, (NeckLoad){1, 0}, &peak))
      return 1;
    row->peak = peak.mpa;
    row->nodes = reading.nodes;
    field_unref(field);
  }
  plane_work_free(work);
  row->median = timing_median(ms, (size_t)runs);
  row->best = ms[0];
  return 0;
}

static int table(const char *name, const Connector4 *c, const Outline *bar, double solid)
{
  static const double fineness[] = {6, PLANE_FINENESS, 12, 16, 24};
  Row finest, row;
  if (row_make(c, bar, FINEST, 1, &finest))
    return 1;
  for (size_t i = 0; i < G_N_ELEMENTS(fineness); i++) {
    if (row_make(c, bar, fineness[i], i < 2 ? RUNS : 5, &row))
      return 1;
    printf("%-20s %8g %7zu %8.2f %9.2f %9.2f %9.2f %8.2f\n", name, fineness[i], row.nodes,
           100 * (row.peak / finest.peak - 1), row.best, row.median,
           1000 * row.median / (double)row.nodes, row.median / solid);
  }
  return 0;
}

int main(void)
{
  Connector4 sharp, round, v;
  Outline bar;
  double ms[RUNS];
  size_t unknowns;
  connector_draw(&sharp, roof_shape(0.2, 0, 0), 3.2, 0.8);
  connector_draw(&round, roof_shape(0.6, 0, 0), 3.2, 1.0);
  connector_draw(&v, roof_shape(0.2, 0, 60), 3.2, 0.8);
  notched_bar(&bar, 2.5, 0.6, 5.5, 0, false);
  int bad = 0;
  LoftInput even = connector_input(&round);
  double solid = solid_timing(&even, SOLID_LIVE, ms, RUNS, &unknowns);
  bad += !(solid > 0);
  printf("%-20s %8s %7s %8s %9s %9s %9s %8s\n", "plane", "fineness", "nodes", "error %", "best ms",
         "median ms", "us a node", "/ solid");
  bad += table("connector, r 0.2", &sharp, NULL, solid);
  bad += table("connector, r 0.6", &round, NULL, solid);
  bad += table("connector, V r 0.2", &v, NULL, solid);
  bad += table("bar, U r 0.6", NULL, &bar, solid);
  connector4_clear(&sharp);
  connector4_clear(&round);
  connector4_clear(&v);
  outline_clear(&bar);
  return bad;
}
