/* lab_table.h - the rows of a lab as a table for other programs: one set of columns for all of
 * them. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Texts are English ids and the words of the case, numbers have a '.' whatever the locale, times
 * are ISO 8601 in UTC.  What is not known is empty. */
#pragma once
#include "lab/lab_row.h"

typedef struct {
  const char *id; /* "margin_low": head of the column, key in JSON */
  bool number;
} LabColumn;
extern const LabColumn lab_column[];
extern const size_t lab_columns;

/* The text of a cell, owned. */
char *lab_cell_text(const LabRow *row, size_t column);
double lab_cell_number(const LabRow *row, size_t column); /* NaN: none, or no column of numbers */

/* lab_columns: none of that id. */
size_t lab_column_find(const char *id);

/* RFC 4180 in UTF-8: commas, a line of heads, lines ended by CR LF. */
GString *lab_rows_to_csv(const GPtrArray *row);
/* Of these columns alone, in this order; n at least 1. */
GString *lab_cells_to_csv(const GPtrArray *row, const size_t column[], size_t n);
/* One object of them on one line (RFC 8259), ended by LF: behind what `out` has. */
void lab_row_to_json(GString *out, const LabRow *row, const size_t column[], size_t n);
/* Every column, in order: column[lab_columns]. */
void lab_columns_all(size_t column[]);
