/* test_practice_own.c - an own exercise of the school bench is taken away and back; the shipped
 * ones stay, and so does the work at hand. SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/exercise_xml.h"
#include "ui/practice/practice_desk.h"
#include "wait_for.h"
#include <glib/gstdio.h>
#include <math.h>

#define PATIENCE_S 60

typedef struct {
  char *home, *path; /* owned: the data folder, the file of own-1 */
  SoffitPracticeDesk *desk;
  int told;
} Bench;

static void told(Bench *b)
{
  b->told++;
}

static Bench *bench_new(void)
{
  Bench *b = g_new0(Bench, 1);
  g_autoptr(GError) error = NULL;
  b->home = g_dir_make_tmp("soffit-own-XXXXXX", NULL);
  b->desk = practice_desk_new(b->home);
  g_autofree char *folder = practice_desk_folder(b->desk);
  g_mkdir_with_parents(folder, 0700);
  b->path = g_build_filename(folder, "own-1.xml", NULL);
  Exercise *own = exercise_copy(exercise_find(practice_desk_set(b->desk), "1.1"), &error);
  g_assert_no_error(error);
  g_free(own->id);
  own->id = g_strdup("own-1");
  g_assert_true(exercise_save(own, b->path, &error));
  exercise_free(own);
  practice_desk_reload(b->desk, "1.3");
  g_assert_nonnull(exercise_find(practice_desk_set(b->desk), "own-1"));
  g_signal_connect_swapped(b->desk, "progress-changed", G_CALLBACK(told), b);
  return b;
}

static void folder_remove(const char *path)
{
  g_autoptr(GDir) dir = g_dir_open(path, 0, NULL);
  for (const char *name = dir ? g_dir_read_name(dir) : NULL; name; name = g_dir_read_name(dir)) {
    g_autofree char *below = g_build_filename(path, name, NULL);
    folder_remove(below);
  }
  g_remove(path);
}

static void bench_free(Bench *b)
{
  g_signal_handlers_disconnect_by_data(b->desk, b);
  g_object_unref(b->desk);
  while (g_main_context_iteration(NULL, FALSE))
    ;
  folder_remove(b->home);
  g_free(b->home);
  g_free(b->path);
  g_free(b);
}

static bool there(const Bench *b)
{
  return exercise_find(practice_desk_set(b->desk), "own-1") != NULL;
}

static char *file_of(const Bench *b)
{
  char *text = NULL;
  return g_file_get_contents(b->path, &text, NULL, NULL) ? text : NULL;
}

/* Another one is at hand: its cross and its guess stay. */
static void test_away_and_back(void)
{
  Bench *b = bench_new();
  g_autoptr(GError) error = NULL;
  g_autofree char *was = file_of(b);
  size_t connector;
  Point at;
  guint counted = exercises_counted(practice_desk_set(b->desk));
  practice_desk_set_cross(b->desk, 1, point(0.25, 2));
  practice_desk_set_guess(b->desk, 35);
  g_assert_null(practice_desk_deleted(b->desk));
  g_assert_true(practice_desk_delete(b->desk, "own-1", &error));
  g_assert_no_error(error);
  g_assert_false(g_file_test(b->path, G_FILE_TEST_EXISTS));
  g_assert_false(there(b));
  g_assert_cmpuint(exercises_counted(practice_desk_set(b->desk)), ==, counted - 1);
  g_assert_cmpint(b->told, ==, 1);
  g_assert_cmpstr(practice_desk_exercise(b->desk)->id, ==, "1.3");
  g_assert_true(practice_desk_cross(b->desk, &connector, &at));
  g_assert_cmpuint(connector, ==, 1);
  g_assert_cmpfloat(at.x, ==, 0.25);
  g_assert_cmpfloat(practice_desk_guess(b->desk), ==, 35);
  g_assert_cmpstr(practice_desk_deleted(b->desk), ==, "own-1  From V to U");
  g_assert_true(practice_desk_undelete(b->desk, &error));
  g_assert_no_error(error);
  g_autofree char *now = file_of(b);
  g_assert_cmpstr(now, ==, was);
  g_assert_true(there(b));
  g_assert_null(practice_desk_deleted(b->desk));
  g_assert_false(practice_desk_undelete(b->desk, &error)); /* once only */
  g_assert_no_error(error);
  g_assert_cmpfloat(practice_desk_guess(b->desk), ==, 35);
  bench_free(b);
}

static void test_shipped_stay(void)
{
  Bench *b = bench_new();
  g_autoptr(GError) error = NULL;
  guint n = practice_desk_set(b->desk)->len;
  g_assert_false(practice_desk_delete(b->desk, "1.1", &error));
  g_assert_no_error(error);
  g_assert_false(practice_desk_delete(b->desk, "none such", &error));
  g_assert_no_error(error);
  g_assert_cmpuint(practice_desk_set(b->desk)->len, ==, n);
  g_assert_null(practice_desk_deleted(b->desk));
  bench_free(b);
}

/* The one at hand gives way to another, while its work is being scored. */
static void test_at_hand(void)
{
  Bench *b = bench_new();
  g_autoptr(GError) error = NULL;
  g_assert_true(practice_desk_open(b->desk, "own-1"));
  practice_desk_set_cross(b->desk, 0, point(0, 2.5));
  practice_desk_set_guess(b->desk, 20);
  practice_desk_go(b->desk, PRACTICE_SEE);
  WAIT_FOR(practice_desk_start(b->desk) && practice_desk_score(b->desk), PATIENCE_S);
  practice_desk_hand_in(b->desk);
  g_assert_true(practice_desk_busy(b->desk));
  g_assert_true(practice_desk_delete(b->desk, "own-1", &error));
  g_assert_false(practice_desk_busy(b->desk));
  g_assert_cmpstr(practice_desk_exercise(b->desk)->id, ==, "1.1"); /* the first that is due */
  g_assert_true(isnan(practice_desk_guess(b->desk)));
  g_assert_cmpint(practice_desk_step(b->desk), ==, PRACTICE_PREDICT);
  WAIT_FOR(practice_desk_start(b->desk), PATIENCE_S);
  g_assert_false(progress_passed(practice_desk_progress(b->desk), "own-1"));
  bench_free(b);
}

/* Somebody made another of that name meanwhile: nothing of his is written over. */
static void test_not_over(void)
{
  Bench *b = bench_new();
  g_autoptr(GError) error = NULL;
  g_assert_true(practice_desk_delete(b->desk, "own-1", NULL));
  g_assert_true(g_file_set_contents(b->path, "another", -1, NULL));
  g_assert_false(practice_desk_undelete(b->desk, &error));
  g_assert_error(error, G_FILE_ERROR, G_FILE_ERROR_EXIST);
  g_assert_nonnull(strstr(error->message, b->path));
  g_autofree char *now = file_of(b);
  g_assert_cmpstr(now, ==, "another");
  g_assert_nonnull(practice_desk_deleted(b->desk)); /* it may be moved, and asked for again */
  g_remove(b->path);
  g_assert_true(practice_desk_undelete(b->desk, NULL));
  g_assert_true(there(b));
  /* Gone before it could be kept: told, and it stays in the list. */
  g_remove(b->path);
  g_clear_error(&error);
  g_assert_false(practice_desk_delete(b->desk, "own-1", &error));
  g_assert_error(error, G_FILE_ERROR, G_FILE_ERROR_NOENT);
  bench_free(b);
}

int main(int argc, char *argv[])
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/practice_own/away-and-back", test_away_and_back);
  g_test_add_func("/practice_own/shipped-stay", test_shipped_stay);
  g_test_add_func("/practice_own/at-hand", test_at_hand);
  g_test_add_func("/practice_own/not-over", test_not_over);
  return g_test_run();
}
