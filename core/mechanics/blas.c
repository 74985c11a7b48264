/* blas.c - OpenBLAS as Soffit wants it: without helper threads, with the kernels this processor can
 * run. SPDX-License-Identifier: GPL-3.0-or-later */
#include "blas.h"
#include <cblas.h>
#include <stdatomic.h>
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

/* ---- the end of the program ---- */

static atomic_int running;
static atomic_bool ending;

static void end(void)
{
  atomic_store(&ending, true);
  while (atomic_load(&running) > 0)
    thrd_sleep(&(struct timespec){.tv_nsec = 1000000}, NULL);
}

bool blas_ending(void)
{
  return atomic_load(&ending);
}

bool blas_enter(void)
{
  blas_start();
  atomic_fetch_add(&running, 1); /* first: the end sees this, or this sees the end */
  if (!blas_ending())
    return true;
  atomic_fetch_sub(&running, 1);
  return false;
}

void blas_leave(void)
{
  atomic_fetch_sub(&running, 1);
}

/* ---- its beginning ---- */

static void start(void)
{
  atexit(end);                 /* before the libraries' own ends, which are as old as the program */
  openblas_set_num_threads(1); /* before: it would start them again */
  blas_thread_shutdown_();
  kernels_choose();
}

void blas_start(void)
{
  static once_flag once = ONCE_FLAG_INIT;
  call_once(&once, start);
}
