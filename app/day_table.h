/* day_table.h - the decisions of a day for other programs: lines of JSON, or one table
 * (csv_line.h). SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The same columns under the same names in both, in order of time; texts are English ids and the
 * words of the case.  Files that cannot be read are told on standard error, by the caller. */
#pragma once
#include "lab/lab_day.h"

GString *day_json(const LabDay *day); /* owned */
GString *day_csv(const LabDay *day);  /* owned */
