/* lab_round.h - one lab as it is set now, its working threads, and the way of their rows to the
 * main thread. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Other thresholds are another round.  Freeing does not wait for a thread that hangs on a share. */
#pragma once
#include "lab/lab_pool.h"

#define LAB_BATCH_MS 100 /* rows come together, not more often than this */

typedef struct {
  LabRow *row; /* taken over by whoever steals it */
  guint64 number;
} LabAnswer;

typedef struct LabRound LabRound;
typedef void (*LabRoundDeliver)(GArray *answer, void *data); /* LabAnswer, on the main thread */

LabRound *lab_round_new(Lab *lab, int threads, LabRoundDeliver deliver,
                        void *data); /* takes the lab over */
const Lab *lab_round_lab(const LabRound *round);
LabPool *lab_round_pool(LabRound *round);
/* At the end of the program: whether all that were freed have come to their end within this time.
 * Else a thread hangs on a share, and the libraries below it must not be taken down by exit(). */
bool lab_rounds_over(guint patience_ms);
void lab_round_free(LabRound *round); /* nothing is delivered after; accepts NULL */
