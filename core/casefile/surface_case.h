/* surface_case.h - a surface and the case it belongs to: which way it lies, what it gives.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "casefile/case.h"
#include "mesh/trace.h"

/* Seen with the case's first unit at the left and the biting side up, the cheek lies behind: the
 * frame of a true surface is then left-handed.  From the first unit's quadrant (ISO 3950) and the
 * side the midline lies on. */
bool case_cheek_behind(const Case *c);
/* Where its n_unit - 1 connectors lie, in shares of the sum of the units' lengths. */
void case_connector_shares(const Case *c, double share[]);
/* The four outlines become those of a connector, as if drawn. */
MUST_CHECK Fault case_take_trace(Case *c, size_t connector, const Trace *trace);
