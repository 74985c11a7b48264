/* test_seen_store.c - what a person last looked at: kept, told apart, bounded.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "case_files.h"
#include "lab/seen_store.h"
#include <string.h>
#include <utime.h>

#define HOUR_US (3600 * (gint64)G_USEC_PER_SEC)
#define START_US (1767225600 * (gint64)G_USEC_PER_SEC) /* date -u -d 2026-01-01 +%s */
#define DUMMIES (SEEN_FILES_MOST + 50)

static void folder_clear(const char *path)
{
  g_autoptr(GDir) dir = g_dir_open(path, 0, NULL);
  for (const char *name; dir && (name = g_dir_read_name(dir));) {
    g_autofree char *one = g_build_filename(path, name, NULL);
    g_remove(one);
  }
  g_rmdir(path);
}

static SeenState look_back(const char *seen, const Case *now, gint64 time_us, double *load_n,
                           gint64 *looked_us)
{
  Case before;
  case_init(&before);
  SeenState state = seen_look_back(seen, "a.xml", now, time_us, &before, looked_us);
  *load_n = before.order_load_n;
  case_clear(&before);
  return state;
}

static void looks_are_told_apart(void)
{
  g_autofree char *seen = seen_folder(folder, "lab", "Rosa Tann"),
                  *other = seen_folder(folder, "lab", "Vera Sand");
  g_assert_cmpstr(seen, !=, other); /* each has seen what he has seen */
  Case c;
  double load;
  gint64 looked = 0;
  demo_load(&c, "demo/QB-02.xml");
  g_assert_cmpint(look_back(seen, &c, START_US, &load, &looked), ==, SEEN_NEVER);
  seen_keep(seen, "a.xml", &c, START_US);
  g_assert_cmpint(look_back(other, &c, START_US, &load, &looked), ==, SEEN_NEVER);
  g_assert_cmpint(look_back(seen, &c, START_US + HOUR_US, &load, &looked), ==, SEEN_SAME);
  g_assert_cmpint(looked, ==, START_US);
  const double was = c.order_load_n;
  c.order_load_n += 25;
  g_assert_cmpint(look_back(seen, &c, START_US + HOUR_US, &load, &looked), ==, SEEN_OTHER);
  g_assert_cmpfloat(load, ==, was);
  g_assert_cmpint(looked, ==, START_US);
  seen_keep(seen, "a.xml", &c, START_US + HOUR_US);
  /* he goes on and comes back: still what changed since the look before */
  g_assert_cmpint(look_back(seen, &c, START_US + 2 * HOUR_US, &load, &looked), ==, SEEN_OTHER);
  g_assert_cmpfloat(load, ==, was);
  seen_keep(seen, "a.xml", &c, START_US + 2 * HOUR_US);
  /* the next day it is nothing new */
  g_assert_cmpint(look_back(seen, &c, START_US + 26 * HOUR_US, &load, &looked), ==, SEEN_SAME);
  g_assert_cmpint(looked, ==, START_US + 2 * HOUR_US);
  case_clear(&c);
  folder_clear(seen);
}

/* History and what was approved are no part of a look: they have views of their own. */
static void record_is_no_change(void)
{
  g_autofree char *seen = seen_folder(folder, "lab", "Rosa Tann");
  Case c;
  double load;
  gint64 looked;
  demo_load(&c, "demo/QB-01.xml");
  seen_keep(seen, "a.xml", &c, START_US);
  g_ptr_array_add(c.history, history_entry_new());
  g_assert_cmpint(case_approve(&c), ==, FAULT_NONE);
  g_assert_cmpint(look_back(seen, &c, START_US, &load, &looked), ==, SEEN_SAME);
  case_clear(&c);
  folder_clear(seen);
}

/* Every byte cut off or changed, one after the other: never seen, or as it was, never a crash. */
static void damaged_is_never_seen(void)
{
  g_autofree char *seen = seen_folder(folder, "lab", "Rosa Tann"), *text = NULL;
  Case c;
  double load;
  gint64 looked;
  gsize length;
  demo_load(&c, "demo/QB-01.xml");
  seen_keep(seen, "a.xml", &c, START_US);
  g_autoptr(GDir) dir = g_dir_open(seen, 0, NULL);
  g_autofree char *path = g_build_filename(seen, g_dir_read_name(dir), NULL);
  g_assert_true(g_file_get_contents(path, &text, &length, NULL));
  for (gsize cut = 0; cut < length; cut += 97) {
    g_assert_true(g_file_set_contents(path, text, (gssize)cut, NULL));
    g_assert_cmpint(look_back(seen, &c, START_US, &load, &looked), ==, SEEN_NEVER);
  }
  text[length / 2] = (char)(text[length / 2] ^ 1);
  g_assert_true(g_file_set_contents(path, text, (gssize)length, NULL));
  g_assert_cmpint(look_back(seen, &c, START_US, &load, &looked), ==, SEEN_NEVER);
  seen_keep(seen, "a.xml", &c, START_US); /* and it is mended by the next look */
  g_assert_cmpint(look_back(seen, &c, START_US, &load, &looked), ==, SEEN_SAME);
  case_clear(&c);
  folder_clear(seen);
}

static void folder_is_bounded(void)
{
  g_autofree char *seen = seen_folder(folder, "lab", "Rosa Tann");
  const struct utimbuf long_ago = {1000000000, 1000000000};
  Case c;
  double load;
  gint64 looked;
  g_assert_cmpint(g_mkdir(seen, 0700), ==, 0);
  for (int i = 0; i < DUMMIES; i++) {
    g_autofree char *name = g_strdup_printf("%d.seen", i),
                    *path = g_build_filename(seen, name, NULL);
    FILE *file = fopen(path, "w");
    g_assert_nonnull(file);
    fclose(file);
    g_assert_cmpint(g_utime(path, (struct utimbuf *)&long_ago), ==, 0);
  }
  demo_load(&c, "demo/QB-01.xml");
  seen_keep(seen, "a.xml", &c, START_US);
  guint left = 0;
  g_autoptr(GDir) dir = g_dir_open(seen, 0, NULL);
  while (g_dir_read_name(dir))
    left++;
  g_assert_cmpuint(left, <=, SEEN_FILES_MOST);
  g_assert_cmpuint(left, >, SEEN_FILES_MOST / 2);
  g_assert_cmpint(look_back(seen, &c, START_US, &load, &looked), ==, SEEN_SAME); /* the newest */
  case_clear(&c);
  folder_clear(seen);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/seen/apart", looks_are_told_apart);
  g_test_add_func("/seen/record", record_is_no_change);
  g_test_add_func("/seen/damaged", damaged_is_never_seen);
  g_test_add_func("/seen/bounded", folder_is_bounded);
  return folder_run();
}
