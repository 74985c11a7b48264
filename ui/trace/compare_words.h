/* compare_words.h - the readings of two outlines side by side, and what changed in words.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * No GTK.  Figures carry their bands. */
#pragma once
#include "ui/trace/reading_text.h"

typedef struct {
  const char *name;             /* translated, borrowed */
  char *today, *other, *change; /* owned; "0.20 mm", "62 % less" */
} CompareLine;

#define COMPARE_LINES (READING_N + 1) /* the pull, then the readings */
/* line: cleared or zero; replaced. */
void compare_lines_make(const Assessment *today, const Assessment *other, size_t connector,
                        CompareLine line[COMPARE_LINES]);
void compare_line_clear(CompareLine *line);
