/* test_blas.c - OpenBLAS with the kernels this processor can run, and without helper threads.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "mechanics/blas.h"
#include <cblas.h>
#include <glib.h>

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

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/blas/chosen", test_chosen);
  g_test_add_func("/blas/wish", test_wish);
  return g_test_run();
}
