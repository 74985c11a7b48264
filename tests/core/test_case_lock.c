/* test_case_lock.c - real processes fight over one case: never two hands, nothing left by crashes.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The other process is this program again, with "--fight" or "--hold". */
#include "lab/lock_file.h"
#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#define ROUNDS 200 /* takings of each fighter */
#define HOUR_US ((gint64)3600 * G_USEC_PER_SEC)

static char *program, *folder, *case_path, *lock_path, *witness;
static const Person anna = {(char *)"Anna Ast", (char *)"technician", (char *)"AA"};
static const Person bert = {(char *)"Bert Bö;m [x]", (char *)"supervisor", (char *)"BB"};

static void places_set(const char *in)
{
  folder = g_strdup(in);
  case_path = g_build_filename(folder, "QB-02.xml", NULL);
  lock_path = g_build_filename(folder, ".QB-02.xml.lock", NULL);
  witness = g_build_filename(folder, "witness", NULL);
}

static void folder_empty(void)
{
  GDir *dir = g_dir_open(folder, 0, NULL);
  const char *name = g_dir_read_name(dir);
  g_assert_cmpstr(name, ==, NULL);
  g_dir_close(dir);
}

/* ---- the other process ---- */

static pid_t spawn(const char *how, const char *number)
{
  pid_t pid = fork();
  if (pid == 0) {
    execl(program, program, how, folder, number, (char *)NULL);
    _exit(99);
  }
  g_assert_cmpint(pid, >, 0);
  return pid;
}

static int ended(pid_t pid)
{
  int status;
  g_assert_cmpint(waitpid(pid, &status, 0), ==, pid);
  return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

/* Takes the lock again and again; while it has it, it alone may make the witness.
 * Exit: 0 all went well, 1 two holders, 2 something else. */
static int fight(int rounds)
{
  for (int done = 0; done < rounds;) {
    CaseLock *lock = case_lock_new(case_path, &anna);
    LockState state = case_lock_take(lock);
    if (state == LOCK_MINE) {
      int fd = open(witness, O_CREAT | O_EXCL | O_WRONLY, 0600);
      if (fd < 0)
        return errno == EEXIST ? 1 : 2;
      close(fd);
      if (done % 4 == 0)
        g_usleep(200);
      if (case_lock_renew(lock) != LOCK_MINE || g_unlink(witness) != 0)
        return 2;
      done++;
    } else if (state != LOCK_OTHERS) {
      return 2;
    }
    case_lock_free(lock);
  }
  return 0;
}

/* Takes it, says so by the witness, and holds it until it is killed. */
static int hold(void)
{
  CaseLock *lock = case_lock_new(case_path, &bert);
  if (case_lock_take(lock) != LOCK_MINE)
    return 2;
  int fd = open(witness, O_CREAT | O_EXCL | O_WRONLY, 0600);
  close(fd);
  for (;;)
    pause();
}

static pid_t holder_start(void)
{
  pid_t pid = spawn("--hold", "0");
  while (!g_file_test(witness, G_FILE_TEST_EXISTS))
    g_usleep(500);
  g_unlink(witness);
  return pid;
}

static void holder_kill(pid_t pid)
{
  g_assert_cmpint(kill(pid, SIGKILL), ==, 0);
  g_assert_cmpint(ended(pid), ==, 128 + SIGKILL);
}

/* ---- a lock as somebody else would have left it ---- */

static void lock_write(const char *host, const char *key, const char *value)
{
  char nonce[33];
  g_autofree char *text = lock_file_text(&bert, NULL, nonce), *data = NULL;
  GKeyFile *keys = g_key_file_new();
  g_assert_true(g_key_file_load_from_data(keys, text, (gsize)-1, G_KEY_FILE_NONE, NULL));
  if (host)
    g_key_file_set_string(keys, "lock", "host", host);
  if (key)
    g_key_file_set_string(keys, "lock", key, value);
  data = g_key_file_to_data(keys, NULL, NULL);
  g_assert_true(g_file_set_contents(lock_path, data, -1, NULL));
  g_key_file_free(keys);
}

static void lock_age(gint64 age_us)
{
  gint64 then = g_get_real_time() - age_us;
  const struct timespec at = {then / G_USEC_PER_SEC, then % G_USEC_PER_SEC * 1000};
  const struct timespec both[2] = {at, at};
  g_assert_cmpint(utimensat(AT_FDCWD, lock_path, both, 0), ==, 0);
}

static LockState state_met(void)
{
  CaseLock *lock = case_lock_new(case_path, &anna);
  LockState state = case_lock_take(lock);
  case_lock_free(lock);
  return state;
}

/* ---- tests ---- */

static void test_fight(void)
{
  g_autofree char *rounds = g_strdup_printf("%d", ROUNDS);
  pid_t one = spawn("--fight", rounds), two = spawn("--fight", rounds);
  g_assert_cmpint(ended(one), ==, 0);
  g_assert_cmpint(ended(two), ==, 0);
  folder_empty();
}

/* The same, over a lock that a crash left: both see that it is left over in the same moment. */
static void test_fight_over_crash(void)
{
  for (int round = 0; round < 20; round++) {
    holder_kill(holder_start());
    pid_t one = spawn("--fight", "3"), two = spawn("--fight", "3");
    g_assert_cmpint(ended(one), ==, 0);
    g_assert_cmpint(ended(two), ==, 0);
    folder_empty();
  }
}

static void test_seen_and_crash(void)
{
  pid_t other = holder_start();
  CaseLock *lock = case_lock_new(case_path, &anna);
  g_assert_cmpint(case_lock_take(lock), ==, LOCK_OTHERS);
  const LockHolder *holder = case_lock_holder(lock);
  g_assert_cmpstr(holder->name, ==, bert.name);
  g_assert_cmpstr(holder->initials, ==, "BB");
  g_assert_cmpstr(holder->role, ==, "supervisor");
  g_assert_cmpstr(holder->host, ==, g_get_host_name());
  GDateTime *since = g_date_time_new_from_iso8601(holder->since, NULL);
  g_assert_nonnull(since);
  g_date_time_unref(since);
  g_assert_cmpint(case_lock_renew(lock), ==, LOCK_OTHERS);
  case_lock_release(lock); /* never another's */
  g_assert_true(g_file_test(lock_path, G_FILE_TEST_EXISTS));
  /* killed, but not looked after by its parent yet: it can write no more */
  g_assert_cmpint(kill(other, SIGKILL), ==, 0);
  siginfo_t info;
  g_assert_cmpint(waitid(P_PID, (id_t)other, &info, WEXITED | WNOWAIT), ==, 0);
  g_assert_cmpint(case_lock_renew(lock), ==, LOCK_FREE);
  g_assert_cmpint(case_lock_take(lock), ==, LOCK_MINE);
  g_assert_cmpstr(case_lock_holder(lock)->taken_from, ==, bert.name);
  g_assert_cmpint(ended(other), ==, 128 + SIGKILL);
  case_lock_free(lock);
  folder_empty();
}

static void test_pid_reused(void)
{
  lock_write(NULL, NULL, NULL); /* of this very process, alive */
  g_assert_cmpint(state_met(), ==, LOCK_OTHERS);
  lock_write(NULL, "started", "1"); /* the number is that of another process by now */
  g_assert_cmpint(state_met(), ==, LOCK_MINE);
  lock_write(NULL, "pid", "0");
  g_assert_cmpint(state_met(), ==, LOCK_MINE);
  folder_empty();
}

static void test_other_host(void)
{
  lock_write("elsewhere", "pid", "0"); /* processes of another machine say nothing here */
  g_assert_cmpint(state_met(), ==, LOCK_OTHERS);
  lock_age((LOCK_QUIET_S - 20) * G_USEC_PER_SEC);
  g_assert_cmpint(state_met(), ==, LOCK_OTHERS);
  lock_age((LOCK_QUIET_S + 20) * G_USEC_PER_SEC);
  g_assert_cmpint(state_met(), ==, LOCK_MINE);
  lock_write(NULL, "boot", "another"); /* this machine before it was started anew, or its twin */
  g_assert_cmpint(state_met(), ==, LOCK_OTHERS);
  lock_age((LOCK_QUIET_S + 20) * G_USEC_PER_SEC);
  g_assert_cmpint(state_met(), ==, LOCK_MINE);
  folder_empty();
}

/* Half written, or none of ours: kept for as long as it may be alive. */
static void test_unreadable(void)
{
  g_assert_true(g_file_set_contents(lock_path, "\x01\xff nothing", -1, NULL));
  g_assert_cmpint(state_met(), ==, LOCK_OTHERS);
  lock_age((LOCK_QUIET_S + 20) * G_USEC_PER_SEC);
  g_assert_cmpint(state_met(), ==, LOCK_MINE);
  folder_empty();
}

/* The share's clock set back by a day: its files come from the future.  They are watched. */
static void test_clock_jumps(void)
{
  lock_write("elsewhere", NULL, NULL);
  lock_age(-24 * HOUR_US);
  g_assert_cmpint(state_met(), ==, LOCK_OTHERS);
  LockFile file = {0};
  LockWatch watch = {0};
  int fd = open(lock_path, O_RDWR);
  lock_file_read(fd, &file);
  gint64 now = 7, quiet = LOCK_QUIET_S * G_USEC_PER_SEC, share = file.moved_us - 24 * HOUR_US;
  g_assert_false(lock_file_stale(&file, &watch, share, now));
  g_assert_false(lock_file_stale(&file, &watch, share + quiet - 1, now + quiet - 1));
  /* renewed by its holder while the share's clock stands still: the count moves, not the time */
  gint64 moved = file.moved_us;
  file.renewed++;
  g_assert_false(lock_file_stale(&file, &watch, share, now + quiet));
  g_assert_cmpint(file.moved_us, ==, moved);
  g_assert_false(lock_file_stale(&file, &watch, share, now + 2 * quiet - 1));
  g_assert_true(lock_file_stale(&file, &watch, share, now + 2 * quiet));
  /* another took it: watched afresh */
  g_free(file.nonce);
  file.nonce = g_strdup("other");
  g_assert_false(lock_file_stale(&file, &watch, share, now + 3 * quiet));
  lock_file_clear(&file);
  close(fd);
  g_unlink(lock_path);
  folder_empty();
}

static void test_take_over(void)
{
  CaseLock *mine = case_lock_new(case_path, &anna), *theirs = case_lock_new(case_path, &bert);
  g_assert_cmpint(case_lock_take(theirs), ==, LOCK_MINE);
  g_assert_cmpstr(case_lock_holder(theirs)->taken_from, ==, "");
  g_assert_cmpint(case_lock_take(mine), ==, LOCK_OTHERS);
  g_assert_cmpint(case_lock_take_over(mine), ==, LOCK_MINE);
  g_assert_cmpint(case_lock_take_over(mine), ==, LOCK_MINE);
  g_assert_cmpstr(case_lock_holder(mine)->taken_from, ==, bert.name);
  g_assert_cmpint(case_lock_state(theirs), ==, LOCK_MINE); /* does not know yet */
  g_assert_cmpint(case_lock_renew(theirs), ==, LOCK_OTHERS);
  g_assert_cmpstr(case_lock_holder(theirs)->name, ==, anna.name);
  g_assert_cmpstr(case_lock_holder(theirs)->taken_from, ==, bert.name);
  case_lock_free(theirs);
  g_assert_cmpint(case_lock_renew(mine), ==, LOCK_MINE);
  /* told at the gate of a save too, before any renewal */
  theirs = case_lock_new(case_path, &bert);
  g_assert_cmpint(case_lock_take_over(theirs), ==, LOCK_MINE);
  g_assert_true(case_lock_gate(mine));
  g_assert_cmpint(case_lock_state(mine), ==, LOCK_OTHERS);
  case_lock_ungate(mine);
  case_lock_free(mine);
  case_lock_free(theirs);
  folder_empty();
}

/* The file moves at each renewal, and its words stay. */
static void test_renewed(void)
{
  CaseLock *lock = case_lock_new(case_path, &bert);
  g_assert_cmpint(case_lock_take(lock), ==, LOCK_MINE);
  lock_age(HOUR_US);
  g_assert_cmpint(case_lock_renew(lock), ==, LOCK_MINE);
  g_assert_cmpint(case_lock_renew(lock), ==, LOCK_MINE);
  LockFile file = {0};
  int fd = open(lock_path, O_RDWR);
  lock_file_read(fd, &file);
  g_assert_cmpuint(file.renewed, ==, 2);
  g_assert_cmpstr(file.holder.name, ==, bert.name);
  g_assert_cmpint(file.pid, ==, getpid());
  g_assert_cmpint(ABS(file.moved_us - g_get_real_time()), <, HOUR_US / 2);
  lock_file_clear(&file);
  close(fd);
  g_unlink(lock_path); /* by hand: taken again at the next renewal */
  g_assert_cmpint(case_lock_renew(lock), ==, LOCK_MINE);
  g_assert_true(g_file_test(lock_path, G_FILE_TEST_EXISTS));
  case_lock_free(lock);
  folder_empty();
}

/* The share goes away and comes back. */
static void test_share_away(void)
{
  g_autofree char *away = g_strconcat(folder, "-away", NULL);
  CaseLock *lock = case_lock_new(case_path, &anna), *late = case_lock_new(case_path, &bert);
  g_assert_cmpint(case_lock_take(lock), ==, LOCK_MINE);
  g_assert_cmpint(g_rename(folder, away), ==, 0);
  g_assert_cmpint(case_lock_renew(lock), ==, LOCK_MINE);
  g_assert_cmpint(case_lock_take(late), ==, LOCK_UNWRITABLE);
  g_assert_false(case_lock_gate(lock));
  g_assert_cmpint(g_rename(away, folder), ==, 0);
  g_assert_cmpint(case_lock_renew(lock), ==, LOCK_MINE);
  g_assert_cmpint(case_lock_renew(late), ==, LOCK_UNWRITABLE);
  g_assert_cmpint(case_lock_take(late), ==, LOCK_OTHERS);
  case_lock_free(lock);
  g_assert_cmpint(case_lock_renew(late), ==, LOCK_FREE);
  case_lock_free(late);
  folder_empty();
}

/* A place where nobody can write, root neither. */
static void test_unwritable(void)
{
  CaseLock *lock = case_lock_new("/proc/self/status", &anna);
  g_assert_cmpint(case_lock_take(lock), ==, LOCK_UNWRITABLE);
  g_assert_cmpint(case_lock_take_over(lock), ==, LOCK_UNWRITABLE);
  g_assert_null(case_lock_holder(lock));
  case_lock_free(lock);
}

/* Two links to one case are one case. */
static void test_links(void)
{
  g_autofree char *link = g_build_filename(folder, "same.xml", NULL);
  g_assert_true(g_file_set_contents(case_path, "<case/>", -1, NULL));
  g_assert_cmpint(symlink("QB-02.xml", link), ==, 0);
  CaseLock *lock = case_lock_new(link, &anna);
  g_assert_cmpstr(case_lock_file(lock), ==, lock_path);
  case_lock_free(lock);
  g_unlink(link);
  g_unlink(case_path);
}

int main(int argc, char **argv)
{
  program = g_file_read_link("/proc/self/exe", NULL);
  if (argc > 3 && (strcmp(argv[1], "--fight") == 0 || strcmp(argv[1], "--hold") == 0)) {
    places_set(argv[2]);
    return strcmp(argv[1], "--hold") == 0 ? hold() : fight(atoi(argv[3]));
  }
  g_autofree char *made = g_dir_make_tmp("soffit-XXXXXX", NULL), *real = realpath(made, NULL);
  places_set(real);
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/case_lock/two processes fight", test_fight);
  g_test_add_func("/case_lock/two fight over what a crash left", test_fight_over_crash);
  g_test_add_func("/case_lock/seen, and a crash", test_seen_and_crash);
  g_test_add_func("/case_lock/number of a process used again", test_pid_reused);
  g_test_add_func("/case_lock/another machine", test_other_host);
  g_test_add_func("/case_lock/unreadable", test_unreadable);
  g_test_add_func("/case_lock/clock jumps", test_clock_jumps);
  g_test_add_func("/case_lock/take over", test_take_over);
  g_test_add_func("/case_lock/renewed", test_renewed);
  g_test_add_func("/case_lock/share away", test_share_away);
  g_test_add_func("/case_lock/unwritable", test_unwritable);
  g_test_add_func("/case_lock/links", test_links);
  int status = g_test_run();
  if (status == 0)
    g_assert_cmpint(g_rmdir(folder), ==, 0);
  return status;
}
