/* dense.h - small full systems of equations.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "base/fault.h"
#include <stddef.h>

/* Solves a x = b by elimination with row pivots; a is n x n by rows, b becomes x, a is used up.
 * FAULT_SINGULAR where no pivot is left. */
MUST_CHECK Fault dense_solve(size_t n, double a[], double b[]);
