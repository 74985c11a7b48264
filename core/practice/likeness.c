/* likeness.c - see likeness.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "practice/likeness.h"
#include <math.h>

#define LEAST_MM 0.02   /* a shallower notch is none, a sharper one cannot be solved */
#define CLIPPED_MM 0.01 /* less than this is not worth a word */
#define CLIPPED_DEG 1.0

static double clip(double value, double low, double high)
{
  return fmin(fmax(value, low), high);
}

/* The biting groove read as if it were an embrasure. */
static Fault groove_form(const Outline *occlusal, Form *groove)
{
  static const double over[6] = {1, 0, 0, -1, 0, 0};
  Outline copy = {0};
  Fault fault = outline_copy(&copy, occlusal);
  if (!fault) {
    outline_transform(&copy, over);
    fault = form_roof_read(&copy, groove);
  }
  outline_clear(&copy);
  return fault;
}

static Fault notch_read(const Form *notch, Likeness *like)
{
  NotchedBar *bar = &like->bar;
  bar->height += fmax(notch->depth, 0);
  bar->radius = LEAST_MM;
  if (!isfinite(bar->height))
    return FAULT_RANGE;
  if (!(notch->depth >= LEAST_MM))
    return FAULT_NONE;
  if (isnan(notch->roof_radius.value) || isnan(notch->opening_deg))
    return FAULT_RANGE;
  bar->depth = fmin(notch->depth, LIKENESS_DEEPEST * bar->height);
  bar->radius = clip(notch->roof_radius.value, LEAST_MM, bar->depth);
  bar->open_deg = clip(notch->opening_deg, 0, LIKENESS_OPEN_DEG);
  like->clipped = notch->depth - bar->depth > CLIPPED_MM ||
                  fabs(notch->roof_radius.value - bar->radius) > CLIPPED_MM ||
                  fabs(notch->opening_deg - bar->open_deg) > CLIPPED_DEG;
  return FAULT_NONE;
}

Fault likeness_read(const Assessment *a, size_t connector, Likeness *likeness)
{
  if (connector >= a->n_connector)
    return FAULT_RANGE;
  const ConnectorAssessment *k = &a->connector[connector];
  SurfaceZone zone = k->trial_peak.zone;
  bool turned = zone == SURFACE_GROOVE;
  double moment = turned ? -k->trial.moment_n_mm : k->trial.moment_n_mm,
         value = turned ? k->section.w_occlusal : k->section.w_gingival;
  if (k->fault || zone == SURFACE_BUCCAL || zone == SURFACE_LINGUAL || !(moment > 0) ||
      !(value > 0) || !(k->form.neck_height > 0) || !(k->form.neck_width > 0))
    return FAULT_RANGE;
  Likeness made = {.turned = turned,
                   .bar = {.height = k->form.neck_height, .width = k->form.neck_width}};
  Form groove = {0};
  Fault fault =
      turned ? groove_form(&a->c.connector[connector].side[SIDE_OCCLUSAL], &groove) : FAULT_NONE;
  if (!fault)
    fault = notch_read(turned ? &groove : &k->form, &made);
  if (fault)
    return fault == FAULT_MEMORY ? fault : FAULT_RANGE;
  const Banded *peak = &k->trial_peak_mpa;
  made.nominal_mpa = moment / value;
  made.times = banded(peak->value / made.nominal_mpa, peak->low / made.nominal_mpa,
                      peak->high / made.nominal_mpa);
  double all = connector_band_percent(k, &k->trial_peak), own = k->trial_peak.band_percent;
  made.line_percent = sqrt(fmax(all * all - own * own, 0));
  if (!isfinite(made.times.value))
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

Banded likeness_bar_times(const NotchedBar *bar, const NotchedBarAnswer *answer,
                          double line_percent)
{
  return banded_percent_positive(answer->times * plain_share(bar),
                                 hypot(answer->band_percent, line_percent));
}

double likeness_plain_mpa(const NotchedBar *bar, double nominal_mpa)
{
  return nominal_mpa * plain_share(bar);
}
