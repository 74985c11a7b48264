/* wake.c - a source whose ready time is now or never.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/wake.h"

struct Wake {
  GSource source; /* first: the source is the object */
};

static gboolean wake_dispatch(GSource *source, GSourceFunc callback, void *data)
{
  g_source_set_ready_time(source, -1);
  return callback(data);
}

Wake *wake_new(GSourceFunc callback, void *data)
{
  static GSourceFuncs funcs = {.dispatch = wake_dispatch};
  GSource *source = g_source_new(&funcs, sizeof(Wake));
  g_source_set_static_name(source, "soffit-wake");
  g_source_set_callback(source, callback, data, NULL);
  g_source_set_ready_time(source, -1);
  g_source_attach(source, g_main_context_get_thread_default());
  return (Wake *)source;
}

void wake_set_priority(Wake *wake, int priority)
{
  g_source_set_priority(&wake->source, priority);
}

void wake_ring(Wake *wake)
{
  g_source_set_ready_time(&wake->source, 0);
}

void wake_free(Wake *wake)
{
  if (wake == NULL)
    return;
  g_source_destroy(&wake->source);
  g_source_unref(&wake->source);
}
