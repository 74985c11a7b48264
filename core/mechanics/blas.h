/* blas.h - OpenBLAS as Soffit wants it: without helper threads, with the kernels this processor can
 * run. SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SOFFIT_MECHANICS_BLAS_H
#define SOFFIT_MECHANICS_BLAS_H
#include "base/fault.h"
#include <stdbool.h>

/* A program calls it first, solid_work_new() at last; further calls do nothing.  Two things:
 *
 * OpenBLAS starts a helper thread for each further core when it is loaded.  Connectors are the
 * units of parallel work, not blocks: the helpers only turn round for some 30 ms, a fifth of a
 * whole call on the command line.  They are sent home.
 *
 * A release of OpenBLAS knows the processors of its day by their numbers; on a younger one it takes
 * its oldest kernels ("Prescott", SSE3), which need twice the time.  Where the processor says that
 * it has AVX2 and FMA, the kernels made for these ("Haswell") are taken instead.  Who sets
 * OPENBLAS_CORETYPE has chosen: nothing is changed then. */
void blas_start(void);

/* Around every stretch that calls BLAS on a thread which may still run when the program ends: the
 * end waits for those that are in it, for the library is taken down below them.
 * blas_enter(): false, and nothing to leave, once the program is ending; calls blas_start(). */
MUST_CHECK bool blas_enter(void);
void blas_leave(void);
bool blas_ending(void); /* what is long looks now and then, and gives up */

#endif
