/* cli_figures.c - soffit-cli figures: what the cases of a lab's folder show together.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/bars_cells.h"
#include "cli.h"
#include "json_print.h"
#include "lab/lab_sample.h"
#include "ui/figures_words.h"
#include "ui/words.h"
#include <math.h>
#include <stdio.h>
#include <unistd.h>

/* ---- rows: table, row, figure, value; CSV and JSON say the same ---- */

typedef struct {
  bool json;
  GString *line;
} Table;

static void row_write(Table *table, const char *name, const char *row, const char *figure,
                      double value)
{
  if (table->json) {
    GString *line = json_begin();
    json_text(line, "table", name);
    json_text(line, "row", row);
    json_text(line, "figure", figure);
    json_number(line, "value", value);
    json_end_print(line);
    return;
  }
  char number[G_ASCII_DTOSTR_BUF_SIZE] = "";
  if (isfinite(value))
    g_ascii_formatd(number, sizeof number, "%.9g", value);
  const char *const text[] = {name, row, figure, number};
  g_string_truncate(table->line, 0);
  for (size_t i = 0; i < G_N_ELEMENTS(text); i++)
    bars_cell_write(table->line, text[i], i ? ',' : 0);
  printf("%s\r\n", table->line->str); /* RFC 4180 */
}

static void verdicts_write(Table *table, const char *name, const char *row,
                           const guint verdict[STATS_VERDICTS])
{
  for (int v = 0; v < STATS_VERDICTS; v++)
    row_write(table, name, row, verdict_id((Verdict)v), verdict[v]);
}

static void spread_write(Table *table, const char *row, const Spread *spread)
{
  const struct {
    const char *figure;
    double value;
  } figure[] = {{"cases", (double)spread->n},  {"least", spread->least},
                {"tenth", spread->low},        {"median", spread->median},
                {"nine-tenths", spread->high}, {"most", spread->most}};
  for (size_t i = 0; i < G_N_ELEMENTS(figure); i++)
    row_write(table, "sizes", row, figure[i].figure, figure[i].value);
  for (size_t k = 0; k < spread->n_column; k++) {
    g_autofree char *from = g_strdup_printf("from %.4g", spread->first + (double)k * spread->step);
    row_write(table, "sizes", row, from, spread->column[k]);
  }
}

static void bin_write(Table *table, const char *row, const CalibrationBin *bin)
{
  const struct {
    const char *figure;
    double value;
  } figure[] = {{"cases", (double)bin->n},
                {"broken", (double)bin->broken},
                {"predicted_percent", bin->predicted},
                {"seen_percent", bin->observed.value},
                {"seen_low_percent", bin->observed.low},
                {"seen_high_percent", bin->observed.high}};
  for (size_t i = 0; i < G_N_ELEMENTS(figure); i++)
    row_write(table, "calibration", row, figure[i].figure, figure[i].value);
  row_write(table, "calibration", row, calibration_id(bin->says), 1);
}

static void table_write(Table *table, const LabSamples *samples, const LabStats *stats)
{
  static const char *const again[STATS_AGAIN] = {"never", "once", "twice", "more"};
  if (!table->json)
    printf("table,row,figure,value\r\n");
  row_write(table, "cases", "all", "files", samples->files);
  row_write(table, "cases", "all", "unread", samples->unread);
  row_write(table, "cases", "all", "undated", (double)stats->undated);
  verdicts_write(table, "verdicts", "all", stats->verdict);
  for (size_t m = 0; m < stats->n_month; m++) {
    g_autofree char *month =
        g_strdup_printf("%04d-%02d", stats->month[m].year, stats->month[m].month);
    verdicts_write(table, "verdicts", month, stats->month[m].verdict);
  }
  row_write(table, "returns", "all", "returns", stats->returns);
  for (int k = 0; k < STATS_AGAIN; k++)
    row_write(table, "returns", "cases", again[k], stats->again[k]);
  for (int k = 0; k < CAUSE_N; k++)
    row_write(table, "returns", "causes", return_cause_id((ReturnCause)k), stats->cause[k]);
  spread_write(table, "roof_radius_mm", &stats->radius);
  spread_write(table, "neck_area_mm2", &stats->area);
  for (int b = 0; b < STATS_BINS; b++) {
    g_autofree char *row = g_strdup_printf("%g-%g", stats->bin[b].from, stats->bin[b].to);
    bin_write(table, row, &stats->bin[b]);
  }
  bin_write(table, "all", &stats->all);
  for (guint i = 0; stats->hand && i < stats->hand->len; i++) {
    const HandRow *hand = &g_array_index(stats->hand, HandRow, i);
    verdicts_write(table, "technician", hand->hand, hand->verdict);
    row_write(table, "technician", hand->hand, "returns", hand->returns);
  }
}

/* ---- words ---- */

static void words_write(const LabStats *stats)
{
  for (int topic = 0; topic < FIGURES_N; topic++) {
    g_autoptr(GPtrArray) said = figures_sentences(stats, (FiguresTopic)topic);
    if (said->len)
      printf("%s%s\n", topic ? "\n" : "", _(figures_title((FiguresTopic)topic)));
    for (guint i = 0; i < said->len; i++)
      printf("  %s\n", (const char *)said->pdata[i]);
  }
}

static bool progress_tell(guint done, guint of, void *data)
{
  if (*(bool *)data) {
    fprintf(stderr, "\r\033[K");
    fprintf(stderr, _("%d of %d cases"), (int)done, (int)of);
    if (done == of)
      fprintf(stderr, "\r\033[K");
  }
  return true;
}

int cli_figures(int argc, char **argv)
{
  gboolean json = FALSE, csv = FALSE;
  int workers = (int)g_get_num_processors();
  const GOptionEntry entry[] = {
      {"json", 0, 0, G_OPTION_ARG_NONE, &json, N_("One JSON object a line"), NULL},
      {"csv", 0, 0, G_OPTION_ARG_NONE, &csv, N_("A table with commas (RFC 4180)"), NULL},
      {"workers", 0, 0, G_OPTION_ARG_INT, &workers, N_("Cases at once; else one for each core"),
       N_("N")},
      G_OPTION_ENTRY_NULL};
  if (!cli_options(
          "FOLDER",
          _("Verdicts over time, returns, sizes, and predicted chances against breaks, of all "
            "cases of a folder. By technician only where the lab has switched that on."),
          entry, &argc, &argv))
    return EXIT_BAD;
  if (argc != 2)
    return cli_bad("%s", _("no folder named. Name the folder of a lab."));
  bool terminal = isatty(STDERR_FILENO);
  LabSamplesWish wish = {.threads = workers,
                         .translate = words_translate,
                         .progress = progress_tell,
                         .data = &terminal};
  g_autoptr(GError) error = NULL;
  g_autoptr(LabSamples) samples = lab_samples_read(argv[1], &wish, &error);
  if (!samples)
    return cli_bad("%s", error ? error->message : _(fault_text(FAULT_MEMORY)));
  if (samples->trouble)
    cli_bad("%s", samples->trouble);
  LabStats stats;
  lab_stats_make((const LabSample *)(void *)samples->sample->data, samples->sample->len,
                 samples->by_technician, &stats);
  if (json || csv) {
    g_autoptr(GString) line = g_string_new(NULL);
    Table table = {.json = json, .line = line};
    table_write(&table, samples, &stats);
  } else {
    words_write(&stats);
  }
  lab_stats_clear(&stats);
  if (samples->unread)
    cli_bad(words_plural("%u file has no answer and is not counted.",
                         "%u files have no answer and are not counted.", samples->unread),
            samples->unread);
  return samples->unread || samples->trouble ? EXIT_BAD : EXIT_HOLDS;
}
