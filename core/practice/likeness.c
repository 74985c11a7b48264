/* likeness.c - see likeness.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "practice/likeness.h"
#include <math.h>

#define LEAST_MM 0.02   /* a shallower notch is none, a sharper one cannot be solved */
#define CLIPPED_MM 0.01 /* less than this is not worth a word */
#define CLIPPED_DEG 1.0

static bool pulled_below(const ConnectorAssessment *k)
{
  return k->trial.moment_n_mm > 0 &&
         (k->trial_peak.zone == SURFACE_ROOF || k->trial_peak.zone == SURFACE_LEGS);
}

static double clip(double value, double low, double high)
{
  return fmin(fmax(value, low), high);
}

Fault likeness_read(const ConnectorAssessment *k, Likeness *likeness)
{
  const Form *form = &k->form;
  if (k->fault || !pulled_below(k) || !(form->neck_height > 0) || !(form->neck_width > 0) ||
      !(k->section.w_gingival > 0))
    return FAULT_RANGE;
  Likeness made = {.bar = {.height = form->neck_height + fmax(form->depth, 0),
                           .width = form->neck_width,
                           .radius = LEAST_MM}};
  if (form->depth >= LEAST_MM) {
    if (isnan(form->roof_radius.value) || isnan(form->opening_deg))
      return FAULT_RANGE;
    NotchedBar *bar = &made.bar;
    bar->depth = fmin(form->depth, LIKENESS_DEEPEST * bar->height);
    bar->radius = clip(form->roof_radius.value, LEAST_MM, bar->depth);
    bar->open_deg = clip(form->opening_deg, 0, LIKENESS_OPEN_DEG);
    made.clipped = form->depth - bar->depth > CLIPPED_MM ||
                   fabs(form->roof_radius.value - bar->radius) > CLIPPED_MM ||
                   fabs(form->opening_deg - bar->open_deg) > CLIPPED_DEG;
  }
  const Banded *peak = &k->trial_peak_mpa;
  made.nominal_mpa = k->trial.moment_n_mm / k->section.w_gingival;
  made.times = banded(peak->value / made.nominal_mpa, peak->low / made.nominal_mpa,
                      peak->high / made.nominal_mpa);
  if (!isfinite(made.times.value) || !isfinite(made.bar.height))
    return FAULT_RANGE;
  *likeness = made;
  return FAULT_NONE;
}

/* The same moment bends the whole height less than what stands above the notch. */
static double plain_share(const NotchedBar *bar)
{
  double left = 1 - bar->depth / bar->height;
  return left * left;
}

Banded likeness_bar_times(const NotchedBar *bar, const NotchedBarAnswer *answer)
{
  return banded_percent_positive(answer->times * plain_share(bar), answer->band_percent);
}

double likeness_plain_mpa(const NotchedBar *bar, double nominal_mpa)
{
  return nominal_mpa * plain_share(bar);
}
