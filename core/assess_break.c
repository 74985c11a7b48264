/* assess_break.c - see assess_break.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_break.h"
#include <math.h>

#define NORMAL_90 1.6448536269514722 /* 5 % beyond on either side */

bool break_recorded(const Case *c)
{
  return c->n_unit > 1 && c->origin.connector < c->n_unit - 1 && c->origin.zone > 0;
}

BreakCheck break_check(const Assessment *a)
{
  const BreakOrigin *origin = &a->c.origin;
  BreakCheck check = {.expected = a->weakest,
                      .broke = origin->connector,
                      .distance = NAN,
                      .margin = NAN,
                      .load_share = NAN};
  if (!break_recorded(&a->c) || a->weakest >= a->n_connector || !a->connector[a->weakest].field)
    return check;
  const ConnectorAssessment *hot = &a->connector[a->weakest], *broke = &a->connector[check.broke];
  check.recorded = true;
  check.expected_zone = (FinishZone)hot->peak.zone; /* same order */
  check.broke_zone = (FinishZone)(origin->zone - 1);
  check.connector_hit = check.expected == check.broke;
  check.zone_hit = check.connector_hit && check.expected_zone == check.broke_zone;
  check.margin = broke->field ? broke->margin.value : NAN;
  if (check.connector_hit && !isnan(origin->at_x))
    check.distance = isnan(origin->at_y)
                         ? fabs(origin->at_x - hot->peak.at.x)
                         : hypot(origin->at_x - hot->peak.at.x, origin->at_y - hot->peak.at.y);
  if (origin->load_n > 0 && broke->field)
    check.load_share = origin->load_n / broke->carries_n.value;
  return check;
}

void break_tally(BreakTally *tally, const BreakCheck *check, OriginKind kind)
{
  if (tally->cases++ == 0)
    tally->distance = NAN;
  if (!check->recorded)
    return;
  tally->recorded++;
  tally->connector_hits += check->connector_hit;
  tally->zone_hits += check->zone_hit;
  tally->kind[(unsigned)kind < ORIGIN_KINDS ? kind : ORIGIN_UNKNOWN]++;
  if (isnan(check->distance))
    return;
  double sum = tally->distances ? tally->distance * (double)tally->distances : 0;
  tally->distance = (sum + check->distance) / (double)++tally->distances;
}

Banded hit_share_percent(size_t hits, size_t n)
{
  if (n == 0 || hits > n)
    return banded(NAN, NAN, NAN);
  double count = (double)n, p = (double)hits / count, z = NORMAL_90, z2 = z * z;
  double middle = (p + z2 / (2 * count)) / (1 + z2 / count),
         half = z / (1 + z2 / count) * sqrt(p * (1 - p) / count + z2 / (4 * count * count));
  return banded(100 * p, 100 * fmax(0, middle - half), 100 * fmin(1, middle + half));
}
