/* measure_words.h - what was measured, in words with the band.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "outline/measure.h"

#define MEASURE_LINES 3
/* Lines for a plate, the first the one that matters most, each to be freed; NULL: fewer. */
void measure_lines(const MeasuredPlace place[], size_t n, char *line[MEASURE_LINES]);
char *measure_sentence(const MeasuredPlace place[], size_t n); /* to be freed */
