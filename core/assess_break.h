/* assess_break.h - where a bridge broke against where Soffit expected it, and the hits over many.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N.  Expected: the hot spot of the weakest connector at the order's load. */
#pragma once
#include "assess.h"

typedef struct {
  bool recorded; /* connector and zone of the break are recorded, and there is an answer */
  size_t expected, broke;
  FinishZone expected_zone, broke_zone;
  bool connector_hit, zone_hit; /* a zone is hit at the right connector only            */
  double distance; /* from the hot spot along the elevation; NaN: another connector, or no place */
  double margin;   /* that Soffit gave the connector that broke                          */
  double load_share; /* load at which it broke / load that Soffit says it carries; NaN   */
} BreakCheck;
BreakCheck break_check(const Assessment *a);
bool break_recorded(const Case *c); /* connector and zone */

typedef struct {
  size_t cases, recorded, connector_hits, zone_hits;
  size_t kind[ORIGIN_KINDS];
  double distance; /* mean of those that are known, mm; NaN if none */
  size_t distances;
} BreakTally;
void break_tally(BreakTally *tally, const BreakCheck *check, OriginKind kind);
/* Share of hits in percent with its 90 % band (Wilson); value NaN for n = 0. */
Banded hit_share_percent(size_t hits, size_t n);
