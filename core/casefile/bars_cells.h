/* bars_cells.h - lines of a table of bars and their cells, for those who change one line of it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "strength/bars.h"
#include <glib.h>

char bars_separator(const char *text, const char *end); /* ';', tab or ',': of the first line */
const char *bars_line_end(const char *at,
                          const char *end); /* behind the line that begins at `at` */
/* Owned texts.  line: one line, its quotes closed. */
GPtrArray *bars_cells(const char *line, size_t length, char separator);
/* separator: put before it; 0 for the first cell of a line. */
void bars_cell_write(GString *out, const char *cell, char separator);
/* Lines without names (bars_typed_read) as a table with them, a line more than before, bad lines
 * too; NULL when the first line names its columns.  Owned. */
char *bars_typed_table(const char *text, BarTest test, double width, double thickness);
