/* wake.h - a bell between a worker thread and the main context.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * wake_ring may be called by any thread; rings that come before the callback ran are one.  After
 * wake_free nothing is called any more. */
#pragma once
#include <glib.h>

typedef struct Wake Wake;
Wake *wake_new(GSourceFunc callback,
               void *data); /* runs on the thread-default context of the caller */
/* As g_source_set_priority(): G_PRIORITY_DEFAULT at first. */
void wake_set_priority(Wake *wake, int priority);
void wake_ring(Wake *wake);
void wake_free(Wake *wake); /* on the thread of the callback; accepts NULL */
