/* worker.h - threads that work for the window.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Called first by a thread that calculates or draws beside the window: where processors are few the
 * window's own thread goes before it, so that ink and pointer do not wait for an answer.  Threads
 * that it starts later inherit this. */
#pragma once

/* An answer that the person waits for. */
void worker_stand_back(void);
/* One that nobody waits for: only what the others leave. */
void worker_stand_far_back(void);
