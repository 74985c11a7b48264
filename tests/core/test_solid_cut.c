/* test_solid_cut.c - a layer eliminated in cuts against Cholesky of the whole block.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "connector_solve.h"
#include "mesh_bricks.h"
#include "mechanics/solid_layer.h"

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)

typedef struct {
  SolidGrade grade;
  LoadPair pair;
  double open_left_deg, lingual_mm; /* uneven where they differ from 0 */
  double least_saved;               /* of the products of whole blocks, own measure */
} CutSample;

static void shape_draw(Connector4 *c, const CutSample *sample)
{
  connector_draw(c, (NotchShape){-2, -1, 0.5, 0, sample->open_left_deg, 0, 2.5, 8, 8}, 3.2, 1);
  for (size_t i = 0; i < c->lingual.n; i++)
    for (int k = 0; k < 3; k++)
      (&c->lingual.knot[i].at)[k].y -= sample->lingual_mm;
}

/* Column by column, in double: the textbook's Cholesky. */
static double *dense_factor(const float *a, size_t own, size_t ld)
{
  double *l = g_new0(double, own *ld);
  for (size_t j = 0; j < own; j++)
    for (size_t i = j; i < ld; i++)
      l[j * ld + i] = (double)a[j * ld + i];
  for (size_t j = 0; j < own; j++) {
    double *column = l + j * ld, root = sqrt(column[j]);
    g_assert_cmpfloat(column[j], >, 0);
    for (size_t i = j; i < ld; i++)
      column[i] /= root;
    for (size_t k = j + 1; k < own; k++)
      for (size_t i = k; i < ld && (column[k] < 0 || column[k] > 0); i++)
        l[k * ld + i] -= column[k] * column[i];
  }
  return l;
}

static bool cut_holds(const CutList *list, size_t column, size_t row)
{
  for (int i = 0; i < list->n; i++) {
    const Cut *cut = &list->cut[i];
    size_t first = (size_t)cut->columns.first, end = first + (size_t)cut->columns.n;
    if (column < first || column >= end)
      continue;
    if (row < end)
      return true;
    for (int r = 0; r < cut->n; r++)
      if (row - (size_t)cut->rows[r].first < (size_t)cut->rows[r].n)
        return true;
    return false;
  }
  g_assert_not_reached();
}

/* Products of the elimination: half the square of the rows below, for each column. */
static double products(const CutList *list)
{
  double sum = 0;
  for (int i = 0; i < list->n; i++) {
    const Cut *cut = &list->cut[i];
    double rows = cut->columns.n / 2.0;
    for (int r = 0; r < cut->n; r++)
      rows += cut->rows[r].n;
    sum += cut->columns.n * rows * rows / 2;
  }
  return sum;
}

static void layer_check(const SolidMesh *mesh, const Brick *brick, bool last, double least_saved)
{
  CutList list;
  cuts_make(&list, mesh, last);
  size_t own = (size_t)list.own, ld = (size_t)list.ld, section = ld - own;
  int k = last ? mesh->arm[0].layers - 1 : 1;
  float *panel = g_new(float, own *ld), *before = g_new0(float, section *section);
  for (size_t i = 0; i < own * ld; i++)
    panel[i] = NAN; /* what the cuts leave out must not matter */
  cuts_clear(&list, panel);
  Elastic elastic = {0.6, 0.4};
  layer_assemble(mesh, 0, k, brick + k * mesh->pattern.quads, elastic, panel, before, (int)section);
  /* one layer alone would be free to move: springs to ground */
  for (size_t j = 0; j < own; j++)
    panel[j * ld + j] += 0.1F;
  float *whole = g_new0(float, own *ld),
        *left = g_memdup2(before, section * section * sizeof *left);
  for (size_t j = 0; j < own; j++)
    for (size_t i = j; i < ld; i++)
      whole[j * ld + i] = cut_holds(&list, j, i) ? panel[j * ld + i] : 0;
  double *dense = dense_factor(whole, own, ld), worst = 0, top = 0;
  ok(cuts_eliminate(&list, panel, before, (int)section));
  for (size_t j = 0; j < own; j++)
    for (size_t i = j; i < ld; i++)
      if (cut_holds(&list, j, i)) {
        g_assert_true(isfinite(panel[j * ld + i]));
        worst = fmax(worst, fabs((double)panel[j * ld + i] - dense[j * ld + i]));
        top = fmax(top, fabs(dense[j * ld + i]));
      } else
        g_assert_true(!(dense[j * ld + i] < 0 || dense[j * ld + i] > 0));
  for (size_t j = 0; j < section; j += 7)
    for (size_t i = j; i < section; i++) {
      double sum = (double)left[j * section + i];
      for (size_t m = 0; m < own; m++)
        sum -= dense[m * ld + own + j] * dense[m * ld + own + i];
      worst = fmax(worst, fabs((double)before[j * section + i] - sum));
    }
  double n = (double)own, all = n * n * n / 6 + n * n * (double)section / 2 +
                                n * (double)section * (double)section / 2;
  g_test_message("%zu columns, %d cuts: %.0f %% of the products saved, off by %.1e", own, list.n,
                 100 * (1 - products(&list) / all), worst / top);
  g_assert_cmpfloat(worst, <, 1e-4 * top); /* single precision, some hundred terms */
  g_assert_cmpfloat(products(&list), <, (1 - least_saved) * all);
  g_free(panel);
  g_free(before);
  g_free(whole);
  g_free(left);
  g_free(dense);
}

static void test_cuts(void)
{
  static const CutSample sample[] = {{SOLID_TRIAL, PAIR_EVEN, 0, 0, 0.2},
                                     {SOLID_LIVE, PAIR_EVEN, 30, 0, 0.2},
                                     {SOLID_LIVE, PAIR_ODD, 0, 0, 0.2},
                                     {SOLID_FULL, PAIR_EVEN, 30, 0.3, 0.2}};
  BrickTable table;
  brick_table_init(&table);
  for (size_t s = 0; s < G_N_ELEMENTS(sample); s++) {
    Connector4 c;
    Loft *loft = NULL;
    SolidMesh mesh = {0};
    Point where;
    shape_draw(&c, &sample[s]);
    LoftInput input = connector_input(&c);
    ok(loft_new(&input, &loft, &where));
    ok(solid_mesh_make(&mesh, loft, sample[s].grade, sample[s].pair));
    Brick *brick = mesh_bricks_new(&mesh, &table);
    layer_check(&mesh, brick, false, sample[s].least_saved);
    layer_check(&mesh, brick, true, 2 * sample[s].least_saved);
    g_free(brick);
    solid_mesh_clear(&mesh);
    loft_free(loft);
    connector4_clear(&c);
  }
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/solid/cuts", test_cuts);
  return g_test_run();
}
