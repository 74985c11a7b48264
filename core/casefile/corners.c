/* corners.c - the trade's notation of an outline: a row of corners.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  "(-1.4, 0) (0, 2.9; r 0.2) (1.4, 0)": straight lines between corners, each rounded by r. */
#include "casefile/case_parts.h"

static void skip_spaces(const char **p)
{
  while (g_ascii_isspace(**p))
    (*p)++;
}

static bool take(const char **p, char sign)
{
  skip_spaces(p);
  if (**p != sign)
    return false;
  (*p)++;
  skip_spaces(p);
  return true;
}

static bool corner_from_text(const char **p, Corner *corner)
{
  *corner = (Corner){0};
  if (!take(p, '(') || !number_from_text(p, &corner->x) || !take(p, ',') ||
      !number_from_text(p, &corner->y))
    return false;
  if (take(p, ';') && (!take(p, 'r') || !number_from_text(p, &corner->r)))
    return false;
  return take(p, ')');
}

bool corners_from_text(const char *text, Corner corner[], size_t room, size_t *n, size_t *bad_at)
{
  const char *p = text;
  size_t found = 0;
  skip_spaces(&p);
  while (*p && found < room && corner_from_text(&p, &corner[found]))
    found++;
  *n = found;
  *bad_at = (size_t)(p - text);
  return *p == '\0' && found >= 2;
}
