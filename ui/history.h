/* history.h - undo and redo without limit: named copies of the whole case.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A step keeps the case as it was on the other side of the edit: about 20 kB for four units. */
#pragma once
#include "casefile/case.h"

/* The pull at the hot spot of each connector at the trial load, as last answered for one state of
 * the case; n = 0: never answered. */
typedef struct {
  size_t n;
  Banded mpa[SPAN_MAX_UNITS - 1];
} StepPeaks;

typedef struct History History;
History *history_new(void);
void history_free(History *history); /* accepts NULL */
void history_forget(History *history);

/* A step named `name` (static msgid) led from `before` (taken over, heap, case_copy'd) with its
 * peaks to the case at hand. Steps that were undone are forgotten. */
void history_push(History *history, const char *name, Case *before, const StepPeaks *peaks);
const char *history_undo_name(const History *history); /* NULL = none */
const char *history_redo_name(const History *history);
/* Swaps the contents of *c and *peaks with the step's; the history that the case keeps of itself is
 * appended to only, and stays. */
bool history_undo(History *history, Case *c, StepPeaks *peaks);
bool history_redo(History *history, Case *c, StepPeaks *peaks);

/* States from the first, which is 0, to the last that redo leads to; history_at is the one at hand.
 */
size_t history_states(const History *history);
size_t history_at(const History *history);
/* The step that led to state i; NULL for the first. */
const char *history_name(const History *history, size_t i);
/* State i, borrowed; NULL for the one at hand. */
const Case *history_case(const History *history, size_t i);
/* Of a state that is not at hand; NULL for that one. */
const StepPeaks *history_peaks(const History *history, size_t i);

/* Every state but the one at hand: for what is in the file and cannot be undone. */
void history_each(History *history, void (*each)(Case *c, void *data), void *data);

Case *case_heap_copy(const Case *c); /* NULL without memory */
void case_heap_free(Case *c);        /* accepts NULL */
