/* lab_stats.c - see lab_stats.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "lab/lab_stats.h"
#include "assess_break.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- spreads ---- */

static int number_order(const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

double sorted_quantile(const double value[], size_t n, double q)
{
  if (n == 0)
    return NAN;
  double place = fmin(fmax(q, 0), 1) * (double)(n - 1);
  size_t below = (size_t)place;
  double share = place - (double)below;
  return share > 0 ? value[below] + share * (value[below + 1] - value[below]) : value[below];
}

/* 1, 2 or 5 times a power of ten, so that the range takes at most the columns there are. */
static double column_step(double range)
{
  static const double part[] = {1, 2, 5, 10};
  double unit = pow(10, floor(log10(fmax(range, 1e-6) / (STATS_COLUMNS - 2))));
  for (size_t i = 0; i < G_N_ELEMENTS(part); i++)
    if (range <= unit * part[i] * (STATS_COLUMNS - 2))
      return unit * part[i];
  return unit * 20;
}

static void spread_make(double value[], size_t n, Spread *spread)
{
  qsort(value, n, sizeof *value, number_order);
  *spread = (Spread){.n = n,
                     .least = sorted_quantile(value, n, 0),
                     .low = sorted_quantile(value, n, 0.1),
                     .median = sorted_quantile(value, n, 0.5),
                     .high = sorted_quantile(value, n, 0.9),
                     .most = sorted_quantile(value, n, 1)};
  if (n == 0)
    return;
  spread->step = column_step(spread->most - spread->least);
  spread->first = floor(spread->least / spread->step) * spread->step;
  for (size_t i = 0; i < n; i++) {
    double at = floor((value[i] - spread->first) / spread->step);
    size_t column = (size_t)fmin(fmax(at, 0), STATS_COLUMNS - 1);
    spread->column[column]++;
    spread->n_column = MAX(spread->n_column, column + 1);
  }
}

/* ---- months ---- */

/* Months since year 0. */
static int month_of(gint64 at_us)
{
  g_autoptr(GDateTime) time = g_date_time_new_from_unix_utc(at_us / G_USEC_PER_SEC);
  return time ? g_date_time_get_year(time) * 12 + g_date_time_get_month(time) - 1 : 0;
}

static void months_make(const LabSample sample[], size_t n, LabStats *stats)
{
  int first = G_MAXINT, last = 0;
  g_autofree int *month = g_new0(int, n + 1);
  for (size_t i = 0; i < n; i++) {
    month[i] = sample[i].at_us > 0 ? month_of(sample[i].at_us) : 0;
    if (month[i]) {
      first = MIN(first, month[i]);
      last = MAX(last, month[i]);
    } else
      stats->undated++;
  }
  if (!last)
    return;
  first = MAX(first, last - STATS_MONTHS + 1);
  stats->n_month = (size_t)(last - first + 1);
  for (size_t m = 0; m < stats->n_month; m++) {
    int at = first + (int)m;
    stats->month[m] = (LabMonth){.year = at / 12, .month = at % 12 + 1};
  }
  for (size_t i = 0; i < n; i++) {
    if (month[i] >= first) {
      LabMonth *at = &stats->month[month[i] - first];
      at->cases++;
      at->verdict[sample[i].verdict]++;
    } else
      stats->before += month[i] > 0;
  }
}

/* ---- predicted against seen ---- */

static void bin_add(CalibrationBin *bin, const LabSample *sample)
{
  double sum = bin->n ? bin->predicted * (double)bin->n : 0;
  bin->predicted = (sum + sample->chance_percent) / (double)++bin->n;
  bin->broken += sample->broken;
}

static void bin_close(CalibrationBin *bin)
{
  bin->observed = hit_share_percent(bin->broken, bin->n);
  bin->says = bin->n < STATS_FEW                    ? CALIBRATION_FEW
              : bin->predicted < bin->observed.low  ? CALIBRATION_MORE
              : bin->predicted > bin->observed.high ? CALIBRATION_FEWER
                                                    : CALIBRATION_AS;
}

static void calibration_make(const LabSample sample[], size_t n, LabStats *stats)
{
  static const double edge[STATS_BINS + 1] = {0, 1, 5, 20, 50, 100};
  for (size_t b = 0; b < STATS_BINS; b++)
    stats->bin[b] = (CalibrationBin){.from = edge[b], .to = edge[b + 1], .predicted = NAN};
  stats->all = (CalibrationBin){.to = 100, .predicted = NAN};
  for (size_t i = 0; i < n; i++) {
    if (!sample[i].delivered || !(sample[i].chance_percent >= 0))
      continue;
    size_t b = 0;
    while (b + 1 < STATS_BINS && sample[i].chance_percent >= edge[b + 1])
      b++;
    bin_add(&stats->bin[b], &sample[i]);
    bin_add(&stats->all, &sample[i]);
  }
  for (size_t b = 0; b < STATS_BINS; b++)
    bin_close(&stats->bin[b]);
  bin_close(&stats->all);
}

const char *calibration_name(Calibration calibration)
{
  static const char *const name[] = {N_("too few to tell"), N_("as predicted"),
                                     N_("fewer broke than predicted"),
                                     N_("more broke than predicted")};
  return name[calibration];
}

const char *calibration_id(Calibration calibration)
{
  static const char *const id[] = {"few", "as-predicted", "fewer", "more"};
  return id[calibration];
}

/* ---- hands ---- */

static int hand_order(const void *a, const void *b)
{
  return strcmp(((const HandRow *)a)->hand, ((const HandRow *)b)->hand);
}

static void hands_make(const LabSample sample[], size_t n, LabStats *stats)
{
  g_autoptr(GHashTable) place = g_hash_table_new(g_str_hash, g_str_equal);
  stats->hand = g_array_new(FALSE, TRUE, sizeof(HandRow));
  for (size_t i = 0; i < n; i++) {
    guint at = GPOINTER_TO_UINT(g_hash_table_lookup(place, sample[i].hand));
    if (!at) {
      HandRow row = {0};
      g_strlcpy(row.hand, sample[i].hand, sizeof row.hand);
      g_array_append_val(stats->hand, row);
      at = stats->hand->len;
      g_hash_table_insert(place, (char *)sample[i].hand, GUINT_TO_POINTER(at));
    }
    HandRow *row = &g_array_index(stats->hand, HandRow, at - 1);
    row->cases++;
    row->verdict[sample[i].verdict]++;
    row->returns += sample[i].returns;
  }
  g_array_sort(stats->hand, hand_order);
}

/* ---- all of it ---- */

void lab_stats_make(const LabSample sample[], size_t n, bool by_technician, LabStats *stats)
{
  *stats = (LabStats){.cases = n};
  g_autofree double *radius = g_new(double, n + 1), *area = g_new(double, n + 1);
  size_t radii = 0, areas = 0;
  for (size_t i = 0; i < n; i++) {
    const LabSample *s = &sample[i];
    stats->verdict[s->verdict]++;
    stats->returns += s->returns;
    for (int k = 0; k < CAUSE_N; k++)
      stats->cause[k] += s->cause[k];
    stats->again[MIN(s->returns, STATS_AGAIN - 1)]++;
    stats->delivered += s->delivered;
    stats->broken += s->broken;
    if (isfinite(s->roof_radius_mm))
      radius[radii++] = s->roof_radius_mm;
    if (isfinite(s->area_mm2))
      area[areas++] = s->area_mm2;
  }
  spread_make(radius, radii, &stats->radius);
  spread_make(area, areas, &stats->area);
  months_make(sample, n, stats);
  calibration_make(sample, n, stats);
  if (by_technician)
    hands_make(sample, n, stats);
}

void lab_stats_clear(LabStats *stats)
{
  g_clear_pointer(&stats->hand, g_array_unref);
  *stats = (LabStats){0};
}
