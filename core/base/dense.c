/* dense.c - elimination with row pivots.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "dense.h"
#include <math.h>

Fault dense_solve(size_t n, double a[], double b[])
{
  for (size_t k = 0; k < n; k++) {
    size_t pivot = k;
    for (size_t i = k + 1; i < n; i++)
      if (fabs(a[i * n + k]) > fabs(a[pivot * n + k]))
        pivot = i;
    if (!(fabs(a[pivot * n + k]) > 0))
      return FAULT_SINGULAR;
    for (size_t j = 0; j < n; j++) {
      double swap = a[k * n + j];
      a[k * n + j] = a[pivot * n + j], a[pivot * n + j] = swap;
    }
    double swap = b[k];
    b[k] = b[pivot], b[pivot] = swap;
    for (size_t i = k + 1; i < n; i++) {
      double m = a[i * n + k] / a[k * n + k];
      for (size_t j = k; j < n; j++)
        a[i * n + j] -= m * a[k * n + j];
      b[i] -= m * b[k];
    }
  }
  for (size_t k = n; k-- > 0;) {
    for (size_t j = k + 1; j < n; j++)
      b[k] -= a[k * n + j] * b[j];
    b[k] /= a[k * n + k];
  }
  return FAULT_NONE;
}
