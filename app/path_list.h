/* path_list.h - files named by arguments, or one after the other on an open file.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <glib.h>

typedef struct {
  char **name; /* n of them, borrowed; none: read from `file` */
  int n, next;
  int file;           /* descriptor, -1 = none                                               */
  char end;           /* what ends a name there: '\n' or '\0'                                */
  const int *stopped; /* set by a signal: ends the list, also while it waits for input       */
  GString *text;      /* read, not handed out yet */
  int error;          /* errno of a read that failed, 0 = none */
} PathList;

/* name: "-" alone, or nothing, means standard input. */
void path_list_init(PathList *list, int n, char **name, char end, const int *stopped);
void path_list_clear(PathList *list);
char *path_list_next(PathList *list);      /* owned; NULL at the end; empty names are passed over */
int path_list_known(const PathList *list); /* how many there are in all; -1 = not known yet */
