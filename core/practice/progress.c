/* progress.c - see progress.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "practice/progress.h"
#include <math.h>
#include <string.h>

static void attempt_free(gpointer data)
{
  Attempt *a = data;
  g_free(a->exercise);
  g_free(a);
}

Progress *progress_new(const char *trainee)
{
  Progress *p = g_new0(Progress, 1);
  p->trainee = g_strdup(trainee ? trainee : "");
  p->attempt = g_ptr_array_new_with_free_func(attempt_free);
  return p;
}

void progress_free(Progress *progress)
{
  if (!progress)
    return;
  g_free(progress->trainee);
  g_ptr_array_unref(progress->attempt);
  g_free(progress);
}

Attempt *progress_add(Progress *progress, const Exercise *exercise, const Score *score, gint64 when)
{
  Attempt *a = g_new0(Attempt, 1);
  *a = (Attempt){.exercise = g_strdup(exercise->id),
                 .when = when,
                 .passed = score->passed,
                 .met = (gint)score->met,
                 .of = (gint)score->n,
                 .share = score->share,
                 .strokes = -1,
                 .place_mm = NAN,
                 .gain_guess = NAN,
                 .gain_real = NAN,
                 .right = score->right,
                 .wrong = score->wrong};
  g_ptr_array_add(progress->attempt, a);
  return a;
}

bool progress_passed(const Progress *progress, const char *exercise)
{
  for (guint i = 0; i < progress->attempt->len; i++) {
    const Attempt *a = progress->attempt->pdata[i];
    if (a->passed && strcmp(a->exercise, exercise) == 0)
      return true;
  }
  return false;
}

guint progress_count_passed(const Progress *progress, const GPtrArray *set)
{
  guint n = 0;
  for (guint i = 0; i < set->len; i++) {
    const Exercise *e = set->pdata[i];
    n += exercise_counts(e) && progress_passed(progress, e->id) ? 1 : 0;
  }
  return n;
}

void progress_calibration(const Progress *progress, double *place_mm, double *gain_points)
{
  double place = 0, gain = 0;
  int places = 0, gains = 0;
  for (guint i = 0; i < progress->attempt->len; i++) {
    const Attempt *a = progress->attempt->pdata[i];
    if (!isnan(a->place_mm))
      place += a->place_mm, places++;
    if (!isnan(a->gain_guess - a->gain_real))
      gain += a->gain_guess - a->gain_real, gains++;
  }
  *place_mm = places ? place / places : NAN;
  *gain_points = gains ? gain / gains : NAN;
}
