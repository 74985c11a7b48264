/* cli_bars.c - soffit-cli bars: strength tests of one set, or of two compared.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_bars.h"
#include "assess_break.h"
#include "cli.h"
#include "json_print.h"
#include "strength/bars_answer.h"
#include "ui/words.h"
#include <math.h>
#include <stdio.h>

#define SAID_MOST 20 /* messages of one file on standard error */

/* "key": value, "key_band": [low, high] */
static void banded_put(GString *json, const char *key, Banded b)
{
  g_autofree char *band = g_strconcat(key, "_band", NULL);
  json_number(json, key, b.value);
  json_open(json, band, '[');
  json_value(json, b.low);
  json_value(json, b.high);
  json_close(json, ']');
}

static void banded_say(const char *what, Banded b, int decimals, const char *unit)
{
  g_autofree char *value = words_number(b.value, decimals), *range = words_range(b, decimals);
  if (isfinite(b.low))
    printf("  %-22s %s %s (%s)\n", what, value, unit, range);
  else
    printf("  %-22s %s %s (%s)\n", what, value, unit, _("too few bars for a band"));
}

/* Rows that could not be read, and bars that cannot be used, in one list. */
static GPtrArray *left_out(const BarsTable *table, const BarsAnswer *answer,
                           const BarsSetAnswer *set)
{
  GPtrArray *list = g_ptr_array_new_with_free_func(g_free);
  for (guint i = 0; i < table->message->len; i++)
    g_ptr_array_add(list, g_strdup(g_ptr_array_index(table->message, i)));
  for (size_t i = 0; i < set->n; i++)
    if (set->fault[i]) {
      Phrase phrase = bar_fault_phrase(set->fault[i], &answer->setup, &set->bar[i]);
      g_autofree char *what = words_phrase(&phrase);
      g_ptr_array_add(list, g_strdup_printf("%s:%u: %s", table->name,
                                            g_array_index(table->row, BarsRow, i).line, what));
    }
  return list;
}

static void set_json(const BarsTable *table, const BarsAnswer *answer, const BarsSetAnswer *set,
                     const BarsRecords *records, const GPtrArray *out)
{
  GString *json = json_begin();
  json_text(json, "file", table->name);
  json_text(json, "test", bar_test_word(answer->setup.test));
  json_number(json, "span_mm", answer->setup.span);
  json_number(json, "inner_mm", answer->setup.inner);
  json_number(json, "bars", (double)set->n_good);
  json_open(json, "strengths_mpa", '[');
  for (size_t i = 0; i < set->n; i++)
    if (!set->fault[i])
      json_value(json, set->strength[i]);
  json_close(json, ']');
  json_open(json, "outlier_lines", '[');
  for (size_t i = 0; i < set->n; i++)
    if (set->outlier[i])
      json_value(json, g_array_index(table->row, BarsRow, i).line);
  json_close(json, ']');
  json_open(json, "left_out", '[');
  for (guint i = 0; i < out->len; i++)
    json_item(json, g_ptr_array_index(out, i));
  json_close(json, ']');
  json_open(json, "further_columns", '[');
  for (guint i = 0; i < table->further->len; i++)
    json_item(json, g_ptr_array_index(table->further, i));
  json_close(json, ']');
  if (records->recorded) {
    json_open(json, "origins", '{');
    json_number(json, "recorded", (double)records->recorded);
    json_number(json, "placed", (double)records->placed);
    json_number(json, "hits", (double)records->hits);
    json_close(json, '}');
  }
  if (set->fit_fault)
    json_text(json, "fault", fault_name(set->fit_fault));
  else {
    banded_put(json, "m", set->fit.modulus);
    banded_put(json, "scale_mpa", set->fit.scale);
    banded_put(json, "median_mpa", set->fit.median);
    banded_put(json, "five_of_100_mpa", set->fit.five);
    banded_put(json, "mean_mpa", set->fit.mean);
    json_number(json, "m_biased", set->fit.fit.modulus);
    json_number(json, "class", set->iso.reached);
    json_open(json, "class_sure_percent", '[');
    for (int i = 0; i < BARS_CLASSES; i++)
      json_value(json, set->iso.sure[i]);
    json_close(json, ']');
    json_number(json, "effective_surface_mm2", set->surface);
  }
  json_end_print(json);
}

static void set_say(const BarsTable *table, const BarsSetAnswer *set, const BarsRecords *records)
{
  printf(words_plural("%s: %zu bar\n", "%s: %zu bars\n", set->n_good), table->name, set->n_good);
  for (size_t i = 0; i < set->n; i++)
    if (set->outlier[i])
      printf(_("  line %u: %.0f MPa lies far from the others. Look at its origin; it is used.\n"),
             g_array_index(table->row, BarsRow, i).line, set->strength[i]);
  if (records->recorded) {
    Banded share = hit_share_percent(records->hits, records->placed);
    printf(_("  began where it was expected: %zu of %zu places"), records->hits, records->placed);
    if (records->placed)
      printf(_(", %.0f %% (90 %% band %.0f-%.0f)"), share.value, share.low, share.high);
    putchar('\n');
  }
  if (set->fit_fault) {
    printf("  %s\n", set->n_good < 3 ? _("too few bars for a spread: at least 3")
                                     : _("all bars are alike: no spread to tell"));
    return;
  }
  banded_say(_("63 of 100 broken"), set->fit.scale, 0, "MPa");
  banded_say(_("5 of 100 broken"), set->fit.five, 0, "MPa");
  banded_say(_("mean"), set->fit.mean, 0, "MPa");
  banded_say(_("spread m"), set->fit.modulus, 1, "");
  g_autofree char *surface = words_number(set->surface, 1);
  printf("  %-22s %s mm²\n", _("effective surface"), surface);
  int class = set->iso.reached;
  if (class == 0)
    printf("  %s\n", _("no class of ISO 6872 reached"));
  else if (isfinite(set->iso.sure[class - 1]))
    printf(_("  class %d of ISO 6872 reached, by the mean; %.0f in 100 sure\n"), class,
           set->iso.sure[class - 1]);
  else
    printf(_("  class %d of ISO 6872 reached, by the mean; too few bars to be sure\n"), class);
}

static void comparison_json(const BarsAnswer *answer)
{
  const BarsComparison *c = &answer->comparison;
  GString *json = json_begin();
  json_open(json, "comparison", '{');
  if (answer->compare_fault)
    json_text(json, "fault", fault_name(answer->compare_fault));
  else {
    banded_put(json, "gain_percent", c->gain_percent);
    banded_put(json, "gain_median_percent", c->gain_median_percent);
    banded_put(json, "m_ratio", c->modulus_ratio);
    json_number(json, "likelihood_ratio", c->likelihood_ratio);
    json_number(json, "same_chance", c->same_chance);
    json_number(json, "bars_more", (double)c->bars_more);
  }
  json_close(json, '}');
  json_end_print(json);
}

static void comparison_say(const BarsAnswer *answer)
{
  const BarsComparison *c = &answer->comparison;
  puts(_("second against first:"));
  if (answer->compare_fault) {
    printf(_("  each set needs %d good bars for a comparison\n"), BARS_LEAST);
    return;
  }
  banded_say(_("gain, 63 of 100 broken"), c->gain_percent, 0, "%");
  banded_say(_("gain of the median"), c->gain_median_percent, 0, "%");
  banded_say(_("spread m, second/first"), c->modulus_ratio, 2, "");
  printf(_("  were both alike, a difference as large would come %.2g times of 100\n"),
         100 * c->same_chance);
  if (c->settled)
    puts(_("  the gain is settled: its band leaves out nil"));
  else if (c->bars_more >= BARS_MORE_MOST)
    puts(_("  not settled, and hardly any number of bars would settle it"));
  else
    printf(words_plural("  not settled: about %zu bar more in each set would settle it\n",
                        "  not settled: about %zu bars more in each set would settle it\n",
                        c->bars_more),
           c->bars_more);
}

int cli_bars(int argc, char **argv)
{
  double span = NAN, inner = NAN, poisson = NAN;
  g_autofree char *word = NULL;
  gboolean json = FALSE;
  const GOptionEntry entry[] = {
      {"test", 0, 0, G_OPTION_ARG_STRING, &word,
       N_("three-point, four-point-quarter, four-point-third or disc"), "TEST"},
      {"span", 0, 0, G_OPTION_ARG_DOUBLE, &span,
       N_("Span of the outer rollers; disc: diameter of the support circle"), "MM"},
      {"inner", 0, 0, G_OPTION_ARG_DOUBLE, &inner,
       N_("Span of the inner rollers, if it must be told; disc: diameter of the piston, 1.4"),
       "MM"},
      {"poisson", 0, 0, G_OPTION_ARG_DOUBLE, &poisson, N_("Of the disc, 0.25 unless given"),
       "RATIO"},
      {"json", 0, 0, G_OPTION_ARG_NONE, &json, N_("One JSON object a line"), NULL},
      G_OPTION_ENTRY_NULL};
  if (!cli_options("FILE.csv [FILE2.csv]",
                   _("Strength and spread of broken bars; the gain of the second set over the "
                     "first."),
                   entry, &argc, &argv))
    return EXIT_BAD;
  BarTest test;
  if (argc < 2 || argc > 1 + BARS_SETS)
    return cli_bad("%s", _("bars needs one or two CSV files."));
  if (!word || !bar_test_from_word(word, &test))
    return cli_bad("%s", _("--test must be three-point, four-point-quarter, four-point-third or "
                           "disc."));
  if (!isfinite(span))
    return cli_bad("%s", _("--span MM is missing: the span of the outer rollers, or the support "
                           "circle of the disc."));
  BarSetup setup = bar_setup_default(test);
  setup.inner *= test == BAR_DISC ? 1 : span / setup.span;
  setup.span = span;
  if (isfinite(inner))
    setup.inner = inner;
  if (isfinite(poisson))
    setup.poisson = poisson;
  if (bar_setup_check(&setup))
    return cli_bad("%s", _("--span, --inner and --poisson do not fit the test. Spans are 1 to 200 "
                           "mm, inner rollers at 1/2 or 1/3 of the span, the piston is smaller "
                           "than its circle."));

  BarsTable *table[BARS_SETS] = {NULL};
  Bar *bar[BARS_SETS] = {NULL};
  size_t n[BARS_SETS] = {0};
  int status = EXIT_HOLDS, sets = argc - 1;
  g_autoptr(GError) error = NULL;
  for (int i = 0; i < sets && !error; i++) {
    table[i] = bars_csv_load(argv[i + 1], test, &error);
    n[i] = table[i] ? table[i]->row->len : 0;
    bar[i] = g_new(Bar, n[i] + 1);
    for (size_t k = 0; k < n[i]; k++)
      bar[i][k] = g_array_index(table[i]->row, BarsRow, k).bar;
  }
  BarsAnswer *answer = NULL;
  Fault fault = FAULT_NONE;
  if (error)
    status = cli_bad("%s", error->message);
  else if ((fault = bars_answer(&setup, (const Bar *const *)bar, n, NULL, NULL, &answer)))
    status = cli_bad("%s", _(fault_text(fault)));
  for (int i = 0; answer && i < sets; i++) {
    const BarsSetAnswer *set = &answer->set[i];
    BarsRecords records;
    double modulus = set->fit_fault ? NAN : set->fit.modulus.value;
    if ((fault = bars_records(table[i], &setup, modulus, NULL, NULL, &records)))
      status = cli_bad("%s", _(fault_text(fault)));
    g_autoptr(GPtrArray) out = left_out(table[i], answer, set);
    for (guint k = 0; k < MIN(out->len, SAID_MOST); k++)
      fprintf(stderr, "%s\n", (const char *)g_ptr_array_index(out, k));
    if (out->len > SAID_MOST)
      fprintf(stderr, words_plural("%s: and %u more\n", "%s: and %u more\n", out->len - SAID_MOST),
              table[i]->name, out->len - SAID_MOST);
    if (out->len > 0 || set->fit_fault)
      status = EXIT_NOT;
    if (json)
      set_json(table[i], answer, set, &records, out);
    else
      set_say(table[i], set, &records);
    bars_records_clear(&records);
  }
  if (answer && sets == BARS_SETS) {
    if (json)
      comparison_json(answer);
    else
      comparison_say(answer);
  }
  bars_answer_free(answer);
  for (int i = 0; i < BARS_SETS; i++) {
    bars_table_free(table[i]);
    g_free(bar[i]);
  }
  return status;
}
