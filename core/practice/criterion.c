/* criterion.c - see criterion.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "practice/criterion.h"
#include <float.h>
#include <glib.h>
#include <math.h>

/* ---- measuring ---- */

/* Largest distance of the outlines from those of the start; of the gum side alone. */
static double drawing_apart(const Connector *now, const Connector *start, bool all)
{
  double most = 0;
  for (int side = 0; side < SIDE_N; side++)
    if (all || side == SIDE_GINGIVAL)
      most = fmax(most, outlines_apart(&now->side[side], &start->side[side], DBL_MAX));
  return most;
}

static double papilla_distance(const Connector *k, const Form *form)
{
  if (!(k->papilla > 0))
    return NAN;
  double feet = (form->foot[0].y + form->foot[1].y) / 2, distance;
  outline_nearest(&k->side[SIDE_GINGIVAL], point(0, feet + k->papilla), &distance);
  return distance;
}

static double radii_differ(const Assessment *a)
{
  double least = INFINITY, most = -INFINITY;
  for (size_t i = 0; i < a->n_connector; i++) {
    least = fmin(least, a->connector[i].form.roof_radius.value);
    most = fmax(most, a->connector[i].form.roof_radius.value);
  }
  return most - least;
}

static double share_percent(const Assessment *of, const Assessment *mine, size_t i)
{
  return of ? 100 * mine->connector[i].trial_peak_mpa.value / of->connector[i].trial_peak_mpa.value
            : NAN;
}

double measure_value(Measure measure, const Work *work, size_t i)
{
  if (i >= work->mine->n_connector || i >= work->start->n_connector)
    return NAN;
  const ConnectorAssessment *k = &work->mine->connector[i];
  const Connector *drawn = &work->mine->c.connector[i];
  const Form *form = &k->form, *was = &work->start->connector[i].form;
  switch (measure) {
  case MEASURE_ROOF_RADIUS:
    return form->roof_radius.value;
  case MEASURE_ROOF:
    return form->roof.y;
  case MEASURE_ROOF_CENTRE:
    return fabs(form->roof_centre_x);
  case MEASURE_GAP:
    return form->gap_circle;
  case MEASURE_FEET:
    return fmax(point_distance(form->foot[0], was->foot[0]),
                point_distance(form->foot[1], was->foot[1]));
  case MEASURE_LEAN:
    return fmin(form->leg_lean_left_deg, form->leg_lean_right_deg);
  case MEASURE_LEAN_DIFFERS:
    return fabs(form->leg_lean_left_deg - form->leg_lean_right_deg);
  case MEASURE_NECK_HEIGHT:
    return form->neck_height;
  case MEASURE_NECK_WIDTH:
    return form->neck_width;
  case MEASURE_NECK_AREA:
    return k->section.area;
  case MEASURE_SECTION_VALUE:
    return k->trial.moment_n_mm < 0 ? k->section.w_occlusal : k->section.w_gingival;
  case MEASURE_GROOVE_RADIUS:
    return form->groove_radius;
  case MEASURE_PAPILLA:
    return papilla_distance(drawn, form);
  case MEASURE_PEAK:
    return share_percent(work->start, work->mine, i);
  case MEASURE_ABOVE_BEST:
    return share_percent(work->best, work->mine, i) - 100;
  case MEASURE_MOVED:
  case MEASURE_CHANGED:
    return drawing_apart(drawn, &work->start->c.connector[i], measure == MEASURE_CHANGED);
  case MEASURE_CUTTER_SHORT:
    return k->cutter_shortfall;
  case MEASURE_RADII_DIFFER:
    return radii_differ(work->mine);
  case MEASURE_STROKES:
    return work->strokes < 0 ? NAN : (double)work->strokes;
  case MEASURES:
  default:
    return NAN;
  }
}

/* ---- limits ---- */

int measure_decimals(Measure measure)
{
  switch (measure) {
  case MEASURE_LEAN:
  case MEASURE_LEAN_DIFFERS:
  case MEASURE_PEAK:
  case MEASURE_ABOVE_BEST:
  case MEASURE_STROKES:
    return 0;
  case MEASURE_NECK_AREA:
    return 1;
  default:
    return 2;
  }
}

static double forgiven(Measure measure)
{
  return 0.5 * pow(10, -measure_decimals(measure));
}

double criterion_missed(const Criterion *c, double value)
{
  if (isnan(value))
    return NAN;
  double below = isnan(c->least) ? -INFINITY : c->least - value;
  double above = isnan(c->most) ? -INFINITY : value - c->most;
  return fmax(below, above) - forgiven(c->measure);
}

bool criterion_met(const Criterion *criterion, double value)
{
  return criterion_missed(criterion, value) <= 0;
}

double criterion_share(const Criterion *criterion, double start, double value)
{
  double now = criterion_missed(criterion, value), before = criterion_missed(criterion, start);
  if (now <= 0)
    return 1;
  if (isnan(now) || !(before > 0))
    return 0; /* it was met and is no more, or there is no measure */
  return fmax(0, 1 - now / before);
}

size_t criterion_worst(const Criterion *criterion, const Work *work, double *value)
{
  size_t first = criterion->connector, last = criterion->connector, worst = SIZE_MAX;
  if (first == SIZE_MAX) {
    first = 0;
    last = work->mine->n_connector - 1;
  }
  double most = -INFINITY;
  *value = NAN;
  for (size_t i = first; i <= last && i < work->mine->n_connector; i++) {
    double is = measure_value(criterion->measure, work, i), by = criterion_missed(criterion, is);
    if (isnan(is)) { /* one that cannot be measured is the worst of all */
      *value = NAN;
      return i;
    }
    if (by > most) {
      most = by;
      *value = is;
      worst = i;
    }
  }
  return worst;
}
