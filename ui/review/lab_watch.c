/* lab_watch.c - see lab_watch.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/review/lab_watch.h"
#include "ui/wake.h"
#include <gio/gio.h>

/* Many files that change together are one look. */
#define GATHER_US (100 * 1000)
#define SPARE_SHARE 20

struct LabWatch {
  char *folder, *cache;
  guint poll_ms;
  LabWatchSeen seen;
  void *data;
  bool monitored, away; /* wanted; the last look saw nothing */
  GFileMonitor *monitor;
  gint refs;    /* the thread's and the owner's */
  GMutex mutex; /* guards all below */
  GCond moved;
  gint64 look_at;  /* monotonic; when to look next */
  LabSight *sight; /* not handed over yet */
  Wake *wake;      /* NULL: the owner has gone */
};

static void sight_free(LabSight *sight)
{
  if (!sight)
    return;
  lab_list_free(sight->list);
  lab_free(sight->lab);
  g_clear_pointer(&sight->kept, g_hash_table_unref);
  g_free(sight->trouble);
  g_free(sight->lab_trouble);
  g_free(sight);
}

static void watch_unref(LabWatch *watch)
{
  if (!g_atomic_int_dec_and_test(&watch->refs))
    return;
  sight_free(watch->sight);
  g_mutex_clear(&watch->mutex);
  g_cond_clear(&watch->moved);
  g_free(watch->folder);
  g_free(watch->cache);
  g_free(watch);
}

/* *settings: of the last lab that was handed over, kept while the folder is away. */
static LabSight *sight_new(const char *folder, const char *cache, gint64 *settings, bool *known)
{
  g_autoptr(GError) error = NULL;
  LabSight *sight = g_new0(LabSight, 1);
  sight->list = lab_list_new(folder, &error);
  sight->trouble = error ? g_strdup(error->message) : NULL;
  if (!*known || (sight->list && sight->list->settings != *settings)) {
    sight->lab = lab_new(folder, &sight->lab_trouble);
    sight->kept = cache ? lab_cache_load(cache, sight->lab) : NULL;
    *settings = sight->list ? sight->list->settings : 0;
    *known = true;
  }
  return sight;
}

static void *watch_run(void *data)
{
  LabWatch *watch = data;
  gint64 settings = 0;
  bool known = false;
  g_mutex_lock(&watch->mutex);
  while (watch->wake) {
    if (watch->sight || g_get_monotonic_time() < watch->look_at) {
      g_cond_wait_until(&watch->moved, &watch->mutex,
                        watch->sight ? g_get_monotonic_time() + G_USEC_PER_SEC : watch->look_at);
      continue;
    }
    watch->look_at = G_MAXINT64; /* what comes while we look is looked for again */
    g_mutex_unlock(&watch->mutex);
    gint64 start = g_get_monotonic_time();
    LabSight *sight = sight_new(watch->folder, watch->cache, &settings, &known);
    gint64 took = g_get_monotonic_time() - start;
    g_mutex_lock(&watch->mutex);
    watch->sight = sight;
    watch->look_at =
        MIN(watch->look_at, start + took + MAX(watch->poll_ms * (gint64)1000, SPARE_SHARE * took));
    if (watch->wake)
      wake_ring(watch->wake);
  }
  g_mutex_unlock(&watch->mutex);
  watch_unref(watch);
  return NULL;
}

static void folder_changed(GFileMonitor *monitor, GFile *file, GFile *other,
                           GFileMonitorEvent event, void *data);

static void monitor_end(LabWatch *watch)
{
  if (!watch->monitor)
    return;
  g_signal_handlers_disconnect_by_data(watch->monitor, watch);
  g_file_monitor_cancel(watch->monitor);
  g_clear_object(&watch->monitor);
}

/* A folder that cannot be monitored is looked at by the clock. */
static void monitor_start(LabWatch *watch)
{
  g_autoptr(GFile) file = g_file_new_for_path(watch->folder);
  monitor_end(watch);
  watch->monitor = g_file_monitor_directory(file, G_FILE_MONITOR_WATCH_MOUNTS, NULL, NULL);
  if (!watch->monitor)
    return;
  g_file_monitor_set_rate_limit(watch->monitor, GATHER_US / 1000);
  g_signal_connect(watch->monitor, "changed", G_CALLBACK(folder_changed), watch);
}

static gboolean watch_deliver(void *data)
{
  LabWatch *watch = data;
  g_mutex_lock(&watch->mutex);
  LabSight *sight = g_steal_pointer(&watch->sight);
  g_cond_signal(&watch->moved);
  g_mutex_unlock(&watch->mutex);
  if (sight && watch->away && sight->list && watch->monitored)
    monitor_start(watch); /* it is another folder than the one that was monitored */
  if (sight) {
    watch->away = !sight->list;
    watch->seen(sight, watch->data); /* may free the watch */
  }
  sight_free(sight);
  return G_SOURCE_CONTINUE;
}

static void look_within(LabWatch *watch, gint64 us)
{
  g_mutex_lock(&watch->mutex);
  watch->look_at = MIN(watch->look_at, g_get_monotonic_time() + us);
  g_cond_signal(&watch->moved);
  g_mutex_unlock(&watch->mutex);
}

static void folder_changed(GFileMonitor *monitor, GFile *file, GFile *other,
                           GFileMonitorEvent event, void *data)
{
  (void)monitor, (void)file, (void)other, (void)event;
  look_within(data, GATHER_US);
}

LabWatch *lab_watch_new(const char *folder, const char *cache, bool monitor, guint poll_ms,
                        LabWatchSeen seen, void *data)
{
  LabWatch *watch = g_new0(LabWatch, 1);
  watch->folder = g_strdup(folder);
  watch->cache = g_strdup(cache);
  watch->poll_ms = poll_ms;
  watch->seen = seen;
  watch->data = data;
  watch->refs = 2;
  g_mutex_init(&watch->mutex);
  g_cond_init(&watch->moved);
  watch->wake = wake_new(watch_deliver, watch);
  watch->monitored = monitor;
  if (monitor)
    monitor_start(watch);
  g_thread_unref(g_thread_new("soffit-watch", watch_run, watch));
  return watch;
}

void lab_watch_look(LabWatch *watch)
{
  look_within(watch, 0);
}

void lab_watch_free(LabWatch *watch)
{
  if (!watch)
    return;
  monitor_end(watch);
  g_mutex_lock(&watch->mutex);
  wake_free(g_steal_pointer(&watch->wake));
  g_cond_signal(&watch->moved);
  g_mutex_unlock(&watch->mutex);
  watch_unref(watch);
}
