/* blas.c - OpenBLAS as Soffit wants it: without helper threads, with the kernels this processor can
 * run. SPDX-License-Identifier: GPL-3.0-or-later */
#include "blas.h"
#include <cblas.h>
#include <stdlib.h>
#include <string.h>
#include <threads.h>

/* What OpenBLAS itself calls before a fork; no header declares it. */
extern int blas_thread_shutdown_(void);

#ifdef __x86_64__
/* What OpenBLAS itself calls when it is loaded and unloaded; absent where it was built for one kind
 * of processor only. */
extern void gotoblas_dynamic_init(void) __attribute__((weak));
extern void gotoblas_dynamic_quit(void) __attribute__((weak));

static void kernels_choose(void)
{
  if (getenv("OPENBLAS_CORETYPE") || !gotoblas_dynamic_init || !gotoblas_dynamic_quit)
    return;
  if (strcmp(openblas_get_corename(), "Prescott") != 0 || !__builtin_cpu_supports("avx2") ||
      !__builtin_cpu_supports("fma"))
    return;
  setenv("OPENBLAS_CORETYPE", "Haswell", 1);
  gotoblas_dynamic_quit();
  gotoblas_dynamic_init();
  unsetenv("OPENBLAS_CORETYPE"); /* programs started from here choose for themselves */
}
#else
static void kernels_choose(void)
{
}
#endif

static void start(void)
{
  openblas_set_num_threads(1); /* before: it would start them again */
  blas_thread_shutdown_();
  kernels_choose();
}

void blas_start(void)
{
  static once_flag once = ONCE_FLAG_INIT;
  call_once(&once, start);
}
