/* needs.h - what a span needs: the trade's table, editable by the supervisor.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * All of it is common practice or from memory (core/SOURCES.md "limits"): habits of the trade, no
 * proof. */
#pragma once
#include "casefile/case.h"

/* Roof radius, mm: below the first stop, below the second look, the third is the aim.  From memory.
 */
#define ROOF_STOP_MM 0.30
#define ROOF_WANTED_MM 0.45
#define ROOF_AIM_MM 0.90
/* Figures are shown with two decimals: what reads as the limit keeps it; false for NaN. */
static inline bool below_limit(double value_mm, double limit_mm)
{
  return value_mm < limit_mm - 0.005;
}

typedef enum {
  SPAN_FRONT_ONE,
  SPAN_BACK_ONE,
  SPAN_FRONT_TWO,
  SPAN_BACK_TWO,
  SPAN_BACK_MORE,
  SPAN_CANTILEVER
} SpanClass;

typedef struct {
  SpanClass span;
  double area_need;   /* mm^2; NaN = no limit set, ask */
  double height_need; /* mm; NaN likewise              */
  int class_need;     /* ISO 6872, whole bridge        */
} ConnectorLimits;

/* Limits of one connector by its place in the bridge. */
ConnectorLimits limits_for(const Case *c, size_t connector);
const char *span_class_name(SpanClass span); /* English msgid */
