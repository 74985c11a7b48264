/* test_session_lock.c - two sessions on one case: reading, remarks, taking over, saves that meet.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/case_xml.h"
#include "casefile/shipped.h"
#include "ui/session.h"
#include <glib/gstdio.h>
#include <stdint.h>
#include <string.h>

static char *folder, *path;

static Fault run_nothing(Assessor *assessor, const Case *c, const AssessSettings *settings,
                         Assessment **result)
{
  (void)assessor, (void)c, (void)settings, (void)result;
  return FAULT_NO_NECK;
}

static SoffitSession *opened(void)
{
  SoffitSession *session = session_new("", run_nothing);
  GError *error = NULL;
  session_open(session, path, &error);
  g_assert_no_error(error);
  return session;
}

static void file_make(void)
{
  GBytes *demo = shipped_file("demo/QB-04.xml");
  g_assert_true(g_file_set_contents(path, g_bytes_get_data(demo, NULL),
                                    (gssize)g_bytes_get_size(demo), NULL));
  g_bytes_unref(demo);
}

static void folder_clear(void)
{
  GDir *dir = g_dir_open(folder, 0, NULL);
  const char *name;
  while ((name = g_dir_read_name(dir)) != NULL) {
    g_autofree char *file = g_build_filename(folder, name, NULL);
    g_assert_false(g_str_has_suffix(name, ".lock")); /* all were let go */
    g_unlink(file);
  }
  g_dir_close(dir);
}

static void load_set(SoffitSession *session, double force)
{
  Case *c = session_edit_begin(session, "Change the load");
  g_assert_nonnull(c);
  c->order_load_n = force;
  g_assert_true(session_edit_end(session));
}

static void save(SoffitSession *session)
{
  GError *error = NULL;
  session_save(session, NULL, &error);
  g_assert_no_error(error);
  g_assert_false(session_modified(session));
}

static void on_disk(Case *c)
{
  GError *error = NULL;
  case_init(c);
  case_load(c, path, &error);
  g_assert_no_error(error);
}

static double load_on_disk(void)
{
  Case c;
  on_disk(&c);
  double load = c.order_load_n;
  case_clear(&c);
  return load;
}

static guint remarks_of(SoffitSession *session)
{
  return session_case(session)->remark->len;
}

static void refused(SoffitSession *session, void *data)
{
  (void)session;
  ++*(int *)data;
}

static void test_reading(void)
{
  file_make();
  SoffitSession *anna = opened(), *bert = opened();
  int n = 0;
  g_signal_connect(bert, "edit-refused", G_CALLBACK(refused), &n);
  g_assert_false(session_read_only(anna));
  g_assert_true(session_read_only(bert));
  g_assert_cmpint(session_lock_state(bert), ==, LOCK_OTHERS);
  g_assert_cmpuint(strlen(session_lock_holder(bert)->name), >, 0);
  g_assert_null(session_edit_begin(bert, "Change the load"));
  g_assert_cmpint(session_edit_fault(bert), ==, FAULT_READING);
  g_assert_cmpint(n, ==, 1);
  session_set_trial(bert, 3, 450); /* looking is no change */
  g_assert_cmpfloat(session_case(bert)->trial.force_n, ==, 450);
  g_assert_false(session_modified(bert));
  SoffitSession *other = session_new("", run_nothing);
  GError *error = NULL;
  session_open_demo(other, "demo/QB-01.xml", &error);
  g_assert_no_error(error);
  g_assert_false(session_save(other, path, &error)); /* not over a case that somebody has open */
  g_assert_error(error, CASE_ERROR, CASE_ERROR_SAVE);
  g_clear_error(&error);
  session_close(anna);
  g_assert_true(session_take_lock(bert, false));
  g_assert_false(session_read_only(bert));
  g_object_unref(other);
  g_object_unref(anna);
  g_object_unref(bert);
  folder_clear();
}

/* A reader's remark comes into the work of whoever has the case, and no undo takes it away. */
static void test_remark(void)
{
  file_make();
  SoffitSession *anna = opened(), *bert = opened();
  GError *error = NULL;
  load_set(anna, 500);
  g_assert_true(session_remark(bert, 0, point(0.5, 1), "too thin", &error));
  g_assert_cmpuint(remarks_of(bert), ==, 1);
  g_assert_false(session_modified(bert));
  save(anna);
  g_assert_cmpuint(remarks_of(anna), ==, 1);
  g_assert_cmpfloat(load_on_disk(), ==, 500);
  g_assert_true(session_undo(anna));
  g_assert_cmpuint(remarks_of(anna), ==, 1);
  save(anna);
  Case c;
  on_disk(&c);
  g_assert_cmpuint(c.remark->len, ==, 1);
  const Remark *remark = c.remark->pdata[0];
  g_assert_cmpstr(remark->text, ==, "too thin");
  g_assert_cmpuint(remark->connector, ==, 0);
  g_assert_cmpfloat(remark->at.x, ==, 0.5);
  case_clear(&c);
  g_assert_true(session_remark(anna, SIZE_MAX, point(NAN, NAN), "mine is an edit", &error));
  g_assert_true(session_modified(anna));
  g_assert_cmpstr(session_undo_name(anna), ==, "Add a remark");
  g_object_unref(anna);
  g_object_unref(bert);
  folder_clear();
}

static void conflict_is(SoffitSession *session)
{
  g_autoptr(GError) error = NULL;
  g_assert_false(session_save(session, NULL, &error));
  g_assert_error(error, CASE_ERROR, CASE_ERROR_CHANGED);
  g_assert_nonnull(session_kept_beside(session));
  g_assert_true(session_modified(session));
}

static void test_saves_meet(void)
{
  file_make();
  SoffitSession *anna = opened(), *bert = opened();
  GError *error = NULL;
  load_set(anna, 500);
  g_assert_true(session_take_lock(bert, true));
  load_set(bert, 700);
  save(bert);
  guint entries = session_case(anna)->history->len;
  conflict_is(anna);
  g_assert_cmpfloat(load_on_disk(), ==, 700);
  g_autofree char *kept = g_strdup(session_kept_beside(anna));
  conflict_is(anna); /* no second copy of the same */
  g_assert_cmpstr(kept, ==, session_kept_beside(anna));
  g_assert_cmpuint(session_case(anna)->history->len, ==, entries); /* nothing was saved: no entry */
  Case mine;
  case_init(&mine);
  case_load(&mine, kept, &error);
  g_assert_no_error(error);
  g_assert_cmpfloat(mine.order_load_n, ==, 500);
  g_assert_cmpint(chain_check(&mine).state, ==, CHAIN_WHOLE);
  case_clear(&mine);
  SessionMerge *merge = session_merge_new(anna, &error);
  g_assert_no_error(error);
  g_assert_cmpuint(merge->rows->len, ==, 1);
  g_array_index(merge->rows, MergeRow, 0).choice = MERGE_MINE;
  load_set(bert, 710); /* he goes on and saves once more: to be chosen anew */
  save(bert);
  g_assert_false(session_merge_end(anna, merge, &error));
  g_assert_error(error, CASE_ERROR, CASE_ERROR_CHANGED);
  g_clear_error(&error);
  g_assert_cmpfloat(load_on_disk(), ==, 710);
  session_merge_free(merge);
  merge = session_merge_new(anna, &error);
  g_array_index(merge->rows, MergeRow, 0).choice = MERGE_MINE;
  session_merge_end(anna, merge, &error);
  g_assert_no_error(error);
  session_merge_free(merge);
  g_assert_false(session_read_only(anna) || session_modified(anna));
  g_assert_cmpstr(session_undo_name(anna), ==, "Merge with what was saved");
  Case c;
  on_disk(&c);
  g_assert_cmpfloat(c.order_load_n, ==, 500);
  g_assert_cmpint(chain_check(&c).state, ==, CHAIN_WHOLE);
  guint merges = 0;
  for (guint i = 0; i < c.history->len; i++)
    merges += ((HistoryEntry *)c.history->pdata[i])->kind == ENTRY_MERGE;
  g_assert_cmpuint(merges, ==, 1);
  case_clear(&c);
  load_set(bert, 720); /* does not know yet that it was taken back from him */
  conflict_is(bert);
  g_assert_cmpfloat(load_on_disk(), ==, 500);
  g_object_unref(anna);
  g_object_unref(bert);
  folder_clear();
}

/* Another program that knows no locks; and a file that was taken away. */
static void test_changed_outside(void)
{
  file_make();
  SoffitSession *anna = opened();
  Case c;
  GError *error = NULL;
  load_set(anna, 500);
  on_disk(&c);
  c.order_load_n = 650;
  case_save(&c, path, &error);
  g_assert_no_error(error);
  case_clear(&c);
  conflict_is(anna);
  g_assert_true(session_file_differs(anna));
  g_assert_cmpfloat(load_on_disk(), ==, 650);
  g_unlink(path);
  save(anna); /* nothing there to be overwritten */
  g_assert_cmpfloat(load_on_disk(), ==, 500);
  g_object_unref(anna);
  folder_clear();
}

int main(int argc, char **argv)
{
  folder = g_dir_make_tmp("soffit-XXXXXX", NULL);
  path = g_build_filename(folder, "QB-04.xml", NULL);
  g_autofree char *config = g_build_filename(folder, "config", NULL);
  g_setenv("XDG_CONFIG_HOME", config, TRUE);
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/session_lock/reading", test_reading);
  g_test_add_func("/session_lock/remark", test_remark);
  g_test_add_func("/session_lock/saves meet", test_saves_meet);
  g_test_add_func("/session_lock/changed outside", test_changed_outside);
  int status = g_test_run();
  if (status == 0)
    g_assert_cmpint(g_rmdir(folder), ==, 0);
  return status;
}
