/* json_print.c - see json_print.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "json_print.h"
#include <stdio.h>

void json_end_print(GString *line)
{
  json_end(line);
  fputs(line->str, stdout);
  g_string_free(line, TRUE);
}
