/* bench_bridge.c - time of the whole bridge: a load that moves, an outline that changes, the
 * comparison with the beam. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * On one core, raster of the span strip included (1072 x 252 px at one and two pixels a px). Wanted
 * of six units: a moved load in 8 ms, which leaves half of a 60th of a second to the window, a
 * changed outline in 100 ms.  Ratios are to the live solid of one neck in the same run. */
#include "../core/case_files.h"
#include "timing.h"
#include "ui/drawing/picture_span.h"
#include <stdio.h>

#define RUNS 60
#define MOVED_WANTED_MS 8.0
#define OUTLINE_WANTED_MS 100.0

static void quit_when(bool bad, const char *what)
{
  if (bad) {
    fprintf(stderr, "bench_bridge: %s\n", what);
    exit(1);
  }
}

static Assessment *demo_assessed(Assessor *assessor, const char *name)
{
  AssessSettings settings = assess_settings_default();
  Assessment *a = NULL;
  Case c;
  settings.grade = ASSESS_LIVE;
  demo_load(&c, name);
  quit_when(assess(assessor, &c, &settings, &a), "no assessment");
  case_clear(&c);
  return a;
}

/* One picture, as the worker of the strip makes it. */
static double picture_ms(FlatBridge *flat, Assessment *a, double resolution)
{
  DrawContext context = {.palette = PALETTE_LIGHT, .scale = 1, .resolution = resolution};
  SpanPicture picture = span_picture(a);
  Point where;
  gint64 start = g_get_monotonic_time();
  quit_when(flat_bridge_show(flat, a, false, &where), "no picture");
  picture.flat = flat;
  cairo_surface_destroy(span_shade(&picture, 1072, 252, &context));
  return milliseconds_since(start);
}

static void tell(const char *what, size_t units, size_t nodes, double ms[], size_t n, double wanted,
                 double solid)
{
  double middle = timing_median(ms, n);
  printf("%-34s %6zu %7zu %9.2f %9.2f %9.1f %9.0f %8.2f %s\n", what, units, nodes, ms[0], middle,
         1000 / middle, wanted, middle / solid, middle <= wanted ? "kept" : "MISSED");
}

static void bridge_measure(Assessor *assessor, const char *name, double solid)
{
  Assessment *a = demo_assessed(assessor, name);
  FlatBridge *flat = flat_bridge_new();
  double ms[RUNS];
  const float *share;
  picture_ms(flat, a, 1);
  size_t units = a->c.n_unit, vertices = flat_bridge_sheet(flat, &share)->n_vertex;
  for (int fine = 1; fine <= 2; fine++) {
    for (int i = 0; i < RUNS; i++) {
      a->trial_x = a->span_length * (i + 0.5) / RUNS;
      ms[i] = picture_ms(flat, a, fine);
    }
    tell(fine == 1 ? "moved load" : "moved load, two pixels a px", units, vertices, ms, RUNS,
         MOVED_WANTED_MS, solid);
  }
  for (int i = 0; i < RUNS / 3; i++) {
    double lower[6] = {1, 0, 0, 1 - 1e-4, 0, 0};
    outline_transform(&a->c.connector[1].side[SIDE_GINGIVAL], lower);
    ms[i] = picture_ms(flat, a, 1);
  }
  tell("changed outline", units, vertices, ms, RUNS / 3, OUTLINE_WANTED_MS, solid);
  flat_bridge_free(flat);
  assessment_unref(a);
}

/* The answer that goes before every picture of a dragged load: shapes known, the load elsewhere. */
static void live_measure(Assessor *assessor, const char *name, double solid)
{
  AssessSettings settings = assess_settings_default();
  double ms[RUNS];
  Case c;
  settings.grade = ASSESS_LIVE;
  demo_load(&c, name);
  for (int i = -1; i < RUNS; i++) {
    Assessment *a = NULL;
    c.trial.x = 1 + 0.3 * i;
    gint64 start = g_get_monotonic_time();
    quit_when(assess(assessor, &c, &settings, &a), "no assessment");
    if (i >= 0)
      ms[i] = milliseconds_since(start);
    assessment_unref(a);
  }
  tell("live answer, moved load", c.n_unit, 0, ms, RUNS, 1000.0 / 60, solid);
  case_clear(&c);
}

/* What the comparison adds to an answer at rest whose fields are kept. */
static void compare_measure(Assessor *assessor, const char *name, double solid)
{
  AssessSettings settings = assess_settings_default();
  Case c;
  demo_load(&c, name);
  size_t units = c.n_unit;
  for (int whole = 0; whole < 2; whole++) {
    double ms[RUNS / 3];
    for (int i = -1; i < RUNS / 3; i++) {
      Assessment *a = NULL;
      settings.whole_bridge = whole;
      gint64 start = g_get_monotonic_time();
      quit_when(assess(assessor, &c, &settings, &a), "no assessment");
      if (i >= 0)
        ms[i] = milliseconds_since(start);
      assessment_unref(a);
    }
    tell(whole ? "at rest, moments compared" : "at rest, shapes known", units, 0, ms, RUNS / 3, 150,
         solid);
  }
  case_clear(&c);
}

int main(void)
{
  Assessor *assessor = NULL;
  double ms[RUNS / 3];
  size_t unknowns;
  quit_when(assessor_new(&assessor), "no memory");
  Assessment *a = demo_assessed(assessor, "demo/QB-02.xml");
  const Outline *side = a->c.connector[1].side;
  LoftInput neck = {&side[SIDE_GINGIVAL],
                    &side[SIDE_OCCLUSAL],
                    &side[SIDE_BUCCAL],
                    &side[SIDE_LINGUAL],
                    a->connector[1].form.neck_x,
                    a->c.connector[1].roundness_neck,
                    a->c.connector[1].roundness_body};
  double solid = solid_timing(&neck, SOLID_LIVE, ms, RUNS / 3, &unknowns);
  assessment_unref(a);
  quit_when(!(solid > 0), "no solid");
  printf("%-34s %6s %7s %9s %9s %9s %9s %8s\n", "whole bridge", "units", "nodes", "best ms",
         "median ms", "a second", "wanted ms", "/ solid");
  bridge_measure(assessor, "demo/QB-01.xml", solid);
  bridge_measure(assessor, "demo/QB-02.xml", solid);
  bridge_measure(assessor, "demo/QB-04.xml", solid);
  live_measure(assessor, "demo/QB-04.xml", solid);
  compare_measure(assessor, "demo/QB-04.xml", solid);
  assessor_free(assessor);
  return 0;
}
