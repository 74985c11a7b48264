/* assess_bars.h - the records of broken bars of one table against where their stress was largest.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "casefile/bars_origin.h"

typedef struct {
  size_t recorded, placed, hits; /* placed: with a place that can be compared */
  size_t kind[ORIGIN_KINDS];
  BarBreak *found; /* owned, one a row; largest_mpa 0 = no place to compare.  NULL: no record */
} BarsRecords;
void bars_records_clear(BarsRecords *records);

/* Counts them; what cannot be of a record is added to the messages of the table, which stay in the
 * order of their lines: the bar is used, its record is not.  FAULT_MEMORY, FAULT_CANCELLED.
 *   modulus  in   of the set, NaN = not known
 *   records  out  cleared by bars_records_clear, whatever comes */
MUST_CHECK Fault bars_records(BarsTable *table, const BarSetup *setup, double modulus,
                              bool (*cancelled)(void *data), void *data, BarsRecords *records);
