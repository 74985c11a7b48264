/* test_plane_connector.c - plane answer of connectors against the converged solid.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa. */
#include "connector_solve.h"
#include "mechanics/plane.h"
#include "proof.h"

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)

static Field *plane_of(const LoftInput *input, PlaneReading *reading)
{
  PlaneWork *work = NULL;
  Field *field = NULL;
  Point where = {0, 0};
  PlaneSettings settings = {205000, 0.31, PLANE_FINENESS};
  ok(plane_work_new(&work));
  ok(plane_connector(work, input, &settings, &field, reading, &where));
  plane_work_free(work);
  return field;
}

static double peak_of(const Field *field, NeckLoad load)
{
  Peak peak;
  ok(field_peak(field, load, &peak));
  return peak.mpa;
}

static void test_table(void)
{
  for (size_t i = 0; i < G_N_ELEMENTS(connector_table); i++) {
    Connector4 c;
    PlaneReading reading;
    connector_table_draw(&connector_table[i], &c);
    LoftInput input = connector_input(&c);
    Field *field = plane_of(&input, &reading);
    double peak = peak_of(field, (NeckLoad){1000, 0});
    g_test_message("row %zu: %.1f of %.1f MPa (%+.1f %%), band %.1f, %zu nodes, %.1f ms", i, peak,
                   connector_table[i].peak, 100 * (peak / connector_table[i].peak - 1),
                   field->band_percent, reading.nodes, 1e3 * field->seconds);
    g_autofree char *what = connector_table_name(&connector_table[i]);
    proof_row(what, connector_table_source, connector_table[i].peak, peak, 5);
    g_assert_cmpfloat(field->band_percent, >=, 5);
    g_assert_cmpint(field->answer, ==, ANSWER_PLANE);
    g_assert_cmpfloat_with_epsilon(reading.neck_height, 4, 1e-3);
    g_assert_cmpfloat_with_epsilon(1 / reading.nominal_per_n_mm,
                                   G_PI * connector_table[i].width / 2, 0.02); /* pi w h^2 / 32 */
    g_assert_cmpfloat(field->correction, >, 1.5); /* an ellipse: 16 / (3 pi) over about 1 */
    field_unref(field);
    connector4_clear(&c);
  }
}

/* Surface and its zones: the same area as the solid's, and the same risk within what a picture in
 * the plane can know. */
static void test_surface(void)
{
  Connector4 c;
  PlaneReading reading;
  connector_draw(&c, roof_shape(0.6, 0, 30), 3.2, 1.0);
  LoftInput input = connector_input(&c);
  Field *flat = plane_of(&input, &reading), *solid = connector_solid(&input, SOLID_LIVE);
  const Field *field[2] = {flat, solid};
  double area[2] = {0, 0}, risk[2] = {0, 0};
  for (int k = 0; k < 2; k++)
    for (size_t i = 0; i < field[k]->n_surface; i++) {
      const SurfacePoint *p = &field[k]->surface[i];
      double s[6];
      for (int d = 0; d < 6; d++)
        s[d] = (double)p->stress[UNIT_BEND][d];
      area[k] += (double)p->area;
      risk[k] += (double)p->area * pow(fmax(0, stress_first(s)), 10);
    }
  g_test_message("area %.2f and %.2f mm2; effective stress ratio %.3f", area[0], area[1],
                 pow(risk[0] / risk[1], 0.1));
  g_assert_cmpfloat(fabs(area[0] / area[1] - 1), <, 0.02);
  g_assert_cmpfloat(fabs(pow(risk[0] / risk[1], 0.1) - 1), <, 0.08);
  field_unref(flat);
  field_unref(solid);
  connector4_clear(&c);
}

/* Seeded shapes that the correction was not fitted on: the solid lies inside both bands. */
static void test_random(void)
{
  GRand *random = g_rand_new_with_seed(20262);
  double sum = 0, worst = 0;
  const int rounds = g_test_slow() ? 60 : 14;
  for (int i = 0; i < rounds; i++) {
    Connector4 c;
    PlaneReading reading;
    connector_random(random, &c);
    LoftInput input = connector_input(&c);
    Field *flat = plane_of(&input, &reading),
          *solid = connector_solid(&input, g_test_slow() ? SOLID_FINE : SOLID_LIVE);
    double off =
        100 * (peak_of(flat, (NeckLoad){1000, 0}) / peak_of(solid, (NeckLoad){1000, 0}) - 1);
    if (g_test_verbose() || fabs(off) > 4)
      g_test_message("shape %d: %+.1f %%, bands %.1f and %.1f", i, off, flat->band_percent,
                     solid->band_percent);
    g_assert_cmpfloat(fabs(off), <=, flat->band_percent + solid->band_percent);
    sum += fabs(off);
    worst = fmax(worst, fabs(off));
    field_unref(flat);
    field_unref(solid);
    connector4_clear(&c);
  }
  g_test_message("plane against solid: mean %.1f %%, largest %.1f %%", sum / rounds, worst);
  g_assert_cmpfloat(sum / rounds, <, 3);
  g_rand_free(random);
}

/* Mirror images answer alike, and shear changes sign with the side. */
static void test_mirror(void)
{
  Connector4 c;
  PlaneReading reading;
  NotchShape shape = {-2, -1, 0.3, 0, 60, 10, 2.5, 6, 7};
  connector_draw(&c, shape, 3.2, 0.8);
  LoftInput input = connector_input(&c);
  Field *one = plane_of(&input, &reading);
  outline_mirror(&c.gingival, 0);
  outline_mirror(&c.occlusal, 0);
  outline_mirror(&c.buccal, 0);
  outline_mirror(&c.lingual, 0);
  Field *two = plane_of(&input, &reading);
  double a = peak_of(one, (NeckLoad){1000, 300}), b = peak_of(two, (NeckLoad){1000, -300});
  g_assert_cmpfloat(fabs(a / b - 1), <, 0.01);
  g_assert_cmpfloat(fabs(a / peak_of(two, (NeckLoad){1000, 300}) - 1), >, 0.005);
  field_unref(one);
  field_unref(two);
  connector4_clear(&c);
}

/* An undercut whose ribs fold still has an answer, with a wider band. */
static void test_undercut(void)
{
  Connector4 c;
  PlaneReading reading;
  connector_draw(&c, roof_shape(0.6, 0, 0), 3.2, 1.0);
  outline_clear(&c.gingival);
  outline_init(&c.gingival);
  const Corner corner[] = {
      {-8, -4.5, 0},  {-0.6, -4.5, 0.1}, {-0.5, -3.8, 0.1}, {-1.6, -3.0, 0.3}, {-1.4, -2, 0.4},
      {1.4, -2, 0.4}, {1.6, -3.0, 0.3},  {0.5, -3.8, 0.1},  {0.6, -4.5, 0.1},  {8, -4.5, 0}};
  ok(outline_from_corners(&c.gingival, corner, G_N_ELEMENTS(corner)));
  LoftInput input = connector_input(&c);
  Field *field = plane_of(&input, &reading);
  double peak = peak_of(field, (NeckLoad){1000, 0});
  g_test_message("undercut: %.1f MPa, band %.1f", peak, field->band_percent);
  g_assert_cmpfloat(peak, >, 198.9 * 0.9); /* the neck's M c / I */
  g_assert_cmpfloat(peak, <, 700);
  g_assert_cmpuint(field->n_surface, >, 500);
  field_unref(field);
  connector4_clear(&c);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/plane-connector/table", test_table);
  g_test_add_func("/plane-connector/surface", test_surface);
  g_test_add_func("/plane-connector/random", test_random);
  g_test_add_func("/plane-connector/mirror", test_mirror);
  g_test_add_func("/plane-connector/undercut", test_undercut);
  return g_test_run();
}
