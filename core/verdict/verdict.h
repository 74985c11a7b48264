/* verdict.h - holds, close or rework, with the reason.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "verdict/rules.h"

typedef enum { VERDICT_NONE, VERDICT_HOLDS, VERDICT_CLOSE, VERDICT_REWORK } Verdict;
const char *verdict_id(Verdict verdict);   /* "holds" */
const char *verdict_name(Verdict verdict); /* English msgid "holds" */

typedef struct {
  double close_margin; /* below: rework; default 1.0 */
  double holds_margin; /* below: close; default 1.25 */
} VerdictLimits;
VerdictLimits verdict_limits_default(void);

/* rework: margin < close_margin or a stop rule of the drawing or an unhealed surface fired;
 * close: margin < holds_margin or a `look` fired; else holds.  margin NaN: rules alone, at best
 * close. */
Verdict verdict_for(double margin, const GArray *fired, size_t connector,
                    const VerdictLimits *limits);
