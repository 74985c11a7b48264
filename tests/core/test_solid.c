/* test_solid.c - brick, beam, table of notched connectors, symmetries, resultants, refusals.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa.  Table: feasibility study of this project; core/SOURCES.md "solid". */
#include "connector_solve.h"
#include "mechanics/solid_element.h"
#include "proof.h"

/* A brick bent out of shape; curved edges. */
static void brick_nodes(double at[20][4])
{
  static const double unit[20][3] = {{0, 0, 0},  {1, 0, 0},  {1, 1, 0},  {0, 1, 0},  {.5, 0, 0},
                                     {1, .5, 0}, {.5, 1, 0}, {0, .5, 0}, {0, 0, 1},  {1, 0, 1},
                                     {1, 1, 1},  {0, 1, 1},  {.5, 0, 1}, {1, .5, 1}, {.5, 1, 1},
                                     {0, .5, 1}, {0, 0, .5}, {1, 0, .5}, {1, 1, .5}, {0, 1, .5}};
  for (int a = 0; a < 20; a++) {
    double x = unit[a][0], y = unit[a][1], z = unit[a][2];
    at[a][0] = 1.3 * x + 0.2 * y + 0.07 * sin(3 * a);
    at[a][1] = 0.9 * y + 0.15 * z + 0.06 * cos(5 * a);
    at[a][2] = 1.1 * z - 0.1 * x + 0.05 * sin(7 * a);
    at[a][3] = 0;
  }
}

static void test_brick(void)
{
  BrickTable table;
  Brick brick;
  BrickStiffness stiffness;
  int order[BRICK_NODES]; /* backwards, so that both halves of the matrix are met */
  Elastic m = {2.385, 1.173};
  double at[20][4], volume = 0;
  int worst;
  brick_table_init(&table);
  brick_nodes(at);
  g_assert_cmpfloat(brick_init(&brick, &table, at, 1, &worst), >, 0);
  for (int q = 0; q < BRICK_POINTS; q++)
    volume += brick.volume[q];
  g_assert_cmpfloat(volume, >, 0.5);
  /* linear displacement: load 0 a rigid rotation and shift, load 1 a general strain */
  static const double b[2][3][3] = {
      {{0, -0.31, 0.12}, {0.31, 0, -0.57}, {-0.12, 0.57, 0}},
      {{0.41, 0.13, -0.22}, {0.35, -0.27, 0.19}, {0.11, -0.08, 0.33}}};
  NodeValues u = {{0}}, force = {{0}};
  for (int a = 0; a < 20; a++)
    for (int c = 0; c < 2; c++)
      for (int i = 0; i < 3; i++)
        u[a][3 * c + i] =
            0.7 + b[c][i][0] * at[a][0] + b[c][i][1] * at[a][1] + b[c][i][2] * at[a][2];
  double trace = m.lambda * (0.41 - 0.27 + 0.33), s[UNIT_LOAD_N][6];
  double expected[6] = {trace + 2 * m.mu * 0.41, trace - 2 * m.mu * 0.27, trace + 2 * m.mu * 0.33,
                        m.mu * (0.13 + 0.35),    m.mu * (0.19 - 0.08),    m.mu * (0.11 - 0.22)};
  for (int q = 0; q < BRICK_POINTS + 20; q++) {
    double grad[3][20];
    if (q < BRICK_POINTS)
      memcpy(grad, brick.grad[q], sizeof grad);
    else
      brick_grad_at_node(&table, at, q - BRICK_POINTS, grad);
    brick_stress(grad, m, u, s);
    for (int k = 0; k < 6; k++) {
      g_assert_cmpfloat_with_epsilon(s[0][k], 0, 1e-12);
      g_assert_cmpfloat_with_epsilon(s[1][k], expected[k], 1e-12);
    }
  }
  brick_forces(&brick, m, u, force);
  double sum[3] = {0}, work = 0, energy = 0;
  for (int a = 0; a < 20; a++)
    for (int i = 0; i < 3; i++) {
      g_assert_cmpfloat_with_epsilon(force[a][i], 0, 1e-12);
      sum[i] += force[a][3 + i];
      work += force[a][3 + i] * u[a][3 + i];
    }
  for (int i = 0; i < 3; i++) {
    g_assert_cmpfloat_with_epsilon(sum[i], 0, 1e-12);
    for (int j = 0; j < 3; j++) {
      static const int tensor[3][3] = {{0, 3, 5}, {3, 1, 4}, {5, 4, 2}};
      energy += volume * expected[tensor[i][j]] * b[1][i][j];
    }
  }
  g_assert_cmpfloat_with_epsilon(work, energy, 1e-12);
  /* the stiffness blocks (single precision) give the same forces */
  for (int a = 0; a < 20; a++)
    order[a] = 19 - a;
  brick_stiffness(&brick, m, order, &stiffness);
  for (int a = 0; a < 20; a++) {
    double f[3] = {0};
    for (int e = 0; e < 20; e++) {
      for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++)
          f[i] += (double)(e >= a ? stiffness.k[a][i][j][e] : stiffness.k[e][j][i][a]) *
                  u[order[e]][3 + j];
    }
    for (int i = 0; i < 3; i++)
      g_assert_cmpfloat_with_epsilon(f[i], force[order[a]][3 + i], 2e-5);
  }
  /* carrying a linear field from Gauss points to nodes is exact */
  for (int a = 0; a < 20; a++) {
    double one = 0;
    for (int q = 0; q < BRICK_POINTS; q++)
      one += table.carry[a][q];
    g_assert_cmpfloat_with_epsilon(one, 1, 1e-12);
  }
}

static Field *solve(const Connector4 *c, SolidGrade grade)
{
  LoftInput input = connector_input(c);
  return connector_solid(&input, grade);
}

static double peak_of(const Field *field, double moment, double shear)
{
  Peak peak;
  g_assert_cmpint(field_peak(field, (NeckLoad){moment, shear}, &peak), ==, FAULT_NONE);
  g_assert_cmpfloat(peak.band_percent, >=, 1);
  return peak.mpa;
}

static void table_check(SolidGrade grade, double tolerance_percent)
{
  for (size_t i = 0; i < G_N_ELEMENTS(connector_table); i++) {
    Connector4 c;
    connector_table_draw(&connector_table[i], &c);
    Field *field = solve(&c, grade);
    double peak = peak_of(field, 1000, 0);
    g_test_message("row %zu grade %d: %.1f of %.1f MPa, %.3f s", i, (int)grade, peak,
                   connector_table[i].peak, field->seconds);
    g_autofree char *what = connector_table_name(&connector_table[i]);
    proof_row(what, connector_table_source, connector_table[i].peak, peak, tolerance_percent);
    if (grade == SOLID_LIVE) {
      g_assert_cmpuint(field->unknowns, ==, 2854); /* the mesh of the feasibility study */
      g_assert_cmpuint(
          field->sheet[0].n_vertex + field->sheet[1].n_vertex + field->sheet[2].n_vertex, <, 6000);
    }
    field_unref(field);
    connector4_clear(&c);
  }
}

static void test_table_live(void)
{
  table_check(SOLID_LIVE, 3);
}

static void test_table_fine(void)
{
  table_check(SOLID_FINE, 1);
}

/* A straight elliptic bar: M c / I = 32 M / (pi w h^2), exact. */
static void test_beam(void)
{
  Connector4 c = {0};
  const double level[4] = {-1.5, 1.5, 1.2, -1.2};
  Outline *outline[4] = {&c.gingival, &c.occlusal, &c.buccal, &c.lingual};
  for (int k = 0; k < 4; k++) {
    outline_init(outline[k]);
    g_assert_cmpint(outline_move_to(outline[k], point(-6, level[k])), ==, FAULT_NONE);
    g_assert_cmpint(outline_line_to(outline[k], point(6, level[k])), ==, FAULT_NONE);
  }
  LoftInput input = connector_input(&c);
  input.roundness_body = 2;
  Loft *loft = NULL;
  SolidWork *work = NULL;
  Field *field = NULL;
  SolidSettings settings = {205000, 0.31, SOLID_LIVE, NULL, NULL};
  g_assert_cmpint(loft_new(&input, &loft, NULL), ==, FAULT_NONE);
  g_assert_cmpint(solid_work_new(&work), ==, FAULT_NONE);
  g_assert_cmpint(solid_solve(work, loft, &settings, &field, NULL), ==, FAULT_NONE);
  double exact = 32000 / (G_PI * 2.4 * 9);
  const Source bending = {"bending of a straight bar, M c / I", EXACT};
  proof_row("elliptic bar 3 x 2.4, stretched below", bending, exact, peak_of(field, 1000, 0), 1);
  proof_row("elliptic bar 3 x 2.4, stretched above", bending, exact, peak_of(field, -1000, 0), 1);
  field_unref(field);
  solid_work_free(work);
  loft_free(loft);
  connector4_clear(&c);
}

/* Resultants over the neck section: sums over the triangles of its sheet, which lie inside the
 * ellipse; the shear is the mean stress times the true area. */
static void neck_resultants(const Field *field, UnitLoad load, double *moment, double *shear,
                            double *area)
{
  const FieldSheet *sheet = &field->sheet[SHEET_NECK];
  *moment = *shear = *area = 0;
  for (size_t i = 0; i < sheet->n_triangle; i++) {
    const uint32_t *k = sheet->corner[i];
    Point p = sheet->at[k[0]], q = sheet->at[k[1]], r = sheet->at[k[2]];
    double size = fabs(point_cross(point_sub(q, p), point_sub(r, p))) / 2;
    *area += size;
    for (int j = 0; j < 3; j++) {
      *moment -= size / 3 * (double)sheet->stress[k[j]][load][0] * sheet->at[k[j]].y;
      *shear -= size / 3 * (double)sheet->stress[k[j]][load][3];
    }
  }
}

static void test_resultants(void)
{
  const Source statics = {"statics", EXACT};
  Connector4 c;
  connector_draw(&c, (NotchShape){-2, -1, 0.6, 0, 10, 30, 2.5, 7, 8}, 3.2, 1.0);
  for (int mirrored = 0; mirrored < 2; mirrored++) {
    Connector4 even;
    connector_draw(&even, roof_shape(0.6, 0, 20), 3.2, 1.0);
    Field *field = solve(mirrored ? &even : &c, SOLID_LIVE);
    double moment, shear, area;
    neck_resultants(field, UNIT_BEND, &moment, &shear, &area);
    g_test_message("bend: M %.4f V %.4f area %.4f", moment, shear, area);
    double ellipse = G_PI * 3.2 * 4 / 4;
    g_assert_cmpfloat_with_epsilon(area, ellipse, 0.015 * ellipse); /* 24 chords: 1.1 % less */
    const char *form = mirrored ? "even connector" : "uneven connector";
    g_autofree char *bend = g_strdup_printf("%s, moment over the neck of unit bending", form),
                    *cut = g_strdup_printf("%s, shear over the neck of unit shear", form);
    proof_row(bend, statics, 1, moment, 3);
    g_assert_cmpfloat_with_epsilon(shear, 0, 0.003);
    neck_resultants(field, UNIT_SHEAR, &moment, &shear, &area);
    g_test_message("shear: M %.4f V %.4f", moment, shear);
    proof_row(cut, statics, 1, shear * ellipse / area, 1);
    g_assert_cmpfloat_with_epsilon(moment, 0, 0.03);
    field_unref(field);
    connector4_clear(&even);
  }
  connector4_clear(&c);
}

/* Both arms at the same time: the same figures to the last digit. */
static void test_hands(void)
{
  Connector4 c;
  connector_draw(&c, (NotchShape){-2, -1, 0.4, 0, 10, 40, 2.5, 7, 8}, 3.2, 1.0);
  LoftInput input = connector_input(&c);
  Loft *loft = NULL;
  SolidWork *work = NULL;
  SolidSettings settings = {205000, 0.31, SOLID_LIVE, NULL, NULL};
  g_assert_cmpint(loft_new(&input, &loft, NULL), ==, FAULT_NONE);
  g_assert_cmpint(solid_work_new(&work), ==, FAULT_NONE);
  double peak[2];
  for (int hands = 1; hands <= 2; hands++) {
    Field *field = NULL;
    solid_work_hands(work, hands);
    g_assert_cmpint(solid_solve(work, loft, &settings, &field, NULL), ==, FAULT_NONE);
    peak[hands - 1] = peak_of(field, 1000, 100);
    field_unref(field);
  }
  g_assert_true(memcmp(&peak[0], &peak[1], sizeof peak[0]) == 0);
  solid_work_free(work);
  loft_free(loft);
  connector4_clear(&c);
}

/* Quarter, half and full model of (nearly) the same body.  0.02 mm of length and of side width
 * break the symmetry; the peak must follow smoothly: 3e-4 covers what these 0.02 mm change, 1e-4 is
 * what a live answer is solved to. */
static void test_symmetries(void)
{
  Connector4 quarter, half, full;
  NotchShape longer = roof_shape(0.6, 0, 20);
  connector_draw(&quarter, longer, 3.2, 1.0);
  longer.right += 0.02;
  connector_draw(&half, longer, 3.2, 1.0);
  connector_draw(&full, longer, 3.2, 1.0);
  double out[6] = {1, 0, 0, 1, 0, 0.01}, in[6] = {1, 0, 0, 1, 0, 0.01};
  outline_transform(&full.buccal, out);
  outline_transform(&full.lingual, in);
  Field *field[3] = {solve(&quarter, SOLID_LIVE), solve(&half, SOLID_LIVE),
                     solve(&full, SOLID_FULL)};
  for (int k = 1; k < 3; k++) {
    g_assert_cmpuint(field[k]->unknowns, >, field[k - 1]->unknowns);
    for (int v = -1; v <= 1; v++) {
      double a = peak_of(field[0], 1000, 200 * v), b = peak_of(field[k], 1000, 200 * v);
      g_test_message("V %d: %.4f %.4f", 200 * v, a, b);
      g_assert_cmpfloat(fabs(a / b - 1), <, k == 1 ? 1e-4 : 3e-4);
    }
  }
  for (int k = 0; k < 3; k++)
    field_unref(field[k]);
  connector4_clear(&quarter);
  connector4_clear(&half);
  connector4_clear(&full);
}

/* The surface is whole: its area agrees between quarter and full, zones are present on both sides.
 */
static void test_surface(void)
{
  Connector4 c;
  connector_draw(&c, roof_shape(0.6, 0, 20), 3.2, 1.0);
  Field *field = solve(&c, SOLID_LIVE);
  double area[SURFACE_N] = {0}, x = 0, z = 0;
  for (size_t i = 0; i < field->n_surface; i++) {
    area[field->surface[i].zone] += (double)field->surface[i].area;
    x += (double)field->surface[i].area * field->surface[i].at.x;
    z += (double)field->surface[i].area * field->surface[i].at.z;
  }
  for (int k = 0; k < SURFACE_N; k++)
    g_assert_cmpfloat(area[k], >, 0.5);
  g_assert_cmpfloat_with_epsilon(area[SURFACE_BUCCAL], area[SURFACE_LINGUAL], 1e-4);
  g_assert_cmpfloat_with_epsilon(x, 0, 1e-3);
  g_assert_cmpfloat_with_epsilon(z, 0, 1e-3);
  Peak peak;
  g_assert_cmpint(field_peak(field, (NeckLoad){1000, 0}, &peak), ==, FAULT_NONE);
  g_assert_cmpint(peak.zone, ==, SURFACE_ROOF);
  g_assert_cmpfloat(fabs(peak.direction[0]), >, 0.99);
  g_assert_cmpfloat(peak.mean_mpa, <, peak.mpa);
  g_assert_cmpfloat(peak.mean_mpa, >, 0.6 * peak.mpa);
  g_assert_cmpint(field_peak(field, (NeckLoad){-1000, 0}, &peak), ==, FAULT_NONE);
  g_assert_cmpint(peak.zone, ==, SURFACE_GROOVE);
  field_unref(field);
  connector4_clear(&c);
}

/* Wide flat roof with small corner radii: the live mesh against the fine one, inside its band. */
static void test_flat_roof(void)
{
  Connector4 c;
  connector_draw(&c, roof_shape(0.35, 0.5, 20), 3.2, 1.6);
  Field *live = solve(&c, SOLID_LIVE), *fine = solve(&c, SOLID_FINE);
  double off = fabs(peak_of(live, 1000, 0) / peak_of(fine, 1000, 0) - 1);
  g_test_message("flat roof: %.2f %% off, band %.1f %%", 100 * off, live->band_percent);
  g_assert_cmpfloat(off, <, 0.03);
  g_assert_cmpfloat(100 * off, <, live->band_percent);
  Peak a, b;
  g_assert_cmpint(field_peak(live, (NeckLoad){1000, 0}, &a), ==, FAULT_NONE);
  g_assert_cmpint(field_peak(fine, (NeckLoad){1000, 0}, &b), ==, FAULT_NONE);
  g_test_message("mean over 0.10 mm: %.1f, fine %.1f", a.mean_mpa, b.mean_mpa);
  g_assert_cmpfloat(fabs(a.mean_mpa / b.mean_mpa - 1), <, 0.08);
  field_unref(live);
  field_unref(fine);
  connector4_clear(&c);
}

static int always(void *data)
{
  (void)data;
  return 1;
}

static void test_refusals(void)
{
  Connector4 c;
  connector_draw(&c, roof_shape(0.6, 0, 0), 3.2, 1.0);
  LoftInput input = connector_input(&c);
  Loft *loft = NULL;
  SolidWork *work = NULL;
  Field *field = NULL;
  g_assert_cmpint(loft_new(&input, &loft, NULL), ==, FAULT_NONE);
  g_assert_cmpint(solid_work_new(&work), ==, FAULT_NONE);
  SolidSettings stop = {205000, 0.31, SOLID_LIVE, always, NULL},
                soft = {0, 0.31, SOLID_LIVE, NULL, NULL};
  SolidSettings wide = {205000, 0.5, SOLID_LIVE, NULL, NULL},
                nan = {205000, NAN, SOLID_LIVE, NULL, NULL};
  g_assert_cmpint(solid_solve(work, loft, &stop, &field, NULL), ==, FAULT_CANCELLED);
  g_assert_cmpint(solid_solve(work, loft, &soft, &field, NULL), ==, FAULT_RANGE);
  g_assert_cmpint(solid_solve(work, loft, &wide, &field, NULL), ==, FAULT_RANGE);
  g_assert_cmpint(solid_solve(work, loft, &nan, &field, NULL), ==, FAULT_NOT_FINITE);
  g_assert_null(field);
  solid_work_free(work);
  solid_work_free(NULL);
  loft_free(loft);
  connector4_clear(&c);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/solid/brick", test_brick);
  g_test_add_func("/solid/beam", test_beam);
  g_test_add_func("/solid/table-live", test_table_live);
  g_test_add_func("/solid/table-fine", test_table_fine);
  g_test_add_func("/solid/resultants", test_resultants);
  g_test_add_func("/solid/hands", test_hands);
  g_test_add_func("/solid/symmetries", test_symmetries);
  g_test_add_func("/solid/surface", test_surface);
  g_test_add_func("/solid/flat-roof", test_flat_roof);
  g_test_add_func("/solid/refusals", test_refusals);
  return g_test_run();
}
