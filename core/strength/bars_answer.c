/* bars_answer.c - one or two sets of bars in, everything that is said about them out.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "strength/bars_answer.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define CURVE_LEAST 0.01
#define CURVE_MOST 0.99

/* The progress of both sets' draws as one. */
typedef struct {
  FitProgress progress;
  void *data;
  double done, share;
} Share;

static bool share_progress(double part, void *data)
{
  const Share *share = data;
  return !share->progress || share->progress(share->done + share->share * part, share->data);
}

/* Equal steps on the axis of the plot, ln(-ln(1 - chance)). */
static double curve_chance(size_t i)
{
  double low = log(-log1p(-CURVE_LEAST)), high = log(-log1p(-CURVE_MOST));
  return -expm1(-exp(low + (high - low) * (double)i / (BARS_CURVE - 1)));
}

static Fault set_read(BarsSetAnswer *set, const BarSetup *setup, const Bar bar[], size_t n,
                      double work[])
{
  set->n = n;
  set->bar = malloc((n + 1) * sizeof *set->bar);
  set->fault = calloc(n + 1, sizeof *set->fault);
  set->strength = malloc((n + 1) * sizeof *set->strength);
  set->outlier = calloc(n + 1, sizeof *set->outlier);
  set->good = malloc((n + 1) * sizeof *set->good);
  if (!set->bar || !set->fault || !set->strength || !set->outlier || !set->good)
    return FAULT_MEMORY;
  if (n)
    memcpy(set->bar, bar, n * sizeof *bar);
  bars_strengths(setup, bar, n, work, set->strength, set->fault);
  for (size_t i = 0; i < n; i++)
    if (!set->fault[i])
      set->good[set->n_good++] = set->strength[i];
  bool *marked = calloc(n + 1, sizeof *marked);
  if (!marked)
    return FAULT_MEMORY;
  Fault fault = bars_outliers(set->good, set->n_good, work, marked);
  for (size_t i = 0, k = 0; !fault && i < n; i++)
    if (!set->fault[i])
      set->outlier[i] = marked[k++];
  free(marked);
  values_sort(set->good, set->n_good);
  bars_usual(set->bar, set->fault, n, work, &set->width, &set->thickness);
  return fault;
}

static void set_say(BarsSetAnswer *set, const BarSetup *setup, const WeibullPair pivot[],
                    size_t n_pivot, double work[])
{
  set->fit_fault = bars_fit(set->good, set->n_good, pivot, n_pivot, work, &set->fit);
  if (set->fit_fault)
    return;
  set->iso = bars_class(&set->fit, pivot, n_pivot, work);
  set->surface = bars_surface(setup, set->width, set->thickness, &set->fit);
  for (size_t i = 0; i < BARS_CURVE; i++) {
    set->curve[i].chance = curve_chance(i);
    set->curve[i].stress = bars_quantile(&set->fit, set->curve[i].chance, pivot, n_pivot, work);
  }
}

Fault bars_answer(const BarSetup *setup, const Bar *const bar[BARS_SETS], const size_t n[BARS_SETS],
                  FitProgress progress, void *data, BarsAnswer **result)
{
  Fault fault = bar_setup_check(setup);
  if (fault)
    return fault;
  size_t all = n[0] + n[1], draws = BARS_DRAWS;
  BarsAnswer *answer = calloc(1, sizeof *answer);
  double *work = malloc((all > draws ? all : draws) * sizeof *work);
  WeibullPair *pivot[BARS_SETS] = {malloc(draws * sizeof **pivot), malloc(draws * sizeof **pivot)};
  if (!answer || !work || !pivot[0] || !pivot[1])
    fault = FAULT_MEMORY;
  if (answer)
    answer->setup = *setup;
  size_t good = 0, done = 0;
  for (int i = 0; !fault && i < BARS_SETS; i++) {
    fault = set_read(&answer->set[i], setup, bar[i], n[i], work);
    good += answer->set[i].n_good;
  }
  for (int i = 0; !fault && i < BARS_SETS; i++) {
    BarsSetAnswer *set = &answer->set[i];
    Share share = {progress, data, (double)done / (double)(good + 1),
                   (double)set->n_good / (double)(good + 1)};
    done += set->n_good;
    bool bands = set->n_good >= BARS_LEAST;
    if (bands)
      fault = weibull_pivots(set->n_good, (uint64_t)i + 1, share_progress, &share, work, pivot[i],
                             draws);
    if (!fault)
      set_say(set, setup, pivot[i], bands ? draws : 0, work);
  }
  if (!fault) {
    BarsSet set[BARS_SETS];
    answer->compare_fault = FAULT_DEGENERATE;
    for (int i = 0; i < BARS_SETS; i++)
      set[i] = (BarsSet){answer->set[i].good, &answer->set[i].fit, pivot[i]};
    if (!answer->set[0].fit_fault && !answer->set[1].fit_fault)
      answer->compare_fault = bars_compare(&set[0], &set[1], draws, work, &answer->comparison);
  }
  free(work);
  free(pivot[0]);
  free(pivot[1]);
  if (fault)
    bars_answer_free(answer);
  else
    *result = answer;
  return fault;
}

void bars_answer_free(BarsAnswer *answer)
{
  if (!answer)
    return;
  for (int i = 0; i < BARS_SETS; i++) {
    free(answer->set[i].bar);
    free(answer->set[i].fault);
    free(answer->set[i].strength);
    free(answer->set[i].outlier);
    free(answer->set[i].good);
  }
  free(answer);
}
