/* test_blas.c - OpenBLAS with the kernels this processor can run, and without helper threads.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "connector_solve.h"
#include "mechanics/blas.h"
#include <cblas.h>
#include <stdlib.h>
#include <unistd.h>

/* Small whole numbers: exact in single precision, whatever the order of the sums. */
static void product_check(void)
{
  enum { N = 67 };
  static float a[N * N], b[N * N], c[N * N];
  for (int i = 0; i < N * N; i++)
    a[i] = (float)(i % 7 - 3), b[i] = (float)(i % 11 - 5);
  cblas_sgemm(CblasColMajor, CblasNoTrans, CblasTrans, N, N, N, 1, a, N, b, N, 0, c, N);
  for (int j = 0; j < N; j++)
    for (int i = 0; i < N; i++) {
      float sum = 0;
      for (int k = 0; k < N; k++)
        sum += a[k * N + i] * b[k * N + j];
      g_assert_cmpfloat(c[j * N + i], ==, sum);
    }
}

static void test_chosen(void)
{
  if (!g_test_subprocess()) {
    g_autofree char *kept = g_strdup(g_getenv("OPENBLAS_CORETYPE"));
    g_unsetenv("OPENBLAS_CORETYPE"); /* read when the library is loaded */
    g_test_trap_subprocess(NULL, 0, 0);
    if (kept)
      g_setenv("OPENBLAS_CORETYPE", kept, TRUE);
    g_test_trap_assert_passed();
    return;
  }
  blas_start();
  blas_start();
  g_assert_cmpint(openblas_get_num_threads(), ==, 1);
  g_assert_null(g_getenv("OPENBLAS_CORETYPE"));
#ifdef __x86_64__
  if (__builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma"))
    g_assert_cmpstr(openblas_get_corename(), !=, "Prescott");
#endif
  product_check();
}

static void test_wish(void)
{
  if (!g_test_subprocess()) {
    g_autofree char *kept = g_strdup(g_getenv("OPENBLAS_CORETYPE"));
    g_setenv("OPENBLAS_CORETYPE", "Prescott", TRUE);
    g_test_trap_subprocess(NULL, 0, 0);
    if (kept)
      g_setenv("OPENBLAS_CORETYPE", kept, TRUE);
    else
      g_unsetenv("OPENBLAS_CORETYPE");
    g_test_trap_assert_passed();
    return;
  }
  blas_start();
#ifdef __x86_64__
  g_assert_cmpstr(openblas_get_corename(), ==, "Prescott");
#endif
  product_check();
}

static gint given_up; /* threads */

/* Solves until it is told that the program ends. */
static void *solve_on(void *data)
{
  GMutex *first = data;
  Connector4 c;
  connector_draw(&c, (NotchShape){-2, -1, 0.5, 0, 0, 0, 2.5, 8, 8}, 3.2, 1);
  LoftInput input = connector_input(&c);
  Loft *loft;
  SolidWork *work;
  g_assert_cmpint(loft_new(&input, &loft, &(Point){0, 0}), ==, FAULT_NONE);
  g_assert_cmpint(solid_work_new(&work), ==, FAULT_NONE);
  SolidSettings settings = {.young_mpa = 205000, .poisson = 0.3, .grade = SOLID_LIVE};
  Fault fault = FAULT_NONE;
  while (!fault) {
    Field *field = NULL;
    fault = solid_solve(work, loft, &settings, &field, &(Vec3){0, 0, 0});
    field_unref(field);
    if (first)
      g_mutex_unlock(first);
    first = NULL;
  }
  connector4_clear(&c);
  loft_free(loft);
  solid_work_free(work);
  g_assert_cmpint(fault, ==, FAULT_CANCELLED);
  g_atomic_int_inc(&given_up);
  return NULL;
}

/* Runs after the end that blas_start() has asked for, since it was asked for before; the libraries'
 * own ends come after it. */
static void late(void)
{
  for (int i = 0; i < 200 && g_atomic_int_get(&given_up) < 2; i++)
    g_usleep(10000);
  if (g_atomic_int_get(&given_up) < 2)
    _exit(1);
}

/* The program ends while threads solve: they are sent home first, for the library is taken away
 * below them. */
static void test_end(void)
{
  if (!g_test_subprocess()) {
    g_test_trap_subprocess(NULL, 0, 0);
    g_test_trap_assert_passed();
    return;
  }
  static GMutex first;
  atexit(late);
  g_mutex_lock(&first);
  g_thread_unref(g_thread_new("solves", solve_on, &first));
  g_thread_unref(g_thread_new("solves", solve_on, NULL));
  g_mutex_lock(&first); /* one answer came: the next ones are under way */
  exit(0);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/blas/chosen", test_chosen);
  g_test_add_func("/blas/wish", test_wish);
  g_test_add_func("/blas/end", test_end);
  return g_test_run();
}
