/* figures_words.c - see figures_words.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/figures_words.h"
#include "ui/words.h"

const char *figures_title(FiguresTopic topic)
{
  static const char *const title[FIGURES_N] = {
      N_("Verdicts over time"), N_("Returns and their causes"), N_("Radii and areas"),
      N_("Predicted chance against breaks"), N_("By technician")};
  return title[topic];
}

char *figures_verdicts(const guint verdict[STATS_VERDICTS])
{
  static const Verdict order[] = {VERDICT_HOLDS, VERDICT_CLOSE, VERDICT_REWORK};
  GString *text = g_string_new(NULL);
  for (size_t i = 0; i < G_N_ELEMENTS(order); i++)
    if (verdict[order[i]])
      g_string_append_printf(text, "%s%u %s", text->len ? ", " : "", verdict[order[i]],
                             _(verdict_name(order[i])));
  if (verdict[VERDICT_NONE])
    g_string_append_printf(text, _("%s%u without a verdict"), text->len ? ", " : "",
                           verdict[VERDICT_NONE]);
  return g_string_free(text, FALSE);
}

static void say_add(GPtrArray *said, const char *format, ...) G_GNUC_PRINTF(2, 3);
static void say_add(GPtrArray *said, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  g_ptr_array_add(said, g_strdup_vprintf(format, args));
  va_end(args);
}

static char *cases_text(size_t n)
{
  return g_strdup_printf(words_plural("%zu case", "%zu cases", n), n);
}

static void months_say(const LabStats *stats, GPtrArray *said)
{
  g_autofree char *all = figures_verdicts(stats->verdict), *cases = cases_text(stats->cases);
  if (!stats->cases) {
    say_add(said, "%s", _("No case of this folder has an answer."));
    return;
  }
  say_add(said, _("%s in all: %s."), cases, all);
  for (size_t m = 0; m < stats->n_month; m++) {
    const LabMonth *at = &stats->month[m];
    g_autofree char *verdicts = figures_verdicts(at->verdict);
    say_add(said, "%04d-%02d: %s", at->year, at->month, at->cases ? verdicts : "–");
  }
  if (stats->before)
    say_add(said,
            words_plural("%zu older case is not shown.", "%zu older cases are not shown.",
                         stats->before),
            stats->before);
  if (stats->undated)
    say_add(said, words_plural("%zu case has no date.", "%zu cases have no date.", stats->undated),
            stats->undated);
  say_add(said, "%s",
          _("The month is that of the first sending; the verdict is today’s, by the lab’s margins "
            "in force."));
}

static int cause_order(const void *a, const void *b, void *data)
{
  const guint *count = data;
  int x = *(const int *)a, y = *(const int *)b;
  return count[x] != count[y] ? (count[x] < count[y] ? 1 : -1) : x - y;
}

static void causes_say(const LabStats *stats, GPtrArray *said)
{
  say_add(said, _("Returned never %u, once %u, twice %u, more often %u."), stats->again[0],
          stats->again[1], stats->again[2], stats->again[3]);
  if (!stats->returns) {
    say_add(said, "%s", _("No return is recorded."));
    return;
  }
  say_add(said, words_plural("%u return in all.", "%u returns in all.", stats->returns),
          stats->returns);
  int order[CAUSE_N];
  for (int k = 0; k < CAUSE_N; k++)
    order[k] = k;
  g_qsort_with_data(order, CAUSE_N, sizeof *order, cause_order, (void *)stats->cause);
  for (int k = 0; k < CAUSE_N && stats->cause[order[k]]; k++)
    say_add(said, "%s: %u", _(return_cause_name((ReturnCause)order[k])), stats->cause[order[k]]);
  say_add(said, "%s", _("Read from the words of each reason; one return may name several parts."));
}

static void spread_say(GPtrArray *said, const char *format, const Spread *spread, int decimals)
{
  g_autofree char *median = words_number(spread->median, decimals),
                  *low = words_number(spread->low, decimals),
                  *high = words_number(spread->high, decimals), *cases = cases_text(spread->n);
  g_ptr_array_add(said, g_strdup_printf(format, median, low, high, cases));
}

static void sizes_say(const LabStats *stats, GPtrArray *said)
{
  if (!stats->radius.n) {
    say_add(said, "%s", _("No case of this folder has an answer."));
    return;
  }
  spread_say(said,
             _("Roof radius: half of them below %s mm, eight of ten between %s and %s mm (%s)."),
             &stats->radius, 2);
  spread_say(said,
             _("Neck area: half of them below %s mm², eight of ten between %s and %s mm² (%s)."),
             &stats->area, 1);
  say_add(said, "%s", _("Of the weakest connector of each case."));
}

static void bin_say(GPtrArray *said, const CalibrationBin *bin)
{
  g_autofree char *mean = words_number(bin->predicted, 1),
                  *seen = words_number(bin->observed.value, 0),
                  *low = words_number(bin->observed.low, 0),
                  *high = words_number(bin->observed.high, 0);
  if (!bin->n)
    say_add(said, _("Predicted %g to %g in 100: no case."), bin->from, bin->to);
  else
    say_add(said,
            _("Predicted %g to %g in 100 (mean %s): %zu of %zu broke, %s in 100 (%s–%s): %s."),
            bin->from, bin->to, mean, bin->broken, bin->n, seen, low, high,
            _(calibration_name(bin->says)));
}

static void calibration_say(const LabStats *stats, GPtrArray *said)
{
  for (size_t b = 0; b < STATS_BINS; b++)
    bin_say(said, &stats->bin[b]);
  if (stats->all.n) {
    g_autofree char *mean = words_number(stats->all.predicted, 1),
                    *seen = words_number(stats->all.observed.value, 1);
    say_add(said, _("All that were delivered: %zu of %zu broke, %s in 100; predicted %s: %s."),
            stats->all.broken, stats->all.n, seen, mean, _(calibration_name(stats->all.says)));
  }
  say_add(
      said, "%s",
      _("Predicted: chance of the weakest connector over its years of service. Bands: 90 in 100. "
        "Bridges in service may yet "
        "break, and not every break is told: what is seen is a lower end and proves no design."));
}

static void hands_say(const LabStats *stats, GPtrArray *said)
{
  for (guint i = 0; stats->hand && i < stats->hand->len; i++) {
    const HandRow *row = &g_array_index(stats->hand, HandRow, i);
    g_autofree char *verdicts = figures_verdicts(row->verdict), *cases = cases_text(row->cases);
    say_add(said, _("%s: %s (%s), returned %u times."), *row->hand ? row->hand : "–", cases,
            verdicts, row->returns);
  }
}

GPtrArray *figures_sentences(const LabStats *stats, FiguresTopic topic)
{
  static void (*const say[FIGURES_N])(const LabStats *stats, GPtrArray *said) = {
      months_say, causes_say, sizes_say, calibration_say, hands_say};
  GPtrArray *said = g_ptr_array_new_with_free_func(g_free);
  say[topic](stats, said);
  return said;
}
