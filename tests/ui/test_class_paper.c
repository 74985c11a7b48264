/* test_class_paper.c - a class written as PDF on a thread: whole, stopped, where nothing can be
 * written, on a disk that is full; no display is opened. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A full disk is a limit on the size of files (setrlimit): a write that goes beyond it fails, as on
 * a device without room. */
#include "practice/class_folder.h"
#include "practice/exercise_set.h"
#include "ui/practice/class_paper_job.h"
#include "wait_for.h"
#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>

#define PATIENCE_S 60
#define TRAINEES 300
#define SHORT_FILE 4096 /* bytes: less than one page */

static GPtrArray *exercises, *rows;
static char *folder, *path;
static gint ended; /* atomic: sets whose last user let them go */

static void changed(void *count)
{
  ++*(int *)count;
}

static void count_end(gpointer data)
{
  (void)data;
  g_atomic_int_inc(&ended);
}

/* The exercises, in an array that tells when the worker lets it go. */
static GPtrArray *set_watched(void)
{
  GPtrArray *set = g_ptr_array_new_with_free_func(count_end);
  for (guint i = 0; i < exercises->len; i++)
    g_ptr_array_add(set, exercises->pdata[i]);
  g_atomic_int_set(&ended, 0);
  return set;
}

static void trainee_put(guint i)
{
  g_autofree char *name = g_strdup_printf("Trainee %u", i),
                  *file = g_strdup_printf("%u.progress", i),
                  *at = g_build_filename(folder, file, NULL);
  g_autoptr(Progress) p = progress_new(name);
  g_assert_true(progress_save(p, at, NULL));
}

static void rows_make(void)
{
  g_autoptr(GError) error = NULL;
  for (guint i = 0; i < TRAINEES; i++)
    trainee_put(i);
  rows = class_read(folder, exercises, NULL, &error);
  g_assert_no_error(error);
  g_assert_cmpuint(rows->len, ==, TRAINEES);
}

static guint files_in_folder(void)
{
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  guint n = 0;
  while (g_dir_read_name(dir))
    n++;
  return n;
}

static void whole_check(const char *file)
{
  g_autofree char *bytes = NULL;
  gsize length;
  g_assert_true(g_file_get_contents(file, &bytes, &length, NULL));
  g_assert_cmpuint(length, >, 1000);
  g_assert_cmpint(memcmp(bytes, "%PDF-", 5), ==, 0);
  g_assert_nonnull(strstr(bytes + length - 8, "%%EOF"));
}

/* The window is not kept: the call comes back before it is written.  The rows may go meanwhile. */
static void test_written(void)
{
  int told = 0;
  GPtrArray *shown = g_ptr_array_new_with_free_func(class_row_unref);
  for (guint i = 0; i < rows->len; i++)
    g_ptr_array_add(shown, class_row_ref(rows->pdata[i]));
  ClassPaperJob *job = class_paper_job_new(shown, exercises, PAPER_A4, path, changed, &told);
  g_assert_false(g_file_test(path, G_FILE_TEST_EXISTS));
  g_ptr_array_unref(shown);
  const ClassPaperState *state = class_paper_job_state(job);
  g_assert_cmpuint(state->of, ==, TRAINEES);
  g_assert_cmpstr(class_paper_job_path(job), ==, path);
  WAIT_FOR(state->done > 0, PATIENCE_S);
  WAIT_FOR(state->over, PATIENCE_S);
  g_assert_null(state->trouble);
  g_assert_cmpuint(state->done, ==, TRAINEES);
  g_assert_cmpint(told, >, 1);
  whole_check(path);
  class_paper_job_free(job);
  g_assert_cmpint(g_remove(path), ==, 0);
}

/* Nothing is told afterwards and no file comes. */
static void test_stopped(void)
{
  int told = 0;
  GPtrArray *set = set_watched();
  ClassPaperJob *job = class_paper_job_new(rows, set, PAPER_A4, path, changed, &told);
  bool none = class_paper_job_stop(job);
  class_paper_job_free(job);
  g_ptr_array_unref(set);
  g_assert_true(none);
  WAIT_FOR(g_atomic_int_get(&ended) > 0, PATIENCE_S);
  g_assert_false(g_file_test(path, G_FILE_TEST_EXISTS));
  g_assert_cmpint(told, ==, 0);
}

/* The dialog is closed: what was asked for comes all the same. */
static void test_left(void)
{
  int told = 0;
  GPtrArray *set = set_watched();
  class_paper_job_free(class_paper_job_new(rows, set, PAPER_A4, path, changed, &told));
  g_ptr_array_unref(set);
  WAIT_FOR(g_atomic_int_get(&ended) > 0, PATIENCE_S);
  whole_check(path);
  g_assert_cmpint(told, ==, 0);
  g_assert_cmpint(g_remove(path), ==, 0);
}

/* What is told when it cannot be written there. */
static void refused(const char *at, const char *file, const char *remedy)
{
  int told = 0;
  guint before = files_in_folder();
  ClassPaperJob *job = class_paper_job_new(rows, exercises, PAPER_A4, at, changed, &told);
  const ClassPaperState *state = class_paper_job_state(job);
  WAIT_FOR(state->over, PATIENCE_S);
  g_assert_nonnull(state->trouble);
  g_test_message("%s", state->trouble);
  g_assert_nonnull(strstr(state->trouble, file));
  g_assert_nonnull(strstr(state->trouble, remedy));
  class_paper_job_free(job);
  g_assert_cmpuint(files_in_folder(), ==, before); /* nothing half written is left */
}

static void test_unwritable(void)
{
  g_autofree char *in_file = g_build_filename(folder, "0.progress", "class.pdf", NULL),
                  *nowhere = g_build_filename(folder, "gone", "class.pdf", NULL);
  refused(in_file, in_file, "choose another folder");
  refused(nowhere, nowhere, "choose another folder");
  refused(folder, folder, "add a file name");
}

/* The paper of before stays as it was. */
static void test_full(void)
{
  struct rlimit whole, little;
  g_autofree char *bytes = NULL;
  g_assert_true(g_file_set_contents(path, "of before", -1, NULL));
  g_assert_cmpint(getrlimit(RLIMIT_FSIZE, &whole), ==, 0);
  little = whole;
  little.rlim_cur = SHORT_FILE;
  void (*handler)(int) = signal(SIGXFSZ, SIG_IGN);
  g_assert_cmpint(setrlimit(RLIMIT_FSIZE, &little), ==, 0);
  refused(path, path, "save to another place");
  g_assert_cmpint(setrlimit(RLIMIT_FSIZE, &whole), ==, 0);
  signal(SIGXFSZ, handler);
  g_assert_true(g_file_get_contents(path, &bytes, NULL, NULL));
  g_assert_cmpstr(bytes, ==, "of before");
  g_assert_cmpint(g_remove(path), ==, 0);
}

static void folder_remove(void)
{
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  const char *name;
  while ((name = g_dir_read_name(dir)) != NULL) {
    g_autofree char *file = g_build_filename(folder, name, NULL);
    g_remove(file);
  }
  g_rmdir(folder);
}

int main(int argc, char *argv[])
{
  g_test_init(&argc, &argv, NULL);
  exercises = exercises_all(NULL, NULL);
  folder = g_dir_make_tmp("soffit-paper-XXXXXX", NULL);
  path = g_build_filename(folder, "class.pdf", NULL);
  rows_make();
  g_test_add_func("/class_paper/written", test_written);
  g_test_add_func("/class_paper/stopped", test_stopped);
  g_test_add_func("/class_paper/left", test_left);
  g_test_add_func("/class_paper/unwritable", test_unwritable);
  g_test_add_func("/class_paper/full", test_full);
  int status = g_test_run();
  folder_remove();
  g_ptr_array_unref(rows);
  g_ptr_array_unref(exercises);
  g_free(path);
  g_free(folder);
  return status;
}
