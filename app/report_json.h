/* report_json.h - the finishing list, remarks and decision of a case as a line of JSON.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "assess.h"
#include "record/signing.h"

/* One object: case, content (its digest), standing, decision, list, remarks.  Texts in English.
 *   keys  in   of the lab; NULL = none
 *   line  out  owned; NULL on failure */
MUST_CHECK Fault report_json(const Assessment *a, const PublicKeys *keys, GString **line);
/* The finishing list as a table (csv_line.h), under the same names; owned. */
GString *report_list_csv(const Assessment *a);
