/* row_words.h - a row of the lab in words: what its two lines show, what is said, what is found.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * All owned by the caller, in the user's language. */
#pragma once
#include "lab/lab_row.h"
#include "ui/review/queue.h"

char *row_words_case(const LabRow *row);   /* "QB-02"; the file name when it has no number */
char *row_words_span(const LabRow *row);   /* "4 units, 34-37" */
char *row_words_reason(const LabRow *row); /* trouble, else headline, else how far it is */
char *row_words_counts(const LabRow *row); /* "9 stop · 3 look", "no rule fired" */
/* Verdict and stops, or the standing of what does not wait: "rework · 9 stop", "holds · passed" */
char *row_words_brief(const LabRow *row);
/* "TR · 40 min", by the clock now_us; "" when nothing is known. */
char *row_words_hand(const LabRow *row, gint64 now_us);
const char *row_words_verdict(const LabRow *row); /* borrowed: "rework", "unreadable", "…" */
/* "QB-02, rework. 4 units, 34-37. Roof too sharp. 9 stop, 3 look. TR, waits 40 min." */
char *row_words_sentence(const LabRow *row, gint64 now_us);
/* What stands in a column of the table: "0.23 (0.21–0.25)"; "" when it is not known.  By the clock
 * now_us; 0: waiting is told by its standing alone. */
char *row_words_cell(const LabRow *row, QueueOrder column, gint64 now_us);
char *row_words_to_find(const LabRow *row);
/* "40 min", "3 h", "1 day", "12 days" */
char *words_lasting(gint64 us);
