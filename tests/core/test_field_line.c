/* test_field_line.c - the stress at a place of the gum-side line.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa.  Outside: M c / I of a straight bar; converged solids of two codes; the fine mesh. */
#include "mechanics/field_line.h"
#include "connector_solve.h"

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)

static const NeckLoad bent = {1000, 0, 0, 0, 0}, squeezed = {-1000, 0, 0, 0, 0};

/* A straight elliptic bar 3 x 2.4: 32 M / (pi w h^2) all along. */
static void test_bar(void)
{
  Connector4 c = {0};
  const double level[4] = {-1.5, 1.5, 1.2, -1.2};
  Outline *outline[4] = {&c.gingival, &c.occlusal, &c.buccal, &c.lingual};
  for (int k = 0; k < 4; k++) {
    outline_init(outline[k]);
    ok(outline_move_to(outline[k], point(-6, level[k])));
    ok(outline_line_to(outline[k], point(6, level[k])));
  }
  LoftInput input = connector_input(&c);
  input.roundness_body = 2;
  Field *field = connector_solid(&input, SOLID_LIVE);
  double exact = 32000 / (G_PI * 2.4 * 9);
  const Source bending = {"bending of a straight bar, M c / I", EXACT};
  static const double x[] = {-1.1, -0.4, 0, 0.2, 0.93};
  for (size_t i = 0; i < G_N_ELEMENTS(x); i++) {
    Banded mpa;
    double t = (x[i] + 6) / 12;
    ok(field_stress_at(field, bent, &c.gingival, t, &mpa));
    g_autofree char *name = g_strdup_printf("elliptic bar, pull below at x = %g", x[i]);
    proof_row(name, bending, exact, mpa.value, 1);
    g_assert_cmpfloat(mpa.low, <=, exact);
    g_assert_cmpfloat(mpa.high, >=, exact);
    ok(field_stress_at(field, squeezed, &c.gingival, t, &mpa));
    g_autofree char *under = g_strdup_printf("elliptic bar, squeeze below at x = %g", x[i]);
    proof_row(under, bending, -exact, mpa.value, 1);
  }
  field_unref(field);
  connector4_clear(&c);
}

/* Where the hot spot lies it is the peak, and that is the table's. */
static void test_hot_spot(void)
{
  for (size_t i = 0; i < G_N_ELEMENTS(connector_table); i++) {
    Connector4 c = {0};
    connector_table_draw(&connector_table[i], &c);
    LoftInput input = connector_input(&c);
    Field *field = connector_solid(&input, SOLID_LIVE);
    Peak peak;
    Banded mpa;
    ok(field_peak(field, bent, &peak));
    g_assert_cmpfloat(fabs(peak.at.z), <, 1e-6); /* on the line */
    double t = outline_nearest(&c.gingival, point(peak.at.x, peak.at.y), NULL);
    ok(field_stress_at(field, bent, &c.gingival, t, &mpa));
    g_assert_cmpfloat_with_epsilon(mpa.value, peak.mpa, 1e-6 * peak.mpa);
    g_autofree char *name = connector_table_name(&connector_table[i]),
                    *place = g_strdup_printf("read on the line, %s", name);
    proof_row(place, connector_table_source, connector_table[i].peak, mpa.value, 3);
    g_assert_cmpfloat(mpa.low, <=, connector_table[i].peak);
    g_assert_cmpfloat(mpa.high, >=, connector_table[i].peak);
    field_unref(field);
    connector4_clear(&c);
  }
}

/* All along the line the live mesh and the fine one agree within both bands. */
static void test_meshes(void)
{
  const NeckLoad load = {1000, 120, 0, 0, 0};
  Connector4 c = {0};
  connector_draw(&c, roof_shape(0.4, 0, 40), 3.2, 0.9);
  LoftInput input = connector_input(&c);
  Field *live = connector_solid(&input, SOLID_LIVE), *fine = connector_solid(&input, SOLID_FINE);
  size_t read = 0;
  double pieces = (double)outline_pieces(&c.gingival), most = 0;
  for (int i = 0; i <= 200; i++) {
    Banded a, b;
    double t = pieces * i / 200;
    Fault fault = field_stress_at(live, load, &c.gingival, t, &a);
    if (fault == FAULT_RANGE) /* beyond the feet */
      continue;
    ok(fault);
    if (field_stress_at(fine, load, &c.gingival, t, &b))
      continue;
    g_test_message("t %.3f: live %.1f (%.1f-%.1f), fine %.1f", t, a.value, a.low, a.high, b.value);
    g_assert_cmpfloat(a.low, <=, b.high);
    g_assert_cmpfloat(a.high, >=, b.low);
    most = fmax(most, a.value);
    read++;
  }
  g_assert_cmpuint(read, >, 100);
  Peak peak;
  ok(field_peak(live, load, &peak));
  g_assert_cmpfloat(most, <=, peak.mpa * (1 + 1e-9));
  g_assert_cmpfloat(most, >, 0.95 * peak.mpa);
  Banded mpa = {7, 7, 7};
  g_assert_cmpint(field_stress_at(live, load, &c.gingival, 0, &mpa), ==, FAULT_RANGE);
  g_assert_cmpint(field_stress_at(live, load, &c.gingival, NAN, &mpa), ==, FAULT_NOT_FINITE);
  const NeckLoad twisted = {1000, 0, 0, 0, 100}; /* this field knows nothing of twist */
  g_assert_cmpint(field_stress_at(live, twisted, &c.gingival, pieces / 2, &mpa), ==, FAULT_RANGE);
  g_assert_cmpint(field_stress_at(NULL, load, &c.gingival, 1, &mpa), ==, FAULT_DEGENERATE);
  g_assert_cmpfloat(mpa.value, ==, 7);
  field_unref(live);
  field_unref(fine);
  connector4_clear(&c);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/field-line/bar", test_bar);
  g_test_add_func("/field-line/hot-spot", test_hot_spot);
  g_test_add_func("/field-line/meshes", test_meshes);
  return g_test_run();
}
