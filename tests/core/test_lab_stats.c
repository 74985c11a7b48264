/* test_lab_stats.c - figures of a lab: quantiles, months, causes, returns, predicted against seen.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "case_files.h"
#include "casefile/case_xml.h"
#include "lab/lab_sample.h"
#include "proof.h"
#include <glib/gstdio.h>
#include <string.h>

static const Source type7 = {"Hyndman & Fan 1996, type 7, by hand: (n - 1) q + 1", EXACT},
                    score = {"Wilson 1927: an end p has (seen - p)^2 = z^2 p (1 - p) / n", EXACT},
                    newcombe = {"Wilson 1927, 0 of n: high end z^2 / (n + z^2), by hand", EXACT};

#define DAY_US (86400 * (gint64)G_USEC_PER_SEC)
#define JANUARY_2026_US (1767225600 * (gint64)G_USEC_PER_SEC) /* date -u -d 2026-01-01 +%s */

static LabSample sample_of(double chance, bool broken)
{
  return (LabSample){.verdict = VERDICT_HOLDS,
                     .roof_radius_mm = 0.5,
                     .area_mm2 = 10,
                     .chance_percent = chance,
                     .delivered = true,
                     .broken = broken,
                     .hand = "AK"};
}

static void test_quantile(void)
{
  const double four[] = {1, 2, 4, 8}, one[] = {3};
  proof_row_within("lower quarter of 1 2 4 8", type7, 1.75, sorted_quantile(four, 4, 0.25), 1e-9);
  proof_row_within("median of 1 2 4 8", type7, 3, sorted_quantile(four, 4, 0.5), 1e-9);
  proof_row_within("nine tenths of 1 2 4 8", type7, 6.8, sorted_quantile(four, 4, 0.9), 1e-9);
  g_assert_cmpfloat(sorted_quantile(four, 4, 0), ==, 1);
  g_assert_cmpfloat(sorted_quantile(four, 4, 1), ==, 8);
  g_assert_cmpfloat(sorted_quantile(one, 1, 0.9), ==, 3);
  g_assert_true(isnan(sorted_quantile(NULL, 0, 0.5)));
}

static void test_spread(void)
{
  LabSample sample[101];
  LabStats stats;
  for (int i = 0; i < 101; i++) {
    sample[i] = sample_of(1, false);
    sample[i].roof_radius_mm = 0.2 + 0.01 * (double)((i * 37) % 101); /* any order */
    sample[i].area_mm2 = i < 100 ? NAN : 12.5;
  }
  lab_stats_make(sample, 101, false, &stats);
  g_assert_cmpuint(stats.radius.n, ==, 101);
  g_assert_cmpfloat_with_epsilon(stats.radius.median, 0.7, 1e-9);
  g_assert_cmpfloat_with_epsilon(stats.radius.low, 0.3, 1e-9);
  g_assert_cmpfloat_with_epsilon(stats.radius.high, 1.1, 1e-9);
  guint sum = 0;
  for (size_t k = 0; k < stats.radius.n_column; k++)
    sum += stats.radius.column[k];
  g_assert_cmpuint(sum, ==, 101);
  g_assert_cmpfloat(stats.radius.first, <=, 0.2 + 1e-9);
  g_assert_cmpfloat(stats.radius.first + stats.radius.step * (double)stats.radius.n_column, >=,
                    1.2 - 1e-9);
  g_assert_cmpuint(stats.area.n, ==, 1);
  g_assert_cmpfloat(stats.area.least, ==, 12.5);
  g_assert_cmpuint(stats.area.column[0], ==, 1);
  lab_stats_clear(&stats);
}

static void test_months(void)
{
  LabSample sample[5];
  LabStats stats;
  for (int i = 0; i < 5; i++)
    sample[i] = sample_of(1, false);
  sample[0].at_us = JANUARY_2026_US;
  sample[1].at_us = JANUARY_2026_US - 1; /* the year before */
  sample[2].at_us = JANUARY_2026_US + 70 * DAY_US;
  sample[2].verdict = VERDICT_REWORK;
  sample[3].at_us = JANUARY_2026_US - 365 * 3 * DAY_US;
  lab_stats_make(sample, 5, false, &stats);
  g_assert_cmpuint(stats.n_month, ==, STATS_MONTHS);
  const LabMonth *last = &stats.month[STATS_MONTHS - 1];
  g_assert_cmpint(last->year, ==, 2026);
  g_assert_cmpint(last->month, ==, 3);
  g_assert_cmpuint(last->verdict[VERDICT_REWORK], ==, 1);
  g_assert_cmpuint(last[-1].cases, ==, 0); /* February: without a gap */
  g_assert_cmpuint(last[-2].verdict[VERDICT_HOLDS], ==, 1);
  g_assert_cmpint(last[-3].year, ==, 2025);
  g_assert_cmpint(last[-3].month, ==, 12);
  g_assert_cmpuint(last[-3].cases, ==, 1);
  g_assert_cmpuint(stats.before, ==, 1);
  g_assert_cmpuint(stats.undated, ==, 1);
  lab_stats_clear(&stats);
}

static const char *german(const char *msgid)
{
  return strstr(msgid, "roof") ? "dach|kehlung" : msgid;
}

static void test_causes(void)
{
  g_assert_cmpuint(return_causes("Roof too sharp; round it", NULL), ==, 1u << CAUSE_ROOF);
  g_assert_cmpuint(return_causes("neck too thin, still ground", NULL), ==,
                   1u << CAUSE_NECK | 1u << CAUSE_FINISH);
  g_assert_cmpuint(return_causes("no profit, outfitted", NULL), ==, 1u << CAUSE_OTHER);
  g_assert_cmpuint(return_causes("", NULL), ==, 1u << CAUSE_OTHER);
  g_assert_cmpuint(return_causes("DACHRADIUS runden", german), ==, 1u << CAUSE_ROOF);
  g_assert_cmpuint(return_causes("Dachradius runden", NULL), ==, 1u << CAUSE_OTHER);
  g_assert_cmpuint(return_causes("\xff\xfe roof", NULL), ==, 1u << CAUSE_ROOF);
  for (int k = 0; k < CAUSE_N; k++)
    g_assert_true(*return_cause_name((ReturnCause)k) && *return_cause_id((ReturnCause)k));
}

/* 40 cases of 2 %, none broken; 12 of 30 %, 4 broken; 20 of 60 %, 1 broken; 15 of 0.1 %, 3 broken;
 * 5 of 10 %. */
static void test_calibration(void)
{
  static const struct {
    double chance;
    int n, broken;
    Calibration says;
  } group[STATS_BINS] = {{0.1, 15, 3, CALIBRATION_MORE},
                         {2, 40, 0, CALIBRATION_AS},
                         {10, 5, 0, CALIBRATION_FEW},
                         {30, 12, 4, CALIBRATION_AS},
                         {60, 20, 1, CALIBRATION_FEWER}};
  LabSample sample[100];
  size_t n = 0;
  for (int g = 0; g < STATS_BINS; g++)
    for (int i = 0; i < group[g].n; i++)
      sample[n++] = sample_of(group[g].chance, i < group[g].broken);
  sample[n] = sample_of(60, false); /* not delivered, or without a chance: not counted */
  sample[n++].delivered = false;
  sample[n++] = sample_of(NAN, true);
  LabStats stats;
  lab_stats_make(sample, n, false, &stats);
  const double z2 = 1.6448536269514722 * 1.6448536269514722;
  for (int g = 0; g < STATS_BINS; g++) {
    const CalibrationBin *bin = &stats.bin[g];
    g_assert_cmpuint(bin->n, ==, (size_t)group[g].n);
    g_assert_cmpuint(bin->broken, ==, (size_t)group[g].broken);
    g_assert_cmpfloat_with_epsilon(bin->predicted, group[g].chance, 1e-9);
    g_assert_cmpint(bin->says, ==, group[g].says);
    double end[2] = {bin->observed.low / 100, bin->observed.high / 100},
           seen = (double)group[g].broken / group[g].n;
    for (int e = group[g].broken ? 0 : 1; e < 2; e++)
      proof_row_within("share broken, (seen - p)^2 n / p (1 - p)", score, z2,
                       (seen - end[e]) * (seen - end[e]) * group[g].n / (end[e] * (1 - end[e])),
                       1e-9);
  }
  proof_row_within("0 of 40, high end, percent", newcombe, 100 * z2 / (40 + z2),
                   stats.bin[1].observed.high, 1e-9);
  g_assert_cmpuint(stats.all.n, ==, 92);
  g_assert_cmpuint(stats.all.broken, ==, 8);
  g_assert_cmpuint(stats.broken, ==, 9);
  g_assert_cmpuint(stats.delivered, ==, n - 1);
  for (int k = 0; k < 4; k++)
    g_assert_true(*calibration_name((Calibration)k) && *calibration_id((Calibration)k));
  lab_stats_clear(&stats);
}

static void test_edges(void)
{
  const double edge[] = {0, 1, 5, 20, 50, 100};
  LabSample sample[6];
  LabStats stats;
  for (int i = 0; i < 6; i++)
    sample[i] = sample_of(edge[i], false);
  lab_stats_make(sample, 6, false, &stats);
  const size_t want[STATS_BINS] = {1, 1, 1, 1, 2}; /* an edge belongs above, 100 to the last */
  for (int b = 0; b < STATS_BINS; b++)
    g_assert_cmpuint(stats.bin[b].n, ==, want[b]);
  lab_stats_clear(&stats);
  lab_stats_make(NULL, 0, true, &stats); /* an empty lab */
  g_assert_cmpuint(stats.n_month, ==, 0);
  g_assert_true(isnan(stats.radius.median) && isnan(stats.all.observed.value));
  g_assert_cmpint(stats.all.says, ==, CALIBRATION_FEW);
  g_assert_cmpuint(stats.hand->len, ==, 0);
  lab_stats_clear(&stats);
}

static void test_hands(void)
{
  LabSample sample[4];
  LabStats stats;
  static const char *const hand[] = {"TL", "AK", "TL", "BM"};
  for (guint i = 0; i < 4; i++) {
    sample[i] = sample_of(1, false);
    g_strlcpy(sample[i].hand, hand[i], sizeof sample[i].hand);
    sample[i].returns = i;
  }
  lab_stats_make(sample, 4, false, &stats);
  g_assert_null(stats.hand); /* off: nothing is told of single hands */
  g_assert_cmpuint(stats.again[0], ==, 1);
  g_assert_cmpuint(stats.again[3], ==, 1);
  lab_stats_clear(&stats);
  lab_stats_make(sample, 4, true, &stats);
  g_assert_cmpuint(stats.hand->len, ==, 3);
  const HandRow *last = &g_array_index(stats.hand, HandRow, 2);
  g_assert_cmpstr(last->hand, ==, "TL");
  g_assert_cmpuint(last->cases, ==, 2);
  g_assert_cmpuint(last->returns, ==, 2);
  lab_stats_clear(&stats);
}

static void entry_add(Case *c, EntryKind kind, const char *time, const char *initials,
                      const char *text)
{
  HistoryEntry *entry = history_entry_new();
  entry->kind = kind;
  char **const field[] = {&entry->time, &entry->initials, &entry->text};
  const char *const value[] = {time, initials, text};
  for (size_t i = 0; i < G_N_ELEMENTS(field); i++) {
    g_free(*field[i]);
    *field[i] = g_strdup(value[i]);
  }
  g_ptr_array_add(c->history, entry);
}

static bool stop_at_once(guint done, guint of, void *data)
{
  (void)done, (void)of;
  ++*(int *)data;
  return false;
}

/* A folder: one case with a story, one broken, one that is none. */
static void test_folder(void)
{
  g_autofree char *lab = g_dir_make_tmp("figures-XXXXXX", NULL);
  static const char *const name[] = {"a.xml", "b.xml", "c.xml"};
  char *path[3];
  for (int i = 0; i < 3; i++)
    path[i] = g_build_filename(lab, name[i], NULL);
  GError *error = NULL;
  Case c;
  demo_load(&c, "demo/QB-06.xml");
  g_ptr_array_set_size(c.history, 0);
  entry_add(&c, ENTRY_NOTE, "day 0", "ID", "order booked");
  entry_add(&c, ENTRY_NOTE, "2025-12-31T22:00:00Z", "AK", "drawn");
  entry_add(&c, ENTRY_SENT, "2026-01-01T08:00:00Z", "AK", "");
  entry_add(&c, ENTRY_RETURN, "2026-01-02T08:00:00Z", "VS", "roof too sharp");
  entry_add(&c, ENTRY_SENT, "2026-02-02T08:00:00Z", "TL", "");
  entry_add(&c, ENTRY_RETURN, "2026-02-03T08:00:00Z", "VS", "polish the roof");
  g_assert_true(case_save(&c, path[0], &error));
  case_clear(&c);
  demo_load(&c, "demo/QB-10.xml");
  g_assert_true(case_save(&c, path[1], &error));
  case_clear(&c);
  g_assert_true(g_file_set_contents(path[2], "<case", -1, &error));

  LabSamplesWish wish = {.threads = 2};
  g_autoptr(LabSamples) samples = lab_samples_read(lab, &wish, &error);
  g_assert_no_error(error);
  g_assert_cmpuint(samples->files, ==, 3);
  g_assert_cmpuint(samples->unread, ==, 1);
  g_assert_false(samples->by_technician);
  const LabSample *first = &g_array_index(samples->sample, LabSample, 0), *second = first + 1;
  g_assert_cmpint(first->at_us, ==, JANUARY_2026_US + 8 * 3600 * (gint64)G_USEC_PER_SEC);
  g_assert_cmpstr(first->hand, ==, "AK");
  g_assert_cmpuint(first->returns, ==, 2);
  g_assert_cmpuint(first->cause[CAUSE_ROOF], ==, 2);
  g_assert_cmpuint(first->cause[CAUSE_FINISH], ==, 1);
  g_assert_false(first->broken);
  g_assert_cmpint(first->verdict, ==, VERDICT_REWORK);
  g_assert_cmpfloat(first->area_mm2, >, 5);
  g_assert_true(second->broken && second->delivered);
  g_assert_cmpint(second->at_us, ==, 0); /* "day 0" is no time */
  g_assert_cmpfloat_with_epsilon(second->roof_radius_mm, 0.35, 0.02);

  int told = 0;
  wish.progress = stop_at_once;
  wish.data = &told;
  g_assert_null(lab_samples_read(lab, &wish, &error));
  g_assert_no_error(error);
  g_assert_cmpint(told, >, 0);
  for (int i = 0; i < 3; i++) {
    g_remove(path[i]);
    g_free(path[i]);
  }
  g_rmdir(lab);
  g_assert_null(lab_samples_read(lab, &wish, &error));
  g_assert_nonnull(error);
  g_error_free(error);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/lab_stats/quantile", test_quantile);
  g_test_add_func("/lab_stats/spread", test_spread);
  g_test_add_func("/lab_stats/months", test_months);
  g_test_add_func("/lab_stats/causes", test_causes);
  g_test_add_func("/lab_stats/calibration", test_calibration);
  g_test_add_func("/lab_stats/edges", test_edges);
  g_test_add_func("/lab_stats/hands", test_hands);
  g_test_add_func("/lab_stats/folder", test_folder);
  return g_test_run();
}
