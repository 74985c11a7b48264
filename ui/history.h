/* history.h - undo and redo without limit: named copies of the whole case.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A step keeps the case as it was on the other side of the edit: about 20 kB for four units. */
#pragma once
#include "casefile/case.h"

typedef struct History History;
History *history_new(void);
void history_free(History *history); /* accepts NULL */
void history_forget(History *history);

/* A step named `name` (static msgid) led from `before` (taken over, heap, case_copy'd) to the case
 * at hand. Steps that were undone are forgotten. */
void history_push(History *history, const char *name, Case *before);
const char *history_undo_name(const History *history); /* NULL = none */
const char *history_redo_name(const History *history);
/* Swaps the contents of *c with the step's. */
bool history_undo(History *history, Case *c);
bool history_redo(History *history, Case *c);

Case *case_heap_copy(const Case *c); /* NULL without memory */
void case_heap_free(Case *c);        /* accepts NULL */
