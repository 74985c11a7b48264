/* compare_words.c - see compare_words.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/trace/compare_words.h"
#include "ui/words.h"
#include <math.h>

#define SAME_PERCENT 0.5 /* what is shown as "the same" */

static char *change_words(double today, double other)
{
  double percent = 100 * (other / today - 1);
  if (!isfinite(percent))
    return g_strdup("–");
  if (fabs(percent) < SAME_PERCENT)
    return g_strdup(_("the same"));
  g_autofree char *figure = words_number(fabs(percent), 0);
  return g_strdup_printf(percent > 0 ? _("%s %% more") : _("%s %% less"), figure);
}

static char *figure_words(const ReadingText *reading)
{
  const char *space = *reading->unit ? " " : "", *apart = *reading->band ? " " : "";
  return g_strconcat(reading->figure, space, reading->unit, apart, reading->band, NULL);
}

static char *pull_words(const ConnectorAssessment *k)
{
  g_autofree char *peak = words_number(k->peak_mpa.value, 0), *band = words_range(k->peak_mpa, 0);
  return g_strdup_printf("%s MPa (%s)", peak, band);
}

/* What a reading is measured by when it is compared. */
static double measure(const ConnectorAssessment *k, ReadingKind kind)
{
  const double of[READING_N] = {
      [READING_NECK] = k->section.area,        [READING_RADIUS] = k->form.roof_radius.value,
      [READING_ROOM] = k->form.gap_circle,     [READING_MARGIN] = k->margin.value,
      [READING_SCRATCH] = k->scratch_um.value, [READING_CHANCE] = k->chance_percent.value};
  return of[kind];
}

void compare_lines_make(const Assessment *today, const Assessment *other, size_t connector,
                        CompareLine line[COMPARE_LINES])
{
  const ConnectorAssessment *a = &today->connector[connector], *b = &other->connector[connector];
  ReadingText was[READING_N] = {0}, is[READING_N] = {0};
  reading_texts_make(today, connector, was);
  reading_texts_make(other, connector, is);
  for (int i = 0; i < COMPARE_LINES; i++)
    compare_line_clear(&line[i]);
  line[0] = (CompareLine){_("Pull at the order's load"), pull_words(a), pull_words(b),
                          change_words(a->peak_mpa.value, b->peak_mpa.value)};
  for (int i = 0; i < READING_N; i++) {
    line[i + 1] =
        (CompareLine){was[i].name, figure_words(&was[i]), figure_words(&is[i]),
                      change_words(measure(a, (ReadingKind)i), measure(b, (ReadingKind)i))};
    reading_text_clear(&was[i]);
    reading_text_clear(&is[i]);
  }
}

void compare_line_clear(CompareLine *line)
{
  g_free(line->today);
  g_free(line->other);
  g_free(line->change);
  *line = (CompareLine){0};
}
