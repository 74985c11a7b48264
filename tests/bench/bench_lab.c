/* bench_lab.c - a lab of ten thousand cases: first rows, all read, opened again from the cache,
 * memory; and a thousand three-unit cases assessed live on all cores.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Usage: bench_lab MADE_CASES.py [CASES [LIVE]].  Targets of issue 6: first rows within 0.5 s, 300
 * MB, 1 000 live within 30 s on two cores. */
#include "lab/lab_cache.h"
#include "lab/lab_pool.h"
#include "timing.h"
#include "ui/review/lab_desk.h"
#include <glib/gstdio.h>
#include <stdio.h>
#include <string.h>

#define SCREEN 30 /* rows that a person sees at once */

static void made(const char *script, const char *folder, int n, const char *kind)
{
  g_autofree char *count = g_strdup_printf("%d", n);
  const char *argv[] = {"python3", script, folder, count, "7", kind, NULL};
  int status = 0;
  g_mkdir(folder, 0700);
  if (!g_spawn_sync(NULL, (char **)argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, &status,
                    NULL) ||
      status != 0)
    exit(1);
}

static void folder_remove(const char *folder)
{
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  const char *name;
  while (dir && (name = g_dir_read_name(dir)) != NULL) {
    g_autofree char *path = g_build_filename(folder, name, NULL);
    g_remove(path);
  }
  g_rmdir(folder);
}

/* Of the whole run so far, MB. */
static double memory_most(void)
{
  g_autofree char *text = NULL;
  if (!g_file_get_contents("/proc/self/status", &text, NULL, NULL) || !strstr(text, "VmHWM:"))
    return 0;
  return g_ascii_strtod(strstr(text, "VmHWM:") + 6, NULL) / 1024;
}

static void tell(const char *what, double value, const char *unit)
{
  printf("%-52s %10.2f %s\n", what, value, unit);
}

/* ---- the desk ---- */

typedef bool (*Wanted)(const LabProgress *progress);
static bool first_rows(const LabProgress *progress)
{
  return progress->listed && progress->read + progress->unreadable >= MIN(SCREEN, progress->files);
}
static bool all_read(const LabProgress *progress)
{
  return progress->listed && progress->read + progress->unreadable == progress->files;
}
static bool all_over(const LabProgress *progress)
{
  return progress->over;
}

/* Seconds since `start` when it is so. */
static double seconds_until(SoffitLabDesk *desk, Wanted wanted, gint64 start)
{
  for (;;) {
    LabProgress progress = lab_desk_progress(desk);
    if (wanted(&progress))
      return milliseconds_since(start) / 1000;
    g_main_context_iteration(NULL, TRUE);
  }
}

/* Every row as if it had been assessed: what it costs to keep and to load does not depend on the
 * figures in it. */
static GPtrArray *rows_ready(const Lab *lab, const LabList *list)
{
  GPtrArray *rows = g_ptr_array_new_with_free_func((GDestroyNotify)lab_row_free);
  for (guint i = 0; i < list->file->len; i++) {
    LabRow *row = lab_row_read(lab, g_array_index(list->file, LabFile, i).name);
    row->state = ROW_READY;
    row->read_us += 60 * G_USEC_PER_SEC; /* as if the files had not been written just now */
    row->margin = banded(1, 0.8, 1.2);
    row->headline = (Phrase){.text = "Carries {0} N; the order asks for {1} N"};
    g_ptr_array_add(rows, row);
  }
  return rows;
}

static void desk_bench(const char *folder, const char *cache_dir)
{
  LabDeskSettings settings = lab_desk_settings_default();
  settings.cache_dir = cache_dir;
  g_autoptr(GError) error = NULL;
  g_autofree char *trouble = NULL, *path = lab_cache_path(cache_dir, folder);
  gint64 start = g_get_monotonic_time();
  SoffitLabDesk *desk = lab_desk_new(&settings);
  lab_desk_open(desk, folder);
  tell("no cache: first rows on the screen", seconds_until(desk, first_rows, start), "s");
  tell("no cache: all read", seconds_until(desk, all_read, start), "s");
  tell("no cache: memory, at most", memory_most(), "MB");
  g_object_unref(desk);
  g_autoptr(Lab) lab = lab_new(folder, &trouble);
  g_autoptr(LabList) list = lab_list_new(folder, &error);
  GPtrArray *rows = rows_ready(lab, list);
  start = g_get_monotonic_time();
  GBytes *packed = lab_cache_pack(rows, lab);
  tell("cache: packed", milliseconds_since(start) / 1000, "s");
  tell("cache: size", (double)g_bytes_get_size(packed) / 1048576, "MB");
  if (!lab_cache_save(path, packed, &error))
    exit(1);
  g_bytes_unref(packed);
  g_ptr_array_unref(rows);
  start = g_get_monotonic_time();
  g_hash_table_unref(lab_cache_load(path, lab));
  tell("cache: loaded", milliseconds_since(start) / 1000, "s");
  start = g_get_monotonic_time();
  desk = lab_desk_new(&settings);
  lab_desk_open(desk, folder);
  tell("cache: all rows ready", seconds_until(desk, all_over, start), "s");
  tell("memory, at most", memory_most(), "MB");
  g_object_unref(desk);
}

/* ---- live ---- */

static void row_drop(LabRow *row, guint64 number, void *bad)
{
  (void)number;
  if (row->state != ROW_READY)
    g_atomic_int_inc((gint *)bad);
  lab_row_free(row);
}

static void live_bench(const char *folder)
{
  g_autofree char *trouble = NULL;
  g_autoptr(Lab) lab = lab_new(folder, &trouble);
  g_autoptr(LabList) list = lab_list_new(folder, NULL);
  gint bad = 0;
  gint64 start = g_get_monotonic_time();
  LabPool *pool = lab_pool_new(lab, 0, NULL, row_drop, &bad);
  for (guint i = 0; i < list->file->len; i++)
    lab_pool_ask(pool, g_array_index(list->file, LabFile, i).name, LAB_ASSESS, URGENCY_DRAWN);
  lab_pool_wait(pool);
  lab_pool_free(pool);
  double seconds = milliseconds_since(start) / 1000;
  g_autofree char *what = g_strdup_printf("%u three-unit cases live, %u cores", list->file->len,
                                          g_get_num_processors());
  tell(what, seconds, bad ? "s, some without an answer" : "s");
  tell("... of 1 000", seconds * 1000 / MAX(list->file->len, 1), "s");
}

int main(int argc, char **argv)
{
  if (argc < 2)
    return 1;
  int cases = argc > 2 ? atoi(argv[2]) : 10000, live = argc > 3 ? atoi(argv[3]) : 1000;
  g_autofree char *root = g_dir_make_tmp("soffit-bench-XXXXXX", NULL);
  g_autofree char *lab = g_build_filename(root, "lab", NULL),
                  *three = g_build_filename(root, "three", NULL),
                  *cache = g_build_filename(root, "cache", NULL);
  made(argv[1], lab, cases, NULL);
  desk_bench(lab, cache);
  made(argv[1], three, live, "--three-units");
  live_bench(three);
  folder_remove(lab);
  folder_remove(three);
  folder_remove(cache);
  g_rmdir(root);
  return 0;
}
