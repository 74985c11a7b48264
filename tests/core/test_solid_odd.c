/* test_solid_odd.c - sideways bending and twist of the solid: closed forms, statics, symmetries.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa. */
#include "connector_solve.h"

static const Source statics = {"statics", EXACT};

/* sideways and twist in N mm. */
static double peak_of(const Field *field, double sideways, double twist)
{
  Peak peak;
  g_assert_cmpint(field->pair, ==, PAIR_ODD);
  g_assert_cmpint(field_peak(field, (NeckLoad){sideways, twist}, &peak), ==, FAULT_NONE);
  return peak.mpa;
}

static Field *solve_odd(const LoftInput *input, SolidGrade grade)
{
  Loft *loft = NULL;
  SolidWork *work = NULL;
  Field *field = NULL;
  SolidSettings settings = {205000, 0.31, grade, NULL, NULL};
  g_assert_cmpint(loft_new(input, &loft, NULL), ==, FAULT_NONE);
  g_assert_cmpint(solid_work_new(&work), ==, FAULT_NONE);
  g_assert_cmpint(solid_solve_odd(work, loft, &settings, &field, NULL), ==, FAULT_NONE);
  loft_free(loft);
  solid_work_free(work);
  return field;
}

/* Straight bar, h high and w wide. */
static void bar_draw(Connector4 *c, double h, double w)
{
  const double level[4] = {-h / 2, h / 2, w / 2, -w / 2};
  Outline *outline[4] = {&c->gingival, &c->occlusal, &c->buccal, &c->lingual};
  for (int k = 0; k < 4; k++) {
    outline_init(outline[k]);
    g_assert_cmpint(outline_move_to(outline[k], point(-6, level[k])), ==, FAULT_NONE);
    g_assert_cmpint(outline_line_to(outline[k], point(6, level[k])), ==, FAULT_NONE);
  }
}

/* Elliptic bars: M c / I about the upright axis, and Saint-Venant's twist, 2 T / (pi a b^2) at the
 * ends of the shorter axis (there the first principal stress is the shear stress). */
static void test_bars(void)
{
  const Source bending = {"bending of a straight bar, M c / I", EXACT},
               twisting = {"Saint-Venant torsion of an ellipse, 2 T / (pi a b^2)", EXACT};
  const double size[3][2] = {{3, 2.4}, {2.4, 3}, {3, 3}};
  for (size_t i = 0; i < G_N_ELEMENTS(size); i++) {
    Connector4 c;
    double h = size[i][0], w = size[i][1], a = fmax(h, w) / 2, b = fmin(h, w) / 2;
    bar_draw(&c, h, w);
    LoftInput input = connector_input(&c);
    input.roundness_body = 2;
    Field *field = solve_odd(&input, SOLID_LIVE);
    g_autofree char *aside = g_strdup_printf("elliptic bar %g high, %g wide, bent sideways", h, w),
                    *turned = g_strdup_printf("elliptic bar %g high, %g wide, twisted", h, w);
    proof_row(aside, bending, 32000 / (G_PI * h * w * w), peak_of(field, 1000, 0), 1);
    proof_row(aside, bending, 32000 / (G_PI * h * w * w), peak_of(field, -1000, 0), 1);
    proof_row(turned, twisting, 2000 / (G_PI * a * b * b), peak_of(field, 0, 1000), 2);
    field_unref(field);
    connector4_clear(&c);
  }
}

/* Resultants over the sheet of the neck; its chords lie inside the ellipse. */
static void resultants(const Field *field, int load, double *sideways, double *twist)
{
  const FieldSheet *sheet = &field->sheet[SHEET_NECK];
  *sideways = *twist = 0;
  for (size_t i = 0; i < sheet->n_triangle; i++) {
    const uint32_t *k = sheet->corner[i];
    Point p = sheet->at[k[0]], q = sheet->at[k[1]], r = sheet->at[k[2]];
    double size = fabs(point_cross(point_sub(q, p), point_sub(r, p))) / 2;
    for (int j = 0; j < 3; j++) {
      float *s = sheet->stress[k[j]][load];
      double z = sheet->at[k[j]].x, y = sheet->at[k[j]].y;
      *sideways += size / 3 * (double)s[0] * z;
      *twist += size / 3 * (y * (double)s[5] - z * (double)s[3]);
    }
  }
}

static void test_resultants(void)
{
  for (int even = 0; even < 2; even++) {
    Connector4 c;
    NotchShape lop = {-2, -1, 0.6, 0, 10, 30, 2.5, 7, 8};
    connector_draw(&c, even ? roof_shape(0.6, 0, 20) : lop, 3.2, 1.0);
    LoftInput input = connector_input(&c);
    Field *field = solve_odd(&input, SOLID_LIVE);
    double sideways, twist;
    resultants(field, UNIT_SIDEWAYS, &sideways, &twist);
    const char *form = even ? "even connector" : "uneven connector";
    g_autofree char *bend = g_strdup_printf("%s, moment over the neck of sideways bending", form),
                    *turn = g_strdup_printf("%s, moment over the neck of twist", form);
    proof_row(bend, statics, 1, sideways, 4);
    g_assert_cmpfloat_with_epsilon(twist, 0, 0.02);
    resultants(field, UNIT_TWIST, &sideways, &twist);
    proof_row(turn, statics, 1, twist, 4);
    g_assert_cmpfloat_with_epsilon(sideways, 0, 0.02);
    field_unref(field);
    connector4_clear(&c);
  }
}

/* Quarter, half and full model of nearly the same body; live against fine. */
static void test_models(void)
{
  Connector4 quarter, half, full;
  NotchShape shape = roof_shape(0.6, 0, 20);
  connector_draw(&quarter, shape, 3.2, 1.0);
  shape.right += 0.02;
  connector_draw(&half, shape, 3.2, 1.0);
  connector_draw(&full, shape, 3.2, 1.0);
  double out[6] = {1, 0, 0, 1, 0, 0.01};
  outline_transform(&full.buccal, out);
  outline_transform(&full.lingual, out);
  LoftInput input[3] = {connector_input(&quarter), connector_input(&half), connector_input(&full)};
  Field *field[4] = {solve_odd(&input[0], SOLID_LIVE), solve_odd(&input[1], SOLID_LIVE),
                     solve_odd(&input[2], SOLID_FULL), solve_odd(&input[0], SOLID_FINE)};
  const double load[3][2] = {{1000, 0}, {0, 1000}, {700, 500}};
  for (size_t i = 0; i < G_N_ELEMENTS(load); i++) {
    double first = peak_of(field[0], load[i][0], load[i][1]);
    for (int k = 1; k < 4; k++) {
      double other = peak_of(field[k], load[i][0], load[i][1]);
      g_test_message("sideways %g twist %g model %d: %.3f %.3f", load[i][0], load[i][1], k, first,
                     other);
      g_assert_cmpfloat(fabs(other / first - 1), <, k == 1 ? 1e-3 : k == 2 ? 1e-2 : 3e-2);
    }
  }
  for (int k = 1; k < 3; k++) {
    g_assert_cmpuint(field[k]->unknowns, >, field[k - 1]->unknowns);
    g_assert_cmpuint(field[k]->n_surface, >, 0);
  }
  for (int k = 0; k < 4; k++)
    field_unref(field[k]);
  connector4_clear(&quarter);
  connector4_clear(&half);
  connector4_clear(&full);
}

/* Even and odd fields share their points, so that both pairs can be added up. */
static void test_same_points(void)
{
  Connector4 c;
  connector_draw(&c, (NotchShape){-2, -1, 0.4, 0, 10, 40, 2.5, 7, 8}, 3.2, 1.0);
  LoftInput input = connector_input(&c);
  Field *even = connector_solid(&input, SOLID_LIVE), *odd = solve_odd(&input, SOLID_LIVE);
  g_assert_cmpint(even->pair, ==, PAIR_EVEN);
  g_assert_cmpuint(even->n_candidate, ==, odd->n_candidate);
  for (size_t i = 0; i < even->n_candidate; i++) {
    Vec3 a = even->candidate[i].at, b = odd->candidate[i].at;
    g_assert_true(a.x == b.x && a.y == b.y && a.z == b.z);
  }
  g_assert_cmpuint(even->n_surface, ==, odd->n_surface);
  for (int k = 0; k < SHEET_N; k++)
    g_assert_cmpuint(even->sheet[k].n_vertex, ==, odd->sheet[k].n_vertex);
  field_unref(even);
  field_unref(odd);
  connector4_clear(&c);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/solid-odd/bars", test_bars);
  g_test_add_func("/solid-odd/resultants", test_resultants);
  g_test_add_func("/solid-odd/models", test_models);
  g_test_add_func("/solid-odd/same-points", test_same_points);
  return g_test_run();
}
