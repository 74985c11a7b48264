/* wait_for.h - a test looks until what it expects is there, and fails when it never is.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <glib.h>

static inline gboolean wait_tick(void *data)
{
  (void)data;
  return G_SOURCE_CONTINUE;
}

/* The main context runs meanwhile; a tick looks at what no signal tells. */
#define WAIT_FOR(condition, seconds)                                                               \
  do {                                                                                             \
    guint wait_source = g_timeout_add(20, wait_tick, NULL);                                        \
    gint64 wait_end = g_get_monotonic_time() + (seconds)*G_USEC_PER_SEC;                           \
    while (!(condition) && g_get_monotonic_time() < wait_end)                                      \
      g_main_context_iteration(NULL, TRUE);                                                        \
    g_source_remove(wait_source);                                                                  \
    g_assert_true(condition);                                                                      \
  } while (0)
