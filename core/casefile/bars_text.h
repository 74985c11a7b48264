/* bars_text.h - one line of a table of bars changed, all others left as they stand.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "strength/bars.h"
#include <glib.h>

typedef struct {
  const char *name, *value; /* of the column, of its cell; "" empties it */
} BarsCell;

/* The text with these cells of one line set; owned.  Columns that are not there are added to the
 * first line; lines without names become a table first (bars_typed_table).
 *   line   inout  of the text, from 1, as in BarsRow; one more in a table made of plain lines
 * NULL and CASE_ERROR: there is no such line, or a quoted cell goes over several lines. */
char *bars_text_set(const char *text, guint *line, BarTest test, double width, double thickness,
                    const BarsCell cell[], size_t n, GError **error);
