/* merge_words.c - see merge_words.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/merge_words.h"
#include "ui/words.h"
#include <stdint.h>
#include <string.h>

#define LINES_MOST 8 /* of one part; a whole bridge drawn anew has more */

char *merge_part_words(const Case *c, const MergeRow *row)
{
  const char *part = words_translate(case_part_name(row->part));
  char name[12];
  if (row->connector == SIZE_MAX || row->connector + 1 >= c->n_unit)
    return g_strdup(part);
  connector_name(c, row->connector, '/', name);
  return g_strdup_printf("%s: %s", name, part);
}

/* "Roof radius: 0.60 mm → 0.20 mm"; the row tells the connector. */
static char *change_words(const Case *side, const CaseChange *change)
{
  g_autofree char *what = words_phrase(&change->what), *before = words_phrase(&change->before),
                  *after = words_phrase(&change->after), *both = words_change(before, after);
  const char *said = what;
  if (change->connector != SIZE_MAX && change->connector + 1 < side->n_unit) {
    char name[12];
    connector_name(side, change->connector, '/', name);
    g_autofree char *place = g_strconcat(name, ": ", NULL);
    if (g_str_has_prefix(what, place))
      said = what + strlen(place);
  }
  return g_strdup_printf("%s: %s", said, both);
}

char *merge_side_words(const Case *base, const Case *side, const Case *other, const MergeRow *row,
                       bool changed)
{
  if (!changed)
    return g_strdup(_("as it was"));
  g_autoptr(GArray) changes = case_changes(base ? base : other, side);
  GString *text = g_string_new(NULL);
  guint n = 0;
  for (guint i = 0; i < changes->len; i++) {
    const CaseChange *change = &g_array_index(changes, CaseChange, i);
    bool units =
        row->with_connectors && (change->part == PART_UNITS || change->connector != SIZE_MAX);
    bool same = change->part == row->part && change->connector == row->connector;
    if ((!units && !same) || ++n > LINES_MOST)
      continue;
    g_autofree char *words = change_words(side, change);
    g_string_append_printf(text, "%s%s", text->len ? "\n" : "", words);
  }
  if (n > LINES_MOST)
    g_string_append_printf(text, "\n%s", _("and more"));
  if (n == 0)
    g_string_append(text, _("changed"));
  return g_string_free(text, FALSE);
}
