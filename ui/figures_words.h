/* figures_words.h - the figures of a lab in sentences: what the four pictures show.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * In the language of the user; command line, window and screen readers say the same. */
#pragma once
#include "lab/lab_stats.h"
#include <glib.h>

typedef enum {
  FIGURES_MONTHS,      /* verdicts over time                       */
  FIGURES_CAUSES,      /* returns: why, how often                  */
  FIGURES_SIZES,       /* radii and areas                          */
  FIGURES_CALIBRATION, /* chance that was predicted against breaks */
  FIGURES_HANDS,       /* by technician: only where the lab switched it on */
  FIGURES_N
} FiguresTopic;
const char *figures_title(FiguresTopic topic); /* English msgid */
/* Owned sentences, never none where something is to be said; none: FIGURES_HANDS switched off. */
GPtrArray *figures_sentences(const LabStats *stats, FiguresTopic topic);
/* "3 holds, 1 close": only those that there are; owned. */
char *figures_verdicts(const guint verdict[STATS_VERDICTS]);
