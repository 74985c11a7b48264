/* bars_csv.h - strength tests from tables: comma, semicolon or tab; decimal comma or point.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * N, mm.  First line: the names of the columns in any order: force_n, width_mm, thickness_mm, and
 * length_mm if it was measured; for discs force_n, thickness_mm, diameter_mm.  Further columns are
 * kept as text.  A row that cannot be read is named with its line and left out; the rest stays. */
#pragma once
#include "strength/bars.h"
#include <glib.h>

#define BARS_CSV_ROWS 200000 /* more rows are refused */

typedef struct {
  Bar bar;
  guint line;     /* of the file, from 1                                              */
  char **further; /* owned: texts of the further columns, as many as BarsTable.further */
} BarsRow;

typedef struct {
  char *name;         /* owned: as the user named the file                                  */
  char separator;     /* ',', ';' or a tab                                                  */
  GArray *row;        /* owned: BarsRow                                                     */
  GPtrArray *further; /* owned: names of the further columns                                */
  GPtrArray *message; /* owned: "FILE:LINE: what is wrong. What to do.", one a row left out */
} BarsTable;

/* NULL and the error when there is no table at all; "FILE:LINE: what. What to do." in CASE_ERROR.
 */
BarsTable *bars_csv_read(const char *text, gsize length, const char *name, BarTest test,
                         GError **error);
BarsTable *bars_csv_load(const char *path, BarTest test, GError **error);
/* What a person typed or pasted: a table as above, or lines without names: force, width (diameter),
 * thickness and maybe length, parted by semicolon, tab, blanks or, with points, commas; a line with
 * the force alone has the sizes given here.  Lines count from 1. */
BarsTable *bars_typed_read(const char *text, const char *name, BarTest test, double width,
                           double thickness, GError **error);
void bars_table_free(BarsTable *table); /* accepts NULL */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(BarsTable, bars_table_free)

/* "three-point", "four-point-quarter", "four-point-third", "disc". */
const char *bar_test_word(BarTest test);
bool bar_test_from_word(const char *word, BarTest *test);

/* A number of a cell: decimal comma or point, spaces around it; false for anything else, also for
 * "1.234,5" and units. */
bool bars_number(const char *cell, double *value);
/* The rows as a table of the same kind, with the further columns; '.' and commas. */
char *bars_csv_write(const BarsTable *table, BarTest test);
