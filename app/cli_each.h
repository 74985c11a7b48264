/* cli_each.h - thousands of cases on all cores, their lines as they finish.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "connector_line.h"
#include <glib.h>

typedef struct {
  AssessSettings settings; /* threads: as given, each case is solved by one                    */
  LineWish line;           /* file is set for each                                             */
  bool csv;                /* a table instead of lines of JSON                                 */
  int workers;             /* cases at once, 1 .. EACH_WORKERS_MOST; 0 = one for each core     */
  bool progress;           /* told on standard error even where that is no terminal            */
  bool nul;                /* names on standard input end with NUL, not with a newline         */
} EachWish;
#define EACH_WORKERS_MOST 256

/* Exit status: cli.h; EXIT_STOPPED when a signal ended it.  n names, none or "-": standard input.
 */
int each_run(const EachWish *wish, int n, char **name);
