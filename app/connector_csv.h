/* connector_csv.h - the connectors of assessed cases as a table (csv_line.h).
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "case_answer.h"
#include <glib.h>

/* The row of names, then one row a connector, every column in every row, named as in the JSON; what
 * is wrong with a case in rows of its own: file, case and "error". */
void connector_csv_head_print(void); /* on standard output */
void case_answer_csv(GString *rows, const CaseAnswer *answer, const char *file);
