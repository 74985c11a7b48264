/* csv_line.h - one row of a table (RFC 4180): comma between fields, CR LF at the end, quotes where
 * a field needs them. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Numbers in the shortest form of at most 9 digits, '.' whatever the locale; NaN and infinity
 * become an empty field. */
#pragma once
#include <glib.h>

/* A field behind those that are on the row already; `row` ends with the rows before it. */
void csv_text(GString *row, const char *text);
void csv_number(GString *row, double value);
void csv_end(GString *row);
