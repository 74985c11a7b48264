/* merge_part.h - one part of a case, compared with another case's and taken from it.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to core/lab.  The parts are those of record/change.h; list and remarks are united, not
 * taken (case_merge.h). */
#pragma once
#include "record/change.h"

/* The same teeth in the same order: connector i of one is connector i of the other. */
bool cases_same_teeth(const Case *a, const Case *b);
/* Of one connector (else connector is SIZE_MAX). */
bool part_of_connector(CasePart part);
/* Makes the part of `to` that of `from`.  PART_UNITS of cases with other teeth brings all their
 * connectors along.  Parts of a connector: the same teeth.  FAULT_MEMORY: `to` is a mixture. */
MUST_CHECK Fault part_take(Case *to, const Case *from, CasePart part, size_t connector);
MUST_CHECK Fault part_differs(const Case *a, const Case *b, CasePart part, size_t connector,
                              bool *differs);
/* Connector i of `from` in `to`, found by its two teeth; SIZE_MAX when it has none such. */
size_t connector_in(const Case *to, const Case *from, size_t i);
