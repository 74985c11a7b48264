/* digest.h - what a decision belongs to: one SHA-256 over all that was judged.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Geometry, material card, load, finish and events, finishing list with its ticks, photos by their
 * own digests: the file as case_to_xml() writes it without title, trial load, history, remarks,
 * variants, the outlines that were approved and the record of a break; of a photo neither its path
 * nor how it is shown.  The same on every machine and in every language. */
#pragma once
#include "casefile/case.h"

/* 64 hex digits; FAULT_MEMORY. */
MUST_CHECK Fault case_digest(const Case *c, char hex[65]);
