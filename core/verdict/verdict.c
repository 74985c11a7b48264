/* verdict.c - holds, close or rework.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "verdict/verdict.h"
#include <math.h>
#include <stdint.h>

const char *verdict_id(Verdict verdict)
{
  static const char *const id[] = {"none", "holds", "close", "rework"};
  return (unsigned)verdict <= VERDICT_REWORK ? id[verdict] : "none";
}

const char *verdict_name(Verdict verdict)
{
  static const char *const name[] = {"–", N_("holds"), N_("close"), N_("rework")};
  return (unsigned)verdict <= VERDICT_REWORK ? name[verdict] : "–";
}

VerdictLimits verdict_limits_default(void)
{
  return (VerdictLimits){.close_margin = 1.0, .holds_margin = 1.25};
}

Verdict verdict_for(double margin, const GArray *fired, size_t connector,
                    const VerdictLimits *limits)
{
  Verdict verdict = isnan(margin)                   ? VERDICT_CLOSE
                    : margin < limits->close_margin ? VERDICT_REWORK
                    : margin < limits->holds_margin ? VERDICT_CLOSE
                                                    : VERDICT_HOLDS;
  for (guint i = 0; fired && i < fired->len; i++) {
    const FiredRule *rule = &g_array_index(fired, FiredRule, i);
    if (rule->connector != connector && rule->connector != SIZE_MAX)
      continue;
    if (rule->rule->severity == SEVERITY_STOP)
      return VERDICT_REWORK;
    if (rule->rule->severity == SEVERITY_LOOK && verdict == VERDICT_HOLDS)
      verdict = VERDICT_CLOSE;
  }
  return verdict;
}
