/* assess_cache.h - fields of bodies solved before: an unchanged connector costs no solution.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to core/assess*.c.  Safe for several threads. */
#pragma once
#include "assess_connector.h"

typedef struct FieldCache FieldCache;
FieldCache *field_cache_new(void);
void field_cache_free(FieldCache *cache);
void field_cache_forget(FieldCache *cache); /* all that was solved */

typedef struct {
  Field *field; /* a reference of the caller's; NULL with a fault */
  Fault fault;
  Point where;
  bool averaged;
} Solved;

/* What outlines and numbers are, for a digest of a shape. */
void digest_numbers(GChecksum *sum, const double number[], size_t n);
void digest_outline(GChecksum *sum, const Outline *outline);

/* Looks the body up, or solves and keeps it.  FAULT_CANCELLED and FAULT_MEMORY are not kept. */
Solved field_cache_solve(FieldCache *cache, Solver *solver, const Body *body);
