/* test_tilted_neck.c - necks whose narrowest place leans against the upright: readings, bands,
 * nominal stress. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa.  Gum side and biting side are moved apart along the bridge: the roof stands on one
 * side of the plan's notch, the groove on the other. */
#include "connector_solve.h"
#include "mechanics/plane.h"
#include "outline/form.h"

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)
#define SEED 2525
#define SHAPES 10

static void tilt(Connector4 *c, double degrees)
{
  double aside = 2 * tan(degrees * G_PI / 180); /* half of the height of 4 */
  outline_transform(&c->gingival, (const double[6]){1, 0, 0, 1, -aside, 0});
  outline_transform(&c->occlusal, (const double[6]){1, 0, 0, 1, aside, 0});
}

static LoftInput input_of(const Connector4 *c, Form *form)
{
  Point where;
  LoftInput input = connector_input(c);
  ok(form_neck_read(&c->gingival, &c->occlusal, &c->buccal, &c->lingual, form, &where));
  input.neck_x = form->neck_x;
  return input;
}

static double peak_of(const Field *field, NeckLoad load)
{
  Peak peak;
  ok(field_peak(field, load, &peak));
  return peak.mpa;
}

static double lean_of(const Form *form)
{
  Point d = point_sub(form->neck_high, form->neck_low);
  return atan2(d.x, d.y) * 180 / G_PI;
}

/* Two round ends: the shortest way lies on the line of their centres. */
static void test_readings(void)
{
  const Source geometry = {"distance of two circles", EXACT};
  for (int degrees = -25; degrees <= 25; degrees += 10) {
    Connector4 c;
    Form form;
    const double low = 0.6, high = 0.5; /* radii of roof and groove */
    connector_draw(&c, roof_shape(low, 0, 20), 3.2, 1.0);
    tilt(&c, degrees);
    input_of(&c, &form);
    double across = 4 * tan(degrees * G_PI / 180), up = 4 + low + high, centres = hypot(across, up);
    g_autofree char *height = g_strdup_printf("neck tilted by %d degrees, height", degrees),
                    *lean =
                        g_strdup_printf("neck tilted by %d degrees, cosine of its lean", degrees);
    proof_row(height, geometry, centres - low - high, form.neck_height, 0.02);
    proof_row(lean, geometry, up / centres, cos(lean_of(&form) * G_PI / 180), 0.1);
    connector4_clear(&c);
  }
}

/* Ribs lean with the neck, and still end on the outlines. */
static void test_ribs(void)
{
  Connector4 c;
  Form form;
  connector_draw(&c, roof_shape(0.6, 0, 20), 3.2, 1.0);
  tilt(&c, 20);
  LoftInput input = input_of(&c, &form);
  Loft *loft = NULL;
  Point where;
  ok(loft_new(&input, &loft, &where));
  g_assert_cmpfloat(loft_tilt(loft), >, 0.15);
  g_assert_false(loft_mirror_x(loft));
  for (int side = -1; side <= 1; side += 2)
    for (int i = 0; i <= 30; i++) {
      Rib rib = loft_rib(loft, side, i / 10.0);
      double low, high;
      outline_nearest(&c.gingival, rib.gingival, &low);
      outline_nearest(&c.occlusal, rib.occlusal, &high);
      g_assert_cmpfloat(low, <, 1e-3);
      g_assert_cmpfloat(high, <, 1e-3);
      Vec3 end = loft_place(&rib, loft_y0(loft), -1, 0, false);
      g_assert_cmpfloat_with_epsilon(end.x, rib.gingival.x, 1e-9);
      g_assert_cmpfloat_with_epsilon(rib_x(&rib, loft_y0(loft), rib.occlusal.y), rib.occlusal.x,
                                     1e-9);
    }
  loft_free(loft);
  connector4_clear(&c);
}

/* Seeded shapes, up to 25 degrees each way: live and plane inside their bands of the fine mesh;
 * where no ribs fit (one in ten at most), the plane answers. */
static void test_bands(void)
{
  const Source mesh = {"the same shape on the fine mesh", SOLVER};
  GRand *random = g_rand_new_with_seed(SEED);
  PlaneWork *work = NULL;
  int folded = 0;
  ok(plane_work_new(&work));
  for (int i = 0; i < SHAPES; i++) {
    Connector4 c;
    Form form;
    connector_random(random, &c);
    double degrees = i < 2 ? (i ? -25 : 25) : g_rand_double_range(random, -25, 25);
    tilt(&c, degrees);
    LoftInput input = input_of(&c, &form);
    Loft *loft = NULL;
    Point where;
    PlaneReading reading;
    PlaneSettings settings = {205000, 0.31, PLANE_FINENESS};
    Field *flat = NULL;
    ok(plane_connector(work, &input, &settings, &flat, &reading, &where));
    if (loft_new(&input, &loft, &where)) {
      folded++;
      field_unref(flat);
      connector4_clear(&c);
      continue;
    }
    Field *live = connector_solid(&input, SOLID_LIVE), *fine = connector_solid(&input, SOLID_FINE);
    const NeckLoad load[] = {{1000, 0}, {-1000, 0}, {1000, 150}, {1000, -150}};
    for (size_t k = 0; k < G_N_ELEMENTS(load); k++) {
      double a = peak_of(live, load[k]), b = peak_of(fine, load[k]), p = peak_of(flat, load[k]);
      g_autofree char *what =
          g_strdup_printf("tilted shape %d, %.0f degrees, M %g V %g, live over fine", i, degrees,
                          load[k].moment_n_mm, load[k].shear_n);
      proof_row(what, mesh, b, a, fmin(live->band_percent, 3));
      g_assert_cmpfloat(100 * fabs(p / b - 1), <=, flat->band_percent);
    }
    loft_free(loft);
    field_unref(live);
    field_unref(fine);
    field_unref(flat);
    connector4_clear(&c);
  }
  g_assert_cmpint(folded, <=, 1);
  plane_work_free(work);
  g_rand_free(random);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/tilted_neck/readings", test_readings);
  g_test_add_func("/tilted_neck/ribs", test_ribs);
  g_test_add_func("/tilted_neck/bands", test_bands);
  return g_test_run();
}
