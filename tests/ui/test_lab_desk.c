/* test_lab_desk.c - the list of a lab follows its folder: other people's changes, half files, a
 * share that goes and comes; no display is opened. SPDX-License-Identifier: GPL-3.0-or-later */
#include "../core/case_files.h"
#include "ui/review/lab_desk.h"
#include <string.h>

#define WAIT_S 60

static const LabDeskSettings by_monitor = {
    .threads = 2, .monitor = true, .poll_ms = 60000, .settle_ms = 100, .cache_dir = ""};
static const LabDeskSettings by_clock = {
    .threads = 2, .poll_ms = 20, .settle_ms = 100, .cache_dir = ""};

/* A lab folder inside the one of the test. */
static char *lab_make(void)
{
  char *lab = in_folder("lab");
  g_assert_cmpint(g_mkdir(lab, 0777), ==, 0);
  return lab;
}

static void lab_take_away(const char *lab)
{
  g_autoptr(GDir) dir = g_dir_open(lab, 0, NULL);
  const char *name;
  while ((name = g_dir_read_name(dir)) != NULL) {
    g_autofree char *path = g_build_filename(lab, name, NULL);
    g_assert_cmpint(g_remove(path), ==, 0);
  }
  g_assert_cmpint(g_rmdir(lab), ==, 0);
}

static void put(const char *lab, const char *name, const char *text, gssize length)
{
  g_autofree char *path = g_build_filename(lab, name, NULL);
  g_assert_true(g_file_set_contents_full(path, text, length, G_FILE_SET_CONTENTS_NONE, 0666, NULL));
}

static void put_demo(const char *lab, const char *name, const char *demo, const char *number)
{
  g_autofree char *text = shipped_text(demo);
  g_autoptr(GString) other = g_string_new(text);
  char *at = strstr(other->str, "number=\"") + strlen("number=\"");
  gssize from = at - other->str;
  g_string_erase(other, from, strchr(at, '"') - at);
  g_string_insert(other, from, number);
  put(lab, name, other->str, (gssize)other->len);
}

/* ---- waiting for what is to come ---- */

typedef bool (*Wanted)(SoffitLabDesk *desk);

static gboolean wake_up(void *data)
{
  (void)data;
  return G_SOURCE_CONTINUE;
}

static void wait_for(SoffitLabDesk *desk, Wanted wanted)
{
  guint tick = g_timeout_add(20, wake_up, NULL);
  gint64 end = g_get_monotonic_time() + WAIT_S * G_USEC_PER_SEC;
  while (!wanted(desk) && g_get_monotonic_time() < end)
    g_main_context_iteration(NULL, TRUE);
  g_source_remove(tick);
  g_assert_true(wanted(desk));
}

static bool is_over(SoffitLabDesk *desk)
{
  return lab_desk_progress(desk).over;
}

static const LabRow *row_of(SoffitLabDesk *desk, const char *file)
{
  SoffitLabItem *item = lab_desk_find(desk, file);
  return item ? lab_item_row(item) : NULL;
}

static bool b_is_there(SoffitLabDesk *desk)
{
  return row_of(desk, "b.xml") && is_over(desk);
}

static bool b_holds_other_number(SoffitLabDesk *desk)
{
  const LabRow *row = row_of(desk, "b.xml");
  return row && strcmp(row->number, "N-3") == 0 && row->state == ROW_READY;
}

static bool b_became_c(SoffitLabDesk *desk)
{
  return !row_of(desk, "b.xml") && row_of(desk, "c.xml") && is_over(desk);
}

static bool only_a(SoffitLabDesk *desk)
{
  return lab_desk_progress(desk).files == 1 && row_of(desk, "a.xml");
}

/* Somebody else writes, changes, renames and deletes. */
static void others_work(const LabDeskSettings *settings)
{
  g_autofree char *lab = lab_make(), *b = g_build_filename(lab, "b.xml", NULL),
                  *c = g_build_filename(lab, "c.xml", NULL);
  put_demo(lab, "a.xml", "demo/QB-01.xml", "N-1");
  g_autoptr(SoffitLabDesk) desk = lab_desk_new(settings);
  lab_desk_open(desk, lab);
  wait_for(desk, is_over);
  const LabRow *a = row_of(desk, "a.xml");
  g_assert_cmpint(a->state, ==, ROW_READY);
  g_assert_cmpstr(a->number, ==, "N-1");
  g_assert_cmpuint(g_list_model_get_n_items(G_LIST_MODEL(desk)), ==, 1);
  put_demo(lab, "b.xml", "demo/QB-02.xml", "N-2");
  wait_for(desk, b_is_there);
  g_assert_cmpint(row_of(desk, "b.xml")->verdict, ==, VERDICT_REWORK);
  put_demo(lab, "b.xml", "demo/QB-02.xml", "N-3");
  wait_for(desk, b_holds_other_number);
  g_assert_cmpint(g_rename(b, c), ==, 0);
  wait_for(desk, b_became_c);
  g_assert_cmpint(g_remove(c), ==, 0);
  wait_for(desk, only_a);
  g_assert_null(lab_desk_trouble(desk));
  lab_take_away(lab);
}

static void test_monitor(void)
{
  others_work(&by_monitor);
}

static void test_clock(void)
{
  others_work(&by_clock);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/lab_desk/monitor", test_monitor);
  g_test_add_func("/lab_desk/clock", test_clock);
  return folder_run();
}
