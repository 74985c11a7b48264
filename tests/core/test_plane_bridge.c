/* test_plane_bridge.c - the whole bridge in the plane against solids, statics and the beam.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, N mm. */
#include <glib.h>
#include "base/dense.h"
#include "mechanics/plane_bridge.h"

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)
#define GROWTH_MM 1.5 /* half length of the notch of the reference bridge */

/* The half height or width grows from neck to body as cos^2. */
static void grown(Outline *o, double neck, double body, double left, double right)
{
  const int n = 40;
  const double step = 2 * GROWTH_MM / n, k = G_PI / GROWTH_MM;
  outline_init(o);
  ok(outline_move_to(o, point(-left, body)));
  ok(outline_line_to(o, point(-GROWTH_MM, body)));
  for (int i = 1; i <= n; i++) {
    Point end[2];
    double slope[2];
    for (int e = 0; e < 2; e++) {
      double x = -GROWTH_MM + step * (i - 1 + e);
      end[e] = point(x, body + (neck - body) * (1 + cos(k * x)) / 2);
      slope[e] = -(neck - body) * k * sin(k * x) / 2;
    }
    ok(outline_curve_to(o, point(end[0].x + step / 3, end[0].y + slope[0] * step / 3),
                        point(end[1].x - step / 3, end[1].y - slope[1] * step / 3), end[1]));
  }
  ok(outline_line_to(o, point(right, body)));
}

typedef struct {
  Outline line[2][4];
  BridgeInput input;
} Reference;

/* Reference bridge of the feasibility study: necks 4 x 3.2, 10 mm apart, bodies 8 high from -4.5,
 * supports 4.5 and 15.5 mm from the first neck. */
static void reference(Reference *r, double fineness)
{
  static const double length[3] = {9, 10, 11};
  static const double neck[4] = {-2, 2, 1.6, -1.6}, body[4] = {-4.5, 3.5, 4, -4};
  r->input = (BridgeInput){.n_unit = 3, .young_mpa = 205e3, .poisson = 0.31, .fineness = fineness};
  double x = 0;
  for (size_t i = 0; i < 3; i++) {
    BridgeUnit unit = {x,  x + length[i],    -4.5, 3.5, i != 1, {3000, 50e3}, 1000,
                       13, STUMP_DENTINE_MPA};
    r->input.unit[i] = unit;
    x += length[i];
    if (i == 2)
      break;
    for (int k = 0; k < 4; k++)
      grown(&r->line[i][k], neck[k], body[k], length[i] / 2, length[i + 1] / 2);
    Outline *line = r->line[i];
    r->input.neck[i] = (BridgeNeck){x, {&line[0], &line[1], &line[2], &line[3], 0, 2, 4}};
  }
}

static void reference_clear(Reference *r)
{
  for (int i = 0; i < 2; i++)
    for (int k = 0; k < 4; k++)
      outline_clear(&r->line[i][k]);
}

static BridgePlane *made(const BridgeInput *input)
{
  BridgePlane *bridge = NULL;
  Point where;
  ok(bridge_plane_new(input, &bridge, &where));
  return bridge;
}

static double moment_at(BridgePlane *bridge, double load_x, double x)
{
  SpanLoad load = {load_x, 550};
  double moment, shear;
  ok(bridge_plane_load(bridge, &load, 1));
  bridge_plane_action(bridge, x, 0, &moment, &shear);
  return moment;
}

/* Mid support, solid finite elements of the feasibility study: within 6 % where the moment is
 * largest, within 11 % wherever it exceeds half of that. */
static void test_reference(void)
{
  static const double at[9] = {4, 6, 8, 10, 13, 16, 18, 20, 24};
  static const double wanted[2][9] = {{373, 1047, 1745, 1445, 1006, 575, 294, 99, -252},
                                      {-127, 85, 317, 636, 1125, 1622, 1960, 1297, 17}};
  Reference r;
  reference(&r, BRIDGE_FINENESS);
  BridgePlane *bridge = made(&r.input);
  for (int k = 0; k < 2; k++)
    for (int i = 0; i < 9; i++) {
      double w = wanted[k][i], m = moment_at(bridge, at[i] + 1, 9 + 10 * k);
      g_test_message("M%d(%g) %.0f, solid %.0f", k + 1, at[i], m, w);
      double tolerance = w > 1700 ? 0.06 * w : w > 900 ? 0.11 * w : 125;
      g_assert_cmpfloat_with_epsilon(m, w, tolerance);
    }
  bridge_plane_free(bridge);
  reference_clear(&r);
}

/* Rigid hinges that slide: statically determinate, 550 * 4.5 * 15.5 / 20 = 1918 and 2193, whatever
 * the mesh. */
static void test_pinned(void)
{
  Reference r;
  reference(&r, BRIDGE_FINENESS);
  for (size_t i = 0; i < 3; i += 2) {
    r.input.unit[i].spring = (SpanSpring){INFINITY, 0};
    r.input.unit[i].lateral_n_mm = 0;
  }
  BridgePlane *bridge = made(&r.input);
  /* the load is pressed on 1.6 mm: half of it stands on either side of the cut */
  double first = moment_at(bridge, 9, 9), second = moment_at(bridge, 19, 19);
  double patch = 550 * 0.8 / 6; /* a hat of half width w: F w / 6 less at its middle */
  g_test_message("%.1f and %.1f", first + patch, second + patch);
  g_assert_cmpfloat(fabs((first + patch) / (550 * 4.5 * 15.5 / 20) - 1), <, 0.01);
  g_assert_cmpfloat(fabs((second + patch) / (550 * 5.5 * 14.5 / 20) - 1), <, 0.01);
  /* beside the cut the patch does not matter */
  g_assert_cmpfloat(fabs(moment_at(bridge, 14, 9) / (550 * 10.5 / 20 * 4.5) - 1), <, 0.002);
  bridge_plane_free(bridge);
  reference_clear(&r);
}

/* The picture: all forces balance, gum side stretched under the load, twice the load twice the
 * stress, two loads add. */
static void test_picture(void)
{
  Reference r;
  reference(&r, BRIDGE_FINENESS);
  BridgePlane *bridge = made(&r.input);
  double moment, shear;
  const SpanLoad load[2] = {{9, 300}, {19, 200}};
  const FieldSheet *sheet = bridge_plane_sheet(bridge);
  g_autofree float *sum = g_new0(float, sheet->n_vertex);
  for (int i = 0; i < 2; i++) {
    ok(bridge_plane_load(bridge, &load[i], 1));
    bridge_plane_action(bridge, 1e3, 0, &moment, &shear);
    g_assert_cmpfloat(fabs(moment), <, 0.01);
    g_assert_cmpfloat(fabs(shear), <, 1e-6);
    for (size_t k = 0; k < sheet->n_vertex; k++)
      sum[k] += sheet->stress[k][UNIT_BEND][0];
  }
  ok(bridge_plane_load(bridge, load, 2));
  double largest = 0, off = 0, low = 0, high = 0;
  for (size_t k = 0; k < sheet->n_vertex; k++) {
    double s = (double)sheet->stress[k][UNIT_BEND][0];
    largest = fmax(largest, fabs(s));
    off = fmax(off, fabs(s - (double)sum[k]));
    if (fabs(sheet->at[k].x - 9) < 0.3 && sheet->at[k].y < -1.8)
      low = fmax(low, s);
    if (fabs(sheet->at[k].x - 9) < 0.3 && sheet->at[k].y > 1.5)
      high = fmin(high, s);
  }
  g_assert_cmpfloat(off, <, 1e-4 * largest);
  g_assert_cmpfloat(low, >, 20);
  g_assert_cmpfloat(high, <, -20);
  bridge_plane_free(bridge);
  reference_clear(&r);
}

static void test_refusals(void)
{
  Reference r;
  BridgePlane *bridge = NULL;
  Point where;
  reference(&r, BRIDGE_FINENESS);
  BridgeInput input = r.input;
  input.unit[0].supported = input.unit[2].supported = false;
  g_assert_cmpint(bridge_plane_new(&input, &bridge, &where), ==, FAULT_SUPPORT);
  input = r.input;
  input.n_unit = 1;
  g_assert_cmpint(bridge_plane_new(&input, &bridge, &where), ==, FAULT_RANGE);
  input = r.input;
  input.poisson = NAN;
  g_assert_cmpint(bridge_plane_new(&input, &bridge, &where), ==, FAULT_RANGE);
  input = r.input;
  input.unit[1].x1 = input.unit[1].x0;
  g_assert_cmpint(bridge_plane_new(&input, &bridge, &where), ==, FAULT_RANGE);
  g_assert_null(bridge);
  bridge = made(&r.input);
  SpanLoad load = {NAN, 550};
  g_assert_cmpint(bridge_plane_load(bridge, &load, 1), ==, FAULT_NOT_FINITE);
  load.x = -100; /* beyond the end: the end */
  ok(bridge_plane_load(bridge, &load, 1));
  bridge_plane_free(bridge);
  reference_clear(&r);
}

static void test_dense(void)
{
  double a[9] = {0, 2, 1, 4, 1, 0, 2, 0, 3}, b[3] = {7, 6, 11}; /* x = 1, 2, 3 */
  ok(dense_solve(3, a, b));
  for (int i = 0; i < 3; i++)
    g_assert_cmpfloat_with_epsilon(b[i], i + 1, 1e-12);
  double flat[4] = {1, 2, 2, 4}, c[2] = {1, 2};
  g_assert_cmpint(dense_solve(2, flat, c), ==, FAULT_SINGULAR);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/plane-bridge/dense", test_dense);
  g_test_add_func("/plane-bridge/reference", test_reference);
  g_test_add_func("/plane-bridge/pinned", test_pinned);
  g_test_add_func("/plane-bridge/picture", test_picture);
  g_test_add_func("/plane-bridge/refusals", test_refusals);
  return g_test_run();
}
