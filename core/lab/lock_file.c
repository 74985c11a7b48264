/* lock_file.c - see lock_file.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "lab/lock_file.h"
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define GROUP "lock"
#define LOCK_MOST 8192 /* bytes: longer is none of ours */
#define COUNT_WIDTH 12 /* digits of the count, so that it is renewed in place */
#define COUNT_KEY "renewed="
#define QUIET_US (LOCK_QUIET_S * G_USEC_PER_SEC)

gint64 stat_us(const struct stat *about)
{
  return (gint64)about->st_mtim.tv_sec * G_USEC_PER_SEC + about->st_mtim.tv_nsec / 1000;
}

void lock_holder_clear(LockHolder *holder)
{
  char *owned[] = {holder->name, holder->initials, holder->role,
                   holder->host, holder->since,    holder->taken_from};
  for (size_t i = 0; i < G_N_ELEMENTS(owned); i++)
    g_free(owned[i]);
  *holder = (LockHolder){0};
}

void lock_holder_copy(LockHolder *to, const LockHolder *from)
{
  lock_holder_clear(to);
  *to = (LockHolder){g_strdup(from->name), g_strdup(from->initials), g_strdup(from->role),
                     g_strdup(from->host), g_strdup(from->since),    g_strdup(from->taken_from)};
}

void lock_file_clear(LockFile *file)
{
  lock_holder_clear(&file->holder);
  g_free(file->boot);
  g_free(file->nonce);
  *file = (LockFile){0};
}

char *lock_file_path(const char *case_path)
{
  char *real = realpath(case_path, NULL); /* two links to one case share its lock */
  const char *path = real ? real : case_path;
  g_autofree char *folder = g_path_get_dirname(path), *base = g_path_get_basename(path),
                  *name = g_strdup_printf(".%s.lock", base);
  free(real);
  return g_build_filename(folder, name, NULL);
}

/* ---- processes ---- */

/* Boot and process space: a container has the boot of its host, but counts processes anew. */
static char *machine_boot(void)
{
  g_autofree char *boot = NULL, *space = g_file_read_link("/proc/self/ns/pid", NULL);
  if (!g_file_get_contents("/proc/sys/kernel/random/boot_id", &boot, NULL, NULL))
    boot = g_strdup("");
  return g_strdup_printf("%s %s", g_strstrip(boot), space ? space : "");
}

/* Ticks from the boot to its start (proc(5), field 22); 0 = cannot be told.  *dead: it ended, and
 * only waits for its parent to look. */
static guint64 process_started(gint64 pid, bool *dead)
{
  g_autofree char *path = g_strdup_printf("/proc/%" G_GINT64_FORMAT "/stat", pid), *text = NULL;
  *dead = false;
  if (!g_file_get_contents(path, &text, NULL, NULL))
    return 0;
  char *behind = strrchr(text, ')'); /* a program's name may hold blanks and brackets */
  g_auto(GStrv) field = behind ? g_strsplit(g_strchug(behind + 1), " ", -1) : NULL;
  if (!field || g_strv_length(field) < 20)
    return 0;
  *dead = *field[0] == 'Z' || *field[0] == 'X';
  return g_ascii_strtoull(field[19], NULL, 10);
}

/* Whether the process that wrote the file is gone; another with its number is not it. */
static bool writer_gone(const LockFile *file)
{
  bool dead;
  if (file->pid <= 0 || (kill((pid_t)file->pid, 0) != 0 && errno == ESRCH))
    return true;
  guint64 started = process_started(file->pid, &dead);
  return dead || (started && file->started && started != file->started);
}

/* ---- written and read ---- */

char *lock_file_text(const Person *by, const LockHolder *taken_from, char nonce[33])
{
  bool dead;
  g_autofree char *uuid = g_uuid_string_random(), *boot = machine_boot();
  g_autoptr(GDateTime) now = g_date_time_new_now_utc();
  g_autofree char *since = g_date_time_format(now, "%FT%TZ");
  g_autoptr(GKeyFile) keys = g_key_file_new();
  size_t n = 0;
  for (const char *p = uuid; *p && n < 32; p++)
    if (*p != '-')
      nonce[n++] = *p;
  nonce[n] = '\0';
  const struct {
    const char *key, *text;
  } said[] = {{"name", by->name},
              {"initials", by->initials},
              {"role", by->role},
              {"host", g_get_host_name()},
              {"boot", boot},
              {"since", since},
              {"taken-from", taken_from ? taken_from->name : NULL},
              {"nonce", nonce}};
  for (size_t i = 0; i < G_N_ELEMENTS(said); i++)
    g_key_file_set_string(keys, GROUP, said[i].key, said[i].text ? said[i].text : "");
  g_key_file_set_int64(keys, GROUP, "pid", getpid());
  g_key_file_set_uint64(keys, GROUP, "started", process_started(getpid(), &dead));
  g_autofree char *text = g_key_file_to_data(keys, NULL, NULL);
  return g_strdup_printf("%s%s%0*d\n", text, COUNT_KEY, COUNT_WIDTH, 0);
}

static char *said(GKeyFile *keys, const char *key)
{
  char *text = g_key_file_get_string(keys, GROUP, key, NULL);
  return text ? text : g_strdup("");
}

void lock_file_read(int fd, LockFile *file)
{
  char text[LOCK_MOST];
  ssize_t n = pread(fd, text, sizeof text, 0);
  struct stat about;
  g_autoptr(GKeyFile) keys = g_key_file_new();
  if (n > 0 && n < LOCK_MOST)
    g_key_file_load_from_data(keys, text, (gsize)n, G_KEY_FILE_NONE, NULL);
  lock_file_clear(file);
  file->holder = (LockHolder){said(keys, "name"), said(keys, "initials"), said(keys, "role"),
                              said(keys, "host"), said(keys, "since"),    said(keys, "taken-from")};
  file->boot = said(keys, "boot");
  file->nonce = said(keys, "nonce");
  file->pid = g_key_file_get_int64(keys, GROUP, "pid", NULL);
  file->started = g_key_file_get_uint64(keys, GROUP, "started", NULL);
  file->renewed = g_key_file_get_uint64(keys, GROUP, "renewed", NULL);
  file->moved_us = fstat(fd, &about) == 0 ? stat_us(&about) : 0;
}

bool lock_file_renew(int fd, const LockFile *file)
{
  struct stat about;
  if (fstat(fd, &about) != 0)
    return false;
  char count[COUNT_WIDTH + 2];
  g_snprintf(count, sizeof count, "%0*" G_GUINT64_FORMAT "\n", COUNT_WIDTH, file->renewed + 1);
  /* written, not touched: so the share's clock sets the time of the file */
  return pwrite(fd, count, COUNT_WIDTH + 1, about.st_size - COUNT_WIDTH - 1) == COUNT_WIDTH + 1;
}

/* ---- left over? ---- */

bool lock_file_stale(const LockFile *file, LockWatch *watch, gint64 share_us, gint64 now_us)
{
  g_autofree char *boot = machine_boot();
  bool mine = *file->nonce && strcmp(file->holder.host, g_get_host_name()) == 0 &&
              strcmp(file->boot, boot) == 0;
  if (mine)
    return writer_gone(file);
  if (watch->since_us == 0 || watch->moved_us != file->moved_us ||
      watch->renewed != file->renewed || strcmp(watch->nonce, file->nonce) != 0) {
    *watch = (LockWatch){file->moved_us, now_us, file->renewed, ""};
    g_strlcpy(watch->nonce, file->nonce, sizeof watch->nonce);
  }
  /* A share whose clock was set back has files from its future: those are watched instead. */
  return share_us - file->moved_us >= QUIET_US || now_us - watch->since_us >= QUIET_US;
}
