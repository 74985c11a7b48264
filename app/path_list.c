/* path_list.c - files named by arguments, or one after the other on an open file.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "path_list.h"
#include <errno.h>
#include <poll.h>
#include <signal.h>
#include <stdbool.h>
#include <string.h>
#include <unistd.h>

void path_list_init(PathList *list, int n, char **name, char end, const int *stopped)
{
  bool input = n == 0 || (n == 1 && strcmp(name[0], "-") == 0);
  *list = (PathList){.name = name,
                     .n = input ? 0 : n,
                     .file = input ? STDIN_FILENO : -1,
                     .end = end,
                     .stopped = stopped,
                     .text = g_string_new(NULL)};
}

void path_list_clear(PathList *list)
{
  g_string_free(list->text, TRUE);
  list->text = NULL;
}

int path_list_known(const PathList *list)
{
  return list->file < 0 ? list->n : -1;
}

/* Waits for more; false at the end, or stopped.  A signal that comes between the look at `stopped`
 * and the wait must not be slept through: it is let in by ppoll alone. */
static bool more_read(PathList *list)
{
  char part[8192];
  sigset_t held, before;
  sigemptyset(&held);
  sigaddset(&held, SIGINT);
  sigaddset(&held, SIGTERM);
  pthread_sigmask(SIG_BLOCK, &held, &before);
  struct pollfd input = {.fd = list->file, .events = POLLIN};
  bool come = false;
  while (!come && !g_atomic_int_get(list->stopped))
    come = ppoll(&input, 1, NULL, &before) > 0;
  pthread_sigmask(SIG_SETMASK, &before, NULL);
  ssize_t got = come ? read(list->file, part, sizeof part) : 0;
  while (got < 0 && errno == EINTR && !g_atomic_int_get(list->stopped))
    got = read(list->file, part, sizeof part);
  if (got < 0 && errno != EINTR)
    list->error = errno;
  if (got > 0)
    g_string_append_len(list->text, part, got);
  return got > 0;
}

/* The next name that is read whole; the last one needs no end. */
static char *name_take(PathList *list)
{
  for (bool more = true;;) {
    char *end = memchr(list->text->str, list->end, list->text->len);
    if (!end && more && !(more = more_read(list)) && g_atomic_int_get(list->stopped))
      return NULL;
    if (!end && more)
      continue;
    size_t length = end ? (size_t)(end - list->text->str) : list->text->len;
    if (length == 0 && !end)
      return NULL;
    char *name = g_strndup(list->text->str, length);
    g_string_erase(list->text, 0, (gssize)(end ? length + 1 : length));
    if (*name)
      return name;
    g_free(name);
  }
}

char *path_list_next(PathList *list)
{
  if (g_atomic_int_get(list->stopped))
    return NULL;
  if (list->file >= 0)
    return name_take(list);
  return list->next < list->n ? g_strdup(list->name[list->next++]) : NULL;
}
