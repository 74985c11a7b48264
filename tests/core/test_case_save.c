/* test_case_save.c - saving that never loses a file: full disks, bad places, links, modes.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "case_files.h"
#include <dlfcn.h>
#include <errno.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

/* ---- a disk that can be made full: this program's own write() and fsync() ---- */

static int write_reason, fsync_reason; /* 0: the real call */

ssize_t write(int file, const void *data, size_t n)
{
  static ssize_t (*real)(int, const void *, size_t);
  if (!real)
    *(void **)&real = dlsym(RTLD_NEXT, "write");
  if (write_reason && n > 1000) {
    if (write_reason == EFBIG) /* as the real one: part of it, then the reason */
      return real(file, data, 500);
    errno = write_reason;
    return -1;
  }
  return real(file, data, n);
}

int fsync(int file)
{
  static int (*real)(int);
  if (!real)
    *(void **)&real = dlsym(RTLD_NEXT, "fsync");
  if (fsync_reason) {
    errno = fsync_reason;
    return -1;
  }
  return real(file);
}

static guint files_in(const char *path)
{
  guint n = 0;
  GDir *dir = g_dir_open(path, 0, NULL);
  while (g_dir_read_name(dir))
    n++;
  g_dir_close(dir);
  return n;
}

static void assert_not_saved(const Case *c, const char *path, const char *what, const char *act)
{
  GError *error = NULL;
  bool saved = case_save(c, path, &error);
  /* first of all the disk must work again, or the report itself is lost */
  write_reason = fsync_reason = 0;
  g_assert_false(saved);
  g_assert_error(error, CASE_ERROR, CASE_ERROR_SAVE);
  g_test_message("%s", error->message);
  g_assert_true(g_str_has_prefix(error->message, path));
  g_assert_nonnull(strstr(error->message, what));
  g_assert_nonnull(strstr(error->message, act));
  g_error_free(error);
}

/* The old file is whole and nothing is left beside it. */
static void test_save_full_disk(void)
{
  Case c, old, back;
  demo_load(&c, "demo/QB-02.xml");
  demo_load(&old, "demo/QB-01.xml");
  char *path = in_folder("kept.xml");
  GError *error = NULL;
  case_save(&old, path, &error);
  g_assert_no_error(error);
  guint before = files_in(folder);
  write_reason = ENOSPC;
  assert_not_saved(&c, path, "No space left", "make room");
  write_reason = EIO;
  assert_not_saved(&c, path, "error", "disk checked");
  fsync_reason = EIO;
  assert_not_saved(&c, path, "error", "disk checked");
  fsync_reason = ENOSPC;
  assert_not_saved(&c, path, "No space left", "make room");
  g_assert_cmpuint(files_in(folder), ==, before);
  case_init(&back);
  case_load(&back, path, &error);
  g_assert_no_error(error);
  g_assert_true(case_equal(&back, &old));
  g_unlink(path);
  g_free(path);
  case_clear(&c);
  case_clear(&old);
  case_clear(&back);
}

/* A real limit of the system, met in the middle of the file. */
static void test_save_size_limit(void)
{
  Case c;
  demo_load(&c, "demo/QB-04.xml");
  char *path = in_folder("limited.xml");
  guint before = files_in(folder);
  struct rlimit limit, small;
  signal(SIGXFSZ, SIG_IGN);
  g_assert_cmpint(getrlimit(RLIMIT_FSIZE, &limit), ==, 0);
  small = limit;
  small.rlim_cur = 2000;
  GError *error = NULL;
  g_assert_cmpint(setrlimit(RLIMIT_FSIZE, &small), ==, 0);
  bool saved = case_save(&c, path, &error);
  g_assert_cmpint(setrlimit(RLIMIT_FSIZE, &limit), ==, 0);
  g_assert_false(saved);
  g_assert_error(error, CASE_ERROR, CASE_ERROR_SAVE);
  g_assert_nonnull(strstr(error->message, "another place"));
  g_error_free(error);
  g_assert_cmpuint(files_in(folder), ==, before);
  g_free(path);
  case_clear(&c);
}

/* Tests may run as root, whom no mode stops: places where nobody can write. */
static void test_save_bad_places(void)
{
  Case c;
  demo_load(&c, "demo/QB-01.xml");
  char *file = in_folder("plain"), *below = in_folder("plain/case.xml"),
       *missing = in_folder("none/case.xml");
  char *long_name = g_strnfill(300, 'n'), *long_path = in_folder(long_name);
  g_assert_true(g_file_set_contents(file, "x", -1, NULL));
  assert_not_saved(&c, below, "Not a directory", "choose another folder");
  assert_not_saved(&c, missing, "No such file", "choose another folder");
  assert_not_saved(&c, folder, "folder", "file name");
  assert_not_saved(&c, "/dev/full", "not saved", "no regular file");
  assert_not_saved(&c, "/proc/case.xml", "not saved", "another");
  assert_not_saved(&c, long_path, "too long", "shorter");
  g_unlink(file);
  g_free(file);
  g_free(below);
  g_free(missing);
  g_free(long_name);
  g_free(long_path);
  case_clear(&c);
}

static void test_save_keeps_link_and_mode(void)
{
  Case c;
  demo_load(&c, "demo/QB-01.xml");
  char *real = in_folder("real.xml"), *link = in_folder("link.xml");
  GError *error = NULL;
  struct stat about;
  g_assert_true(g_file_set_contents(real, "old", -1, NULL));
  g_assert_cmpint(chmod(real, 0640), ==, 0);
  g_assert_cmpint(symlink("real.xml", link), ==, 0);
  case_save(&c, link, &error);
  g_assert_no_error(error);
  g_assert_cmpint(lstat(link, &about), ==, 0);
  g_assert_true(S_ISLNK(about.st_mode));
  g_assert_cmpint(stat(real, &about), ==, 0);
  g_assert_cmpuint(about.st_mode & 07777, ==, 0640);
  g_assert_cmpint((int)about.st_size, >, 1000);
  g_unlink(real);
  g_unlink(link);
  g_free(real);
  g_free(link);
  case_clear(&c);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/case_save/full disk", test_save_full_disk);
  g_test_add_func("/case_save/size limit", test_save_size_limit);
  g_test_add_func("/case_save/bad places", test_save_bad_places);
  g_test_add_func("/case_save/link and mode", test_save_keeps_link_and_mode);
  return folder_run();
}
