/* connector_csv.h - the connectors of assessed cases as a table (csv_line.h).
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "assess.h"
#include <glib.h>

/* The row of names; then one row a connector, every column in every row, named as in the JSON. */
void connector_csv_head(GString *rows);
void connector_csv(GString *rows, const Assessment *a, size_t connector, const char *file);
