/* rules_parts.h - the two halves of the rule table, and the few questions they share.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to core/verdict. */
#pragma once
#include "verdict/rules.h"

const Rule *rules_shape(size_t *n); /* steps 1 to 3  */
const Rule *rules_bench(size_t *n); /* steps 4 to 13 */

/* Both units of a connector stand on a tooth or an implant. */
bool rule_between_abutments(const Case *c, size_t connector);
