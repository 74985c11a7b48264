/* test_case_save.c - saving that never loses a file: full disks, bad places, links, modes.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "case_files.h"
#include <dlfcn.h>
#include <errno.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
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

/* Ended in the middle, as often as it takes to meet every moment of a save: the old or the new file
 * is whole each time. */
static void test_save_killed(void)
{
  Case c[2], back;
  demo_load(&c[0], "demo/QB-01.xml");
  demo_load(&c[1], "demo/QB-02.xml");
  char *path = in_folder("killed.xml");
  GError *error = NULL;
  case_save(&c[0], path, &error);
  g_assert_no_error(error);
  guint met[2] = {0, 0};
  for (int round = 0; round < 80; round++) {
    int told[2];
    char byte = 0;
    g_assert_cmpint(pipe(told), ==, 0);
    pid_t child = fork();
    if (child == 0)
      for (int i = round;; i++)
        if (!case_save(&c[i % 2], path, NULL) || (i == round && write(told[1], &byte, 1) != 1))
          _exit(1);
    g_assert_cmpint((int)read(told[0], &byte, 1), ==, 1); /* at work */
    close(told[0]);
    close(told[1]);
    g_usleep((gulong)(97 * (round % 23)));
    g_assert_cmpint(kill(child, SIGKILL), ==, 0);
    int status;
    g_assert_cmpint(waitpid(child, &status, 0), ==, child);
    g_assert_true(WIFSIGNALED(status));
    case_init(&back);
    case_load(&back, path, &error);
    g_assert_no_error(error);
    int which = case_equal(&back, &c[1]) ? 1 : 0;
    g_assert_true(case_equal(&back, &c[which]));
    met[which]++;
    case_clear(&back);
  }
  g_test_message("whole each time: %u old, %u new", met[0], met[1]);
  g_assert_cmpuint(met[0], >, 0);
  g_assert_cmpuint(met[1], >, 0);
  GDir *dir = g_dir_open(folder, 0, NULL);
  const char *name;
  while ((name = g_dir_read_name(dir)) != NULL) { /* what the killed ones had begun beside it */
    char *left = in_folder(name);
    g_assert_true(g_str_equal(name, "killed.xml") || g_str_has_prefix(name, ".soffit-"));
    g_unlink(left);
    g_free(left);
  }
  g_dir_close(dir);
  g_free(path);
  case_clear(&c[0]);
  case_clear(&c[1]);
}

static void assert_left_alone(const Case *c, const char *path, const char *seen, const Case *there)
{
  GError *error = NULL;
  char digest[65] = "before";
  g_assert_false(case_save_over(c, path, seen, digest, &error));
  g_assert_error(error, CASE_ERROR, CASE_ERROR_CHANGED);
  g_assert_true(g_str_has_prefix(error->message, path));
  g_clear_error(&error);
  g_assert_cmpstr(digest, ==, "before");
  Case back;
  case_init(&back);
  if (there) {
    case_load(&back, path, &error);
    g_assert_no_error(error);
    g_assert_true(case_equal(&back, there));
  } else {
    g_assert_false(g_file_test(path, G_FILE_TEST_EXISTS));
  }
  case_clear(&back);
}

/* Only over the file that was seen. */
static void test_save_over(void)
{
  Case mine, theirs;
  demo_load(&mine, "demo/QB-01.xml");
  demo_load(&theirs, "demo/QB-02.xml");
  char *path = in_folder("shared.xml"), seen[65], stale[65];
  GError *error = NULL;
  case_save_over(&mine, path, "", seen, &error);
  g_assert_no_error(error);
  char *sum = NULL, *command = g_strdup_printf("sha256sum '%s'", path);
  g_assert_true(g_spawn_command_line_sync(command, &sum, NULL, NULL, &error)); /* coreutils */
  g_assert_true(strncmp(sum, seen, 64) == 0);
  memcpy(stale, seen, sizeof stale);
  Case back;
  case_init(&back);
  char read[65];
  case_load_seen(&back, path, read, &error);
  g_assert_no_error(error);
  g_assert_cmpstr(read, ==, seen);
  case_clear(&back);
  case_save_over(&theirs, path, seen, seen, &error);
  g_assert_no_error(error);
  guint before = files_in(folder);
  assert_left_alone(&mine, path, stale, &theirs);
  assert_left_alone(&mine, path, "", &theirs);
  g_assert_cmpuint(files_in(folder), ==, before);
  g_unlink(path);
  assert_left_alone(&mine, path, seen, NULL); /* taken away meanwhile: told, not made anew */
  g_free(sum);
  g_free(command);
  g_free(path);
  case_clear(&mine);
  case_clear(&theirs);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/case_save/full disk", test_save_full_disk);
  g_test_add_func("/case_save/size limit", test_save_size_limit);
  g_test_add_func("/case_save/bad places", test_save_bad_places);
  g_test_add_func("/case_save/link and mode", test_save_keeps_link_and_mode);
  g_test_add_func("/case_save/killed", test_save_killed);
  g_test_add_func("/case_save/over what was seen", test_save_over);
  return folder_run();
}
