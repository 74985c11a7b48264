/* bench_chance.c - time of the chance of fracture from a field, and of its band.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The weakest connector of a case at rest; its field is solved before the clock starts. */
#include "assess.h"
#include "casefile/case_xml.h"
#include "timing.h"
#include <stdio.h>
#include <stdlib.h>

#define RUNS 31

static void tell(const char *name, double ms[], double wanted)
{
  double middle = timing_median(ms, RUNS);
  printf("%-44s %9.3f %9.3f %9.0f\n", name, ms[0], middle, wanted);
}

int main(int argc, char **argv)
{
  g_autoptr(GError) error = NULL;
  Assessor *assessor = NULL;
  Assessment *a = NULL;
  AssessSettings settings = assess_settings_default();
  double make[RUNS], band[RUNS], quick[RUNS], drivers[RUNS];
  ChanceModel model;
  ChanceDriver driver[CHANCE_INPUTS];
  Case c;
  case_init(&c);
  if (argc != 2 || !case_load(&c, argv[1], &error) || assessor_new(&assessor) ||
      assess(assessor, &c, &settings, &a)) {
    fprintf(stderr, "bench_chance: %s\n", error ? error->message : "name a case file");
    return 1;
  }
  const ConnectorAssessment *k = &a->connector[a->weakest];
  Service service = case_service(&c);
  ZoneSurface surface[ZONE_NECK_N];
  connector_surfaces_now(&a->c.connector[a->weakest], surface);
  double sum = 0; /* keeps the work from being left out */
  for (int i = 0; i < RUNS; i++) {
    gint64 start = g_get_monotonic_time();
    if (chance_model_make(k->field, k->order, &a->c.material, surface, &service, &model))
      exit(1);
    sum += chance_at(&model, NULL).service.chance_percent;
    make[i] = milliseconds_since(start);
    start = g_get_monotonic_time();
    sum += chance_band(&model, CHANCE_DRAWS).chance_percent.high;
    band[i] = milliseconds_since(start);
    start = g_get_monotonic_time();
    sum += chance_band_quick(&model).chance_percent.high;
    quick[i] = milliseconds_since(start);
    start = g_get_monotonic_time();
    sum += (double)chance_drivers(&model, driver);
    drivers[i] = milliseconds_since(start);
  }
  printf("%-44s %9s %9s %9s\n", "chance", "best ms", "median ms", "wanted");
  tell("chance from a field", make, 1);
  tell("band by 2000 draws", band, 50);
  tell("band by squares, for the moving pen", quick, 1);
  tell("drivers", drivers, 1);
  assessment_unref(a);
  assessor_free(assessor);
  case_clear(&c);
  return sum > 0 ? 0 : 1;
}
