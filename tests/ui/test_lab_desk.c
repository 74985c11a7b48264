/* test_lab_desk.c - the list of a lab follows its folder: other people's changes, half files, a
 * share that goes and comes; no display is opened. SPDX-License-Identifier: GPL-3.0-or-later */
#include "../core/case_files.h"
#include "wait_for.h"
#include "lab/lab_cache.h"
#include "ui/review/lab_desk.h"
#include "ui/review/lab_round.h"
#include <stdio.h>
#include <string.h>
#include <utime.h>

#define WAIT_S 60

static const LabDeskSettings by_monitor = {
    .threads = 2, .monitor = true, .poll_ms = 60000, .settle_ms = 300, .cache_dir = ""};
static const LabDeskSettings by_clock = {
    .threads = 2, .poll_ms = 20, .settle_ms = 300, .cache_dir = ""};

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

/* In place, as other programs write: for a moment the file is there and empty. */
static void put(const char *lab, const char *name, const char *text, size_t length)
{
  g_autofree char *path = g_build_filename(lab, name, NULL);
  FILE *file = fopen(path, "wb");
  g_assert_nonnull(file);
  g_assert_cmpuint(fwrite(text, 1, length, file), ==, length);
  g_assert_cmpint(fclose(file), ==, 0);
}

static void put_demo(const char *lab, const char *name, const char *demo, const char *number)
{
  g_autofree char *text = shipped_text(demo);
  g_autoptr(GString) other = g_string_new(text);
  char *at = strstr(other->str, "number=\"") + strlen("number=\"");
  gssize from = at - other->str;
  g_string_erase(other, from, strchr(at, '"') - at);
  g_string_insert(other, from, number);
  put(lab, name, other->str, other->len);
}

/* ---- waiting for what is to come ---- */

#define wait_for(desk, wanted) WAIT_FOR(wanted(desk), WAIT_S)

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
  const LabRow *row = row_of(desk, "b.xml"); /* for a moment it is there and empty */
  return row && row->state == ROW_READY && is_over(desk);
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

/* ---- a share that goes and comes ---- */

static bool is_away(SoffitLabDesk *desk)
{
  return lab_desk_away(desk);
}

static bool is_back(SoffitLabDesk *desk)
{
  return !lab_desk_away(desk) && is_over(desk);
}

static void state_changed(SoffitLabDesk *desk, void *times)
{
  (void)desk;
  ++*(int *)times;
}

static void share_goes(const LabDeskSettings *settings)
{
  g_autofree char *lab = lab_make(), *elsewhere = in_folder("elsewhere");
  int told = 0;
  put_demo(lab, "a.xml", "demo/QB-01.xml", "N-1");
  g_autoptr(SoffitLabDesk) desk = lab_desk_new(settings);
  g_signal_connect(desk, "state-changed", G_CALLBACK(state_changed), &told);
  lab_desk_open(desk, lab);
  wait_for(desk, is_over);
  double margin = row_of(desk, "a.xml")->margin.value;
  told = 0;
  g_assert_cmpint(g_rename(lab, elsewhere), ==, 0);
  wait_for(desk, is_away);
  g_assert_cmpint(told, ==, 1);
  g_assert_nonnull(lab_desk_trouble(desk));
  g_assert_cmpuint(row_of(desk, "a.xml")->troubles, ==, TROUBLE_AWAY);
  g_assert_nonnull(strstr(row_of(desk, "a.xml")->trouble, "as last seen"));
  g_assert_cmpfloat(row_of(desk, "a.xml")->margin.value, ==, margin);
  lab_desk_written(desk, "a.xml"); /* a reading that fails meanwhile takes nothing away */
  put_demo(elsewhere, "b.xml", "demo/QB-01.xml", "N-2");
  wait_for(desk, is_over);
  g_assert_cmpfloat(row_of(desk, "a.xml")->margin.value, ==, margin);
  g_assert_cmpint(g_rename(elsewhere, lab), ==, 0);
  lab_desk_rescan(desk); /* a person who cannot wait */
  wait_for(desk, is_back);
  wait_for(desk, b_is_there);
  g_assert_cmpint(told, ==, 2);
  g_assert_null(lab_desk_trouble(desk));
  g_assert_cmpstr(row_of(desk, "a.xml")->trouble, ==, "");
  put_demo(lab, "b.xml", "demo/QB-02.xml", "N-3"); /* followed as before */
  wait_for(desk, b_holds_other_number);
  lab_take_away(lab);
}

static void test_away(void)
{
  share_goes(&by_clock);
}

static void test_away_monitored(void)
{
  share_goes(&by_monitor);
}

static bool has_trouble(SoffitLabDesk *desk)
{
  return lab_desk_trouble(desk) != NULL;
}

static bool a_is_there(SoffitLabDesk *desk)
{
  return row_of(desk, "a.xml") && is_over(desk);
}

/* A folder that is not there yet. */
static void test_no_folder(void)
{
  g_autofree char *lab = in_folder("lab");
  g_autoptr(SoffitLabDesk) desk = lab_desk_new(&by_clock);
  lab_desk_open(desk, lab);
  wait_for(desk, has_trouble);
  g_assert_false(lab_desk_progress(desk).listed);
  g_autofree char *made = lab_make();
  put_demo(made, "a.xml", "demo/QB-01.xml", "N-1");
  wait_for(desk, a_is_there);
  g_assert_null(lab_desk_trouble(desk));
  lab_take_away(lab);
}

/* ---- bad files ---- */

static bool a_is_growing(SoffitLabDesk *desk)
{
  const LabRow *row = row_of(desk, "a.xml");
  return row && row->troubles == (TROUBLE_GROWING | TROUBLE_UNREADABLE);
}

static bool a_is_broken(SoffitLabDesk *desk)
{
  const LabRow *row = row_of(desk, "a.xml");
  return row && row->troubles == TROUBLE_UNREADABLE;
}

static bool a_is_ready(SoffitLabDesk *desk)
{
  const LabRow *row = row_of(desk, "a.xml");
  return row && row->state == ROW_READY;
}

/* Half a file is growing for a desk that is patient, and cut off for one that is not; both read it
 * when the rest comes, and the other row never changes. */
static void test_half_copied(void)
{
  g_autofree char *lab = lab_make(), *text = shipped_text("demo/QB-01.xml");
  g_autofree char *a = g_build_filename(lab, "a.xml", NULL);
  LabDeskSettings settings = by_clock;
  settings.settle_ms = 10 * 60 * 1000;
  put_demo(lab, "b.xml", "demo/QB-03.xml", "N-2");
  g_autoptr(SoffitLabDesk) patient = lab_desk_new(&settings), hasty = lab_desk_new(&by_clock);
  lab_desk_open(patient, lab);
  lab_desk_open(hasty, lab);
  wait_for(patient, b_is_there);
  wait_for(hasty, b_is_there);
  const LabRow *b = row_of(patient, "b.xml");
  put(lab, "a.xml", text, strlen(text) / 2);
  wait_for(patient, a_is_growing);
  g_assert_nonnull(strstr(row_of(patient, "a.xml")->trouble, "Still being copied"));
  wait_for(hasty, a_is_broken);
  g_assert_nonnull(strstr(row_of(hasty, "a.xml")->trouble, "Line "));
  FILE *rest = fopen(a, "ab");
  g_assert_cmpint(fputs(text + strlen(text) / 2, rest), >=, 0);
  g_assert_cmpint(fclose(rest), ==, 0);
  wait_for(patient, a_is_ready);
  wait_for(hasty, a_is_ready);
  g_assert_cmpstr(row_of(hasty, "a.xml")->trouble, ==, "");
  g_assert_true(row_of(patient, "b.xml") == b);
  lab_take_away(lab);
}

static bool twins_are_told(SoffitLabDesk *desk)
{
  const LabRow *a = row_of(desk, "a.xml"), *b = row_of(desk, "b.xml");
  return a && b && a->troubles == TROUBLE_DUPLICATE && b->troubles == TROUBLE_DUPLICATE;
}

static bool twins_are_gone(SoffitLabDesk *desk)
{
  return is_over(desk) && row_of(desk, "a.xml")->troubles == 0;
}

static void test_twins(void)
{
  g_autofree char *lab = lab_make();
  put_demo(lab, "a.xml", "demo/QB-01.xml", "N-1");
  put_demo(lab, "b.xml", "demo/QB-03.xml", "N-1");
  g_autoptr(SoffitLabDesk) desk = lab_desk_new(&by_monitor);
  lab_desk_open(desk, lab);
  wait_for(desk, twins_are_told);
  put_demo(lab, "b.xml", "demo/QB-03.xml", "N-2");
  wait_for(desk, twins_are_gone);
  lab_take_away(lab);
}

/* ---- thresholds ---- */

static bool judged_by_two(SoffitLabDesk *desk)
{
  const LabRow *row = row_of(desk, "a.xml");
  return row && row->limits.holds_margin > 1.99 && is_over(desk);
}

static bool judged_by_three(SoffitLabDesk *desk)
{
  const LabRow *row = row_of(desk, "a.xml");
  return row && row->limits.holds_margin > 2.99 && is_over(desk);
}

static void test_thresholds(void)
{
  const Person by = {(char *)"Vera", (char *)"supervisor", (char *)"VS"};
  g_autofree char *lab = lab_make();
  g_autoptr(GError) error = NULL;
  put_demo(lab, "a.xml", "demo/QB-01.xml", "N-1");
  g_autoptr(SoffitLabDesk) desk = lab_desk_new(&by_clock);
  lab_desk_open(desk, lab);
  wait_for(desk, is_over);
  g_assert_true(lab_desk_set_limits(desk, &(VerdictLimits){1, 2}, &by, &error));
  wait_for(desk, judged_by_two);
  g_assert_cmpstr(lab_settings_now(lab_desk_lab(desk)->settings)->by, ==, "Vera, supervisor");
  /* by another window or hand */
  g_assert_true(lab_settings_set_limits(lab, &(VerdictLimits){1, 3}, &by, 0, &error));
  wait_for(desk, judged_by_three);
  put(lab, "lab.ini", "[thresholds 1]\nclose-margin=x\n", 30);
  wait_for(desk, has_trouble);
  g_assert_nonnull(strstr(lab_desk_trouble(desk), "lab.ini:2"));
  wait_for(desk, is_over);
  lab_take_away(lab);
}

/* ---- what is on the screen ---- */

static bool is_listed(SoffitLabDesk *desk)
{
  return lab_desk_progress(desk).listed;
}

static bool z_is_ready(SoffitLabDesk *desk)
{
  return row_of(desk, "z.xml")->state == ROW_READY;
}

/* The last by name comes first when somebody looks at it. */
static void test_look(void)
{
  static const char *const seen[] = {"z.xml", "not-there.xml"};
  LabDeskSettings settings = by_clock;
  settings.threads = 1;
  g_autofree char *lab = lab_make();
  for (int i = 0; i < 40; i++) {
    g_autofree char *name = g_strdup_printf("%02d.xml", i);
    put_demo(lab, name, "demo/QB-01.xml", name);
  }
  put_demo(lab, "z.xml", "demo/QB-01.xml", "z");
  g_autoptr(SoffitLabDesk) desk = lab_desk_new(&settings);
  lab_desk_open(desk, lab);
  wait_for(desk, is_listed);
  g_assert_cmpuint(lab_desk_progress(desk).files, ==, 41);
  lab_desk_look_at(desk, seen, G_N_ELEMENTS(seen));
  wait_for(desk, z_is_ready);
  g_assert_false(is_over(desk));
  g_assert_cmpuint(lab_desk_progress(desk).ready, <, 20);
  lab_take_away(lab);
}

/* ---- the cache ---- */

static int rows_changed;
static void row_changed(SoffitLabDesk *desk, SoffitLabItem *item, void *data)
{
  (void)desk, (void)item, (void)data;
  rows_changed++;
}

/* Written long ago. */
static void settle(const char *lab, const char *name)
{
  g_autofree char *path = g_build_filename(lab, name, NULL);
  g_assert_cmpint(g_utime(path, &(struct utimbuf){1772000000, 1772000000}), ==, 0);
}

/* The second time nothing is assessed. */
static void test_cache(void)
{
  g_autofree char *lab = lab_make(), *cache = in_folder("cache"),
                  *path = lab_cache_path(cache, lab);
  LabDeskSettings settings = by_clock;
  settings.cache_dir = cache;
  put_demo(lab, "a.xml", "demo/QB-01.xml", "N-1");
  settle(lab, "a.xml");
  for (int round = 0; round < 2; round++) {
    g_autoptr(SoffitLabDesk) desk = lab_desk_new(&settings);
    g_signal_connect(desk, "row-changed", G_CALLBACK(row_changed), NULL);
    rows_changed = 0;
    lab_desk_open(desk, lab);
    wait_for(desk, is_over);
    g_assert_true(a_is_ready(desk));
    g_assert_cmpint(rows_changed, ==, round ? 0 : 2); /* read, assessed */
  }
  g_assert_cmpint(g_remove(path), ==, 0);
  g_assert_cmpint(g_rmdir(cache), ==, 0);
  lab_take_away(lab);
}

static bool one_by_two(SoffitLabDesk *desk)
{
  for (guint i = 0; i < g_list_model_get_n_items(G_LIST_MODEL(desk)); i++) {
    g_autoptr(SoffitLabItem) item = g_list_model_get_item(G_LIST_MODEL(desk), i);
    if (lab_item_row(item)->limits.holds_margin > 1.99)
      return true;
  }
  return false;
}

/* Closed in the middle of judging anew: what was judged by the thresholds before is not kept as if
 * it were by those of now. */
static void test_cache_limits(void)
{
  const Person by = {(char *)"Vera", (char *)"supervisor", (char *)"VS"};
  g_autofree char *lab = lab_make(), *cache = in_folder("cache"),
                  *path = lab_cache_path(cache, lab), *trouble = NULL;
  LabDeskSettings settings = by_clock;
  settings.cache_dir = cache;
  settings.threads = 1;
  for (int i = 0; i < 6; i++) {
    g_autofree char *name = g_strdup_printf("%02d.xml", i);
    put_demo(lab, name, "demo/QB-01.xml", name);
    settle(lab, name);
  }
  SoffitLabDesk *desk = lab_desk_new(&settings);
  lab_desk_open(desk, lab);
  wait_for(desk, is_over);
  lab_desk_close(desk); /* kept, and nothing is written later by a thread */
  lab_desk_open(desk, lab);
  wait_for(desk, is_over);
  g_assert_true(lab_desk_set_limits(desk, &(VerdictLimits){1, 2}, &by, NULL));
  wait_for(desk, one_by_two);
  g_object_unref(desk);
  g_autoptr(Lab) now = lab_new(lab, &trouble);
  g_autoptr(GHashTable) kept = lab_cache_load(path, now);
  g_assert_cmpuint(g_hash_table_size(kept), >, 0);
  GHashTableIter all;
  void *row;
  g_hash_table_iter_init(&all, kept);
  while (g_hash_table_iter_next(&all, NULL, &row))
    g_assert_cmpfloat(((LabRow *)row)->limits.holds_margin, ==, 2);
  g_assert_cmpint(g_remove(path), ==, 0);
  g_assert_cmpint(g_rmdir(cache), ==, 0);
  lab_take_away(lab);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/lab_desk/monitor", test_monitor);
  g_test_add_func("/lab_desk/clock", test_clock);
  g_test_add_func("/lab_desk/away", test_away);
  g_test_add_func("/lab_desk/away_monitored", test_away_monitored);
  g_test_add_func("/lab_desk/no_folder", test_no_folder);
  g_test_add_func("/lab_desk/half_copied", test_half_copied);
  g_test_add_func("/lab_desk/twins", test_twins);
  g_test_add_func("/lab_desk/thresholds", test_thresholds);
  g_test_add_func("/lab_desk/look", test_look);
  g_test_add_func("/lab_desk/cache", test_cache);
  g_test_add_func("/lab_desk/cache_limits", test_cache_limits);
  int status = folder_run();
  g_assert_true(
      lab_rounds_over(60000)); /* what they had in hand: no thread outlives the libraries */
  return status;
}
