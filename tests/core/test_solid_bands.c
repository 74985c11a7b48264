/* test_solid_bands.c - the band shown with the live answer, proven on seeded random connectors.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa.  Half of the shapes as people draw them, half hard ones (connector_shapes.h); the
 * reference is the fine mesh, itself checked against one finer still.  Some minutes: run by
 * `meson test --suite slow`. */
#include "connector_solve.h"
#include <stdlib.h>

#define SEED 30303
#define SHAPES 200
#define PROOF_EVERY 25 /* of them the reference is checked */

static const NeckLoad load[] = {{1000, 0}, {1000, 150}, {1000, -150}, {-1000, 0}};
static const char *const load_name[] = {"bending", "bending and shear", "bending and shear back",
                                        "bending upwards"};
#define LOADS G_N_ELEMENTS(load)

typedef struct {
  Connector4 c;
  double error[LOADS], band[LOADS];           /* percent: live against fine            */
  double fine_error[LOADS], fine_band[LOADS]; /* percent: fine against the proof mesh  */
  bool proven;
} Shape;

static void peaks(const Field *field, Peak peak[LOADS])
{
  for (size_t k = 0; k < LOADS; k++)
    g_assert_cmpint(field_peak(field, load[k], &peak[k]), ==, FAULT_NONE);
}

static void solve(const Connector4 *c, SolidGrade grade, Peak peak[LOADS])
{
  LoftInput input = connector_input(c);
  Field *field = connector_solid(&input, grade);
  peaks(field, peak);
  field_unref(field);
}

static void shape_run(void *data, void *user)
{
  (void)user;
  Shape *s = data;
  Peak live[LOADS], fine[LOADS], finest[LOADS];
  solve(&s->c, SOLID_LIVE, live);
  solve(&s->c, SOLID_FINE, fine);
  if (s->proven)
    solve(&s->c, SOLID_PROOF, finest);
  for (size_t k = 0; k < LOADS; k++) {
    s->error[k] = 100 * (live[k].mpa / fine[k].mpa - 1);
    s->band[k] = live[k].band_percent;
    s->fine_error[k] = s->proven ? 100 * (fine[k].mpa / finest[k].mpa - 1) : 0;
    s->fine_band[k] = fine[k].band_percent;
  }
}

static int order(const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

static double median(double v[], size_t n)
{
  qsort(v, n, sizeof *v, order);
  return (v[(n - 1) / 2] + v[n / 2]) / 2;
}

static void shapes_draw(Shape shape[SHAPES])
{
  GRand *random = g_rand_new_with_seed(SEED);
  for (int i = 0; i < SHAPES; i++) {
    if (i % 2)
      connector_random_hard(random, i / 2, &shape[i].c);
    else
      connector_random(random, &shape[i].c);
    shape[i].proven = i % PROOF_EVERY == 11;
  }
  g_rand_free(random);
}

/* Every load: inside the band in 95 of 100, half of all within 1 %; odd and even shapes apart. */
static void live_check(const Shape shape[SHAPES], int hard)
{
  const Source mesh = {"the same shapes on the fine mesh, 2.7 to 4.6 times the unknowns", SOLVER};
  const char *kind = hard ? "hard shapes" : "shapes as drawn";
  for (size_t k = 0; k < LOADS; k++) {
    double size[SHAPES], worst = 0, sum = 0;
    int n = 0, inside = 0;
    for (int i = hard; i < SHAPES; i += 2) {
      double e = shape[i].error[k];
      inside += fabs(e) <= shape[i].band[k];
      worst = fabs(e) > fabs(worst) ? e : worst;
      sum += e;
      size[n++] = fabs(e);
    }
    double half = median(size, (size_t)n);
    g_test_message("%s, %s: median %.2f %%, mean %+.2f %%, worst %+.2f %%, %d of %d inside", kind,
                   load_name[k], half, sum / n, worst, inside, n);
    g_autofree char *cover = g_strdup_printf("live inside its band, %s, %s, percent of shapes",
                                             kind, load_name[k]),
                    *middle =
                        g_strdup_printf("live over fine, typical, %s, %s", kind, load_name[k]);
    proof_row_between(cover, mesh, 100, 100.0 * inside / n, 95, 100);
    proof_row(middle, mesh, 1, 1 + half / 100, 1);
  }
}

/* The reference: within 1 % of a finer mesh, and inside its own band. */
static void reference_check(const Shape shape[SHAPES])
{
  const Source mesh = {"the same shape on a mesh finer than fine", SOLVER};
  int n = 0;
  for (int i = 0; i < SHAPES; i++)
    for (size_t k = 0; shape[i].proven && k < LOADS; k++, n++) {
      double e = shape[i].fine_error[k];
      g_autofree char *what = g_strdup_printf("fine over finer, shape %d, %s", i, load_name[k]);
      proof_row(what, mesh, 1, 1 + e / 100, 1);
      g_test_message("%s: %+.2f %%, band %.2f %%", what, e, shape[i].fine_band[k]);
      g_assert_cmpfloat(fabs(e), <=, shape[i].fine_band[k]);
    }
  g_assert_cmpint(n, ==, (int)LOADS * SHAPES / PROOF_EVERY);
}

static void test_bands(void)
{
  Shape *shape = g_new0(Shape, SHAPES);
  shapes_draw(shape);
  GThreadPool *pool = g_thread_pool_new(shape_run, NULL, (int)g_get_num_processors(), FALSE, NULL);
  for (int i = 0; i < SHAPES; i++)
    g_thread_pool_push(pool, &shape[i], NULL);
  g_thread_pool_free(pool, FALSE, TRUE);
  for (int i = 0; i < SHAPES; i++)
    if (fabs(shape[i].error[0]) > 2)
      g_test_message("shape %d: %+.2f %%, band %.2f %%", i, shape[i].error[0], shape[i].band[0]);
  live_check(shape, 0);
  live_check(shape, 1);
  reference_check(shape);
  for (int i = 0; i < SHAPES; i++)
    connector4_clear(&shape[i].c);
  g_free(shape);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/solid/bands", test_bands);
  return g_test_run();
}
