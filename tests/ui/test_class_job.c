/* test_class_job.c - the progress of a class read on a thread: rows, files left out, a folder that
 * never answers; no display is opened. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A file that never answers is a named pipe that nobody writes: opening it waits, as on a share
 * whose machine is gone. */
#include "practice/exercise_set.h"
#include "ui/practice/class_job.h"
#include "wait_for.h"
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define PATIENCE_S 60

static GPtrArray *set;
static char *folder;

static void changed(void *count)
{
  ++*(int *)count;
}

static char *in_folder(const char *name)
{
  return g_build_filename(folder, name, NULL);
}

static void trainee_put(const char *name)
{
  g_autofree char *file = g_strconcat(name, PROGRESS_ENDING, NULL), *path = in_folder(file);
  g_autoptr(Progress) p = progress_new(name);
  g_autoptr(GError) error = NULL;
  progress_save(p, path, &error);
  g_assert_no_error(error);
}

static void folder_empty(void)
{
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  const char *name;
  while ((name = g_dir_read_name(dir)) != NULL) {
    g_autofree char *path = in_folder(name);
    g_assert_cmpint(g_remove(path), ==, 0);
  }
}

static void trainee_check(const ClassState *state, guint i, const char *name)
{
  g_assert_cmpuint(i, <, state->row->len);
  g_assert_cmpstr(((const ClassRow *)state->row->pdata[i])->progress->trainee, ==, name);
}

/* Those that can be read in the order of their names; the others told, each with its reason. */
static void test_rows(void)
{
  int told = 0;
  trainee_put("Ada");
  trainee_put("Cleo");
  trainee_put("Emil");
  g_autofree char *cut = in_folder("Bo.progress"), *closed = in_folder("Dora.progress"),
                  *other = in_folder("list.txt");
  g_assert_true(g_file_set_contents(cut, "[progress]\n", -1, NULL));
  g_assert_cmpint(g_mkdir(closed, 0700), ==, 0); /* no file: it opens, but is not to be read */
  g_assert_true(g_file_set_contents(other, "no progress", -1, NULL));
  ClassJob *job = class_job_new(folder, set, changed, &told);
  const ClassState *state = class_job_state(job);
  WAIT_FOR(state->over, PATIENCE_S);
  g_assert_null(state->trouble);
  g_assert_cmpint(told, >, 0);
  g_assert_cmpuint(state->of, ==, 5);
  g_assert_cmpuint(state->done, ==, 5);
  g_assert_cmpuint(state->row->len, ==, 3);
  trainee_check(state, 0, "Ada");
  trainee_check(state, 1, "Cleo");
  trainee_check(state, 2, "Emil");
  g_assert_cmpuint(state->message->len, ==, 2);
  g_assert_nonnull(strstr(state->message->pdata[0], "Bo.progress: the progress is damaged"));
  g_assert_nonnull(strstr(state->message->pdata[1], closed));
  g_assert_nonnull(strstr(state->message->pdata[1], "See that you may read it"));
  class_job_free(job);
  folder_empty();
}

static void test_no_folder(void)
{
  int told = 0;
  ClassJob *job = class_job_new("/no/such/folder", set, changed, &told);
  const ClassState *state = class_job_state(job);
  WAIT_FOR(state->over, PATIENCE_S);
  g_assert_nonnull(strstr(state->trouble, "/no/such/folder"));
  g_assert_cmpuint(state->row->len, ==, 0);
  class_job_free(job);
}

/* Between Ada and Cleo a file that never answers: Ada was read, Bo is waited for. */
static ClassJob *job_stuck(char **pipe, int *told)
{
  trainee_put("Ada");
  trainee_put("Cleo");
  *pipe = in_folder("Bo.progress");
  g_assert_cmpint(mkfifo(*pipe, 0600), ==, 0);
  ClassJob *job = class_job_new(folder, set, changed, told);
  const ClassState *state = class_job_state(job);
  WAIT_FOR(state->done == 1, PATIENCE_S);
  g_assert_false(state->over);
  g_assert_cmpuint(state->of, ==, 3);
  g_assert_cmpuint(state->row->len, ==, 1);
  trainee_check(state, 0, "Ada");
  return job;
}

/* A pipe can be opened so only while somebody waits at its other end: the thread is there. */
static bool thread_let_go(const char *pipe)
{
  int end = open(pipe, O_WRONLY | O_NONBLOCK);
  if (end >= 0)
    close(end);
  return end >= 0;
}

/* What came before is there, it is told that nothing comes, and nobody waits for the thread. */
static void test_never_answers(void)
{
  int told = 0;
  g_autofree char *pipe = NULL;
  ClassJob *job = job_stuck(&pipe, &told);
  const ClassState *state = class_job_state(job);
  WAIT_FOR(state->late, PATIENCE_S);
  g_assert_false(state->over);
  g_assert_cmpuint(state->done, ==, 1);
  int before = told;
  class_job_free(job);
  g_assert_true(thread_let_go(pipe));
  while (g_main_context_iteration(NULL, FALSE))
    ;
  g_assert_cmpint(told, ==, before); /* what comes now is for nobody */
  folder_empty();
}

/* It answers at last: nothing is lost. */
static void test_answers_late(void)
{
  int told = 0;
  g_autofree char *pipe = NULL;
  ClassJob *job = job_stuck(&pipe, &told);
  const ClassState *state = class_job_state(job);
  bool gone = false;
  WAIT_FOR(gone || (gone = thread_let_go(pipe)), PATIENCE_S);
  WAIT_FOR(state->over, PATIENCE_S);
  g_assert_false(state->late);
  trainee_check(state, 0, "Ada");
  trainee_check(state, 1, "Cleo");
  g_assert_cmpuint(state->message->len, ==, 1);
  class_job_free(job);
  folder_empty();
}

int main(int argc, char *argv[])
{
  g_test_init(&argc, &argv, NULL);
  set = exercises_all(NULL, NULL);
  folder = g_dir_make_tmp("soffit-class-XXXXXX", NULL);
  g_test_add_func("/class_job/rows", test_rows);
  g_test_add_func("/class_job/no-folder", test_no_folder);
  g_test_add_func("/class_job/never-answers", test_never_answers);
  g_test_add_func("/class_job/answers-late", test_answers_late);
  int status = g_test_run();
  g_rmdir(folder);
  g_free(folder);
  g_ptr_array_unref(set);
  return status;
}
