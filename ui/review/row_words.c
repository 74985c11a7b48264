/* row_words.c - see row_words.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/review/row_words.h"
#include "strength/finish.h"
#include "ui/words.h"

#define MINUTE_US (60 * (gint64)G_USEC_PER_SEC)
#define HOUR_US (60 * MINUTE_US)
#define DAY_US (24 * HOUR_US)

char *words_lasting(gint64 us)
{
  if (us < HOUR_US)
    return g_strdup_printf(_("%d min"), (int)MAX(us / MINUTE_US, 0));
  if (us < DAY_US)
    return g_strdup_printf(_("%d h"), (int)(us / HOUR_US));
  int days = (int)(us / DAY_US);
  return g_strdup_printf(words_plural("%d day", "%d days", days), days);
}

char *row_words_case(const LabRow *row)
{
  return *row->number ? g_strdup(row->number) : g_filename_display_name(row->file);
}

char *row_words_span(const LabRow *row)
{
  Phrase span = lab_row_span(row);
  return words_phrase(&span);
}

const char *row_words_verdict(const LabRow *row)
{
  switch (row->state) {
  case ROW_UNREADABLE:
    return row->troubles & TROUBLE_NEWER ? _("newer") : _("unreadable");
  case ROW_READY:
    return row->verdict == VERDICT_NONE ? "–" : _(verdict_name(row->verdict));
  default:
    return "…";
  }
}

char *row_words_reason(const LabRow *row)
{
  if (*row->trouble)
    return g_strdup(row->trouble);
  if (row->state == ROW_SEEN)
    return g_strdup(_("not read yet"));
  if (row->state == ROW_READ)
    return g_strdup(_("not judged yet"));
  if (row->headline.text)
    return words_phrase(&row->headline);
  return g_strdup(row->title);
}

static const char *const standing_told[] = {[STANDING_DRAWN] = N_("not sent"),
                                            [STANDING_PASSED] = N_("passed"),
                                            [STANDING_RETURNED] = N_("returned"),
                                            [STANDING_REOPENED] =
                                                N_("reopened: changed since the decision")};

char *row_words_counts(const LabRow *row)
{
  if (row->state != ROW_READY)
    return g_strdup("");
  g_autoptr(GString) all = g_string_new(NULL);
  const guint count[] = {row->stops, row->looks, row->notes};
  for (int i = 0; i < 3; i++)
    if (count[i])
      g_string_append_printf(all, "%s%u %s", all->len ? " · " : "", count[i],
                             _(severity_name((Severity)i)));
  if (!all->len)
    g_string_append(all, _("no rule fired"));
  if (row->standing != STANDING_WAITS)
    g_string_append_printf(all, " · %s", _(standing_told[row->standing]));
  return g_string_free(g_steal_pointer(&all), FALSE);
}

char *row_words_brief(const LabRow *row)
{
  const char *verdict = row_words_verdict(row);
  if (row->state != ROW_READY)
    return g_strdup(verdict);
  if (row->standing != STANDING_WAITS)
    return g_strdup_printf("%s · %s", verdict, _(standing_name(row->standing)));
  if (!row->stops)
    return g_strdup(verdict);
  return g_strdup_printf("%s · %u %s", verdict, row->stops, _(severity_name(SEVERITY_STOP)));
}

char *row_words_hand(const LabRow *row, gint64 now_us)
{
  gint64 since = row->waiting_since_us ? row->waiting_since_us : row->last_us;
  g_autofree char *lasting = since ? words_lasting(now_us - since) : NULL;
  if (!lasting)
    return g_strdup(row->author);
  return *row->author ? g_strdup_printf("%s · %s", row->author, lasting)
                      : g_steal_pointer(&lasting);
}

char *row_words_sentence(const LabRow *row, gint64 now_us)
{
  g_autofree char *number = row_words_case(row), *span = row_words_span(row),
                  *reason = row_words_reason(row), *counts = row_words_counts(row),
                  *hand = row_words_hand(row, now_us);
  const char *part[] = {span, reason, counts, hand};
  g_autoptr(GString) all = g_string_new(NULL);
  g_string_printf(all, "%s, %s", number, row_words_verdict(row));
  for (size_t i = 0; i < G_N_ELEMENTS(part); i++)
    if (*part[i])
      g_string_append_printf(all, ". %s", part[i]);
  return g_string_free(g_steal_pointer(&all), FALSE);
}

char *row_words_cell(const LabRow *row, QueueOrder column, gint64 now_us)
{
  const bool ready = row->state == ROW_READY;
  switch (column) {
  case ORDER_CASE:
    return row_words_case(row);
  case ORDER_SPAN:
    return row_words_span(row);
  case ORDER_MATERIAL:
    return g_strdup(*row->material ? _(row->material) : "");
  case ORDER_CONNECTOR:
    return g_strdup(row->weakest);
  case ORDER_VERDICT:
    return g_strdup(row_words_verdict(row));
  case ORDER_MARGIN:
    return isnan(row->margin.value) ? g_strdup("") : words_banded(row->margin, 2, NULL);
  case ORDER_CHANCE:
    return isnan(row->chance_percent.value) ? g_strdup("") : words_chance(row->chance_percent);
  case ORDER_FINISH:
    return g_strdup(ready ? _(finish_name(row->finish)) : "");
  case ORDER_WAITING:
    if (row->n_unit == 0)
      return g_strdup("");
    return row->waiting_since_us && now_us ? words_lasting(now_us - row->waiting_since_us)
                                           : g_strdup(_(standing_name(row->standing)));
  default:
    return g_strdup(row->author);
  }
}

char *row_words_to_find(const LabRow *row)
{
  g_autofree char *span = row_words_span(row), *reason = row_words_reason(row),
                  *file = g_filename_display_name(row->file);
  return g_strjoin(" ", row->number, row->title, span, row->material, _(row->material),
                   row->weakest, row_words_verdict(row), reason, row->author, file,
                   row->state == ROW_READY ? _(finish_name(row->finish)) : "", NULL);
}
